// @ts-check
/**
 * The household's time on a phone whose own clock is wrong: the server tells it with each exchange (the middle of all the household's
 * clocks), and the difference is kept for when there is no signal. Days that are written down are the household's.
 */
import { keepBeside, readBeside } from "./beside.js";

const KEY = "mudproof.clock";
/** What is less is a matter of the line, and of no day. [ms] */
const NEAR_ENOUGH_MS = 120_000;
/** A clock that has gone back by more was put right meanwhile, or put wrong: what was known of it is void. [ms] */
const GONE_BACK_MS = 600_000;

/** @typedef {{behind: number, seen: number}} Held behind: ms that this phone's clock lacks; seen: by that clock, when that was known */

/** @type {Held | null} For a browser that keeps nothing beside the store. */
let known = null;

/** @returns {Held} */
function held() {
  if (known) return known;
  try {
    const { behind, seen } = JSON.parse(readBeside(KEY) || "{}");
    if (Number.isFinite(behind) && Number.isFinite(seen)) return { behind, seen };
  } catch {
    // as if nothing were known
  }
  return { behind: 0, seen: 0 };
}

/** How far this phone's clock is behind the household's, as far as that matters. [ms] @returns {number} */
export function clockBehind() {
  const { behind, seen } = held();
  return Date.now() < seen - GONE_BACK_MS ? 0 : behind;
}

/** The household's time. [ms] @returns {number} */
export function householdNow() {
  return Date.now() + clockBehind();
}

/** The server has told the household's time. @param {number} houseMs @returns {boolean} whether it is another than was thought */
export function hearHousehold(houseMs) {
  const now = Date.now();
  const behind = Math.abs(houseMs - now) > NEAR_ENOUGH_MS ? houseMs - now : 0;
  const before = held();
  const moved = Math.abs(behind - before.behind) > NEAR_ENOUGH_MS || Math.abs(now - before.seen) > GONE_BACK_MS;
  known = { behind, seen: now };
  if (moved) keepBeside(KEY, JSON.stringify({ behind, seen: now }));
  return Math.abs(behind - before.behind) > NEAR_ENOUGH_MS;
}
