// @ts-check
/** Coming up: how many seeds of a hundred come where and when they are sown, and how many to sow for the plants wanted. */
import { sowOn } from "../read/batch-state.js";
import { inSeason, yearOf } from "../read/days.js";
import { atClimate } from "../read/turns.js";
import { nearestDegree } from "../when/gaps.js";

/** @typedef {import("./knowledge.js").Knowledge} Knowledge @typedef {import("../read/batch-state.js").BatchState} BatchState */

/** Seed tables are in steps; below the first hardly any seed comes, and no number of it helps. */
const FEWEST_PCT = 5;
const STEP_PCT = 5;
/** How what is said of it ends. */
export const COME_UP = "in 100 seeds come up";

/**
 * The day on which a sowing is likely: the household's own or the calendar's best, and not before today.
 * @param {BatchState} state
 * @param {number} index
 * @param {Knowledge} know
 * @returns {number}
 */
export function sowingDay(state, index, know) {
  let own = index === 0 ? sowOn(state) : null;
  const window = atClimate(state.steps[index].window, state.climate, state.cover);
  if (own === null && window?.aim) own = inSeason(window.aim, state.year);
  return own === null ? know.today : Math.max(own, know.today);
}

/**
 * Of a hundred seeds sown there on a day, how many come; and what to say where warmth or cold keeps some back.
 * @param {BatchState} state
 * @param {string | null} place
 * @param {number} day
 * @param {Knowledge} know
 * @returns {{pct: number, few: string | null}}
 */
export function comingUp(state, place, day, know) {
  const { pct: usual, year } = aged(Number(state.know.seeds_for || 100), state, day, know);
  const few = year === null ? null : `seed of ${year}: about ${usual} ${COME_UP}`;
  const shares = state.know.emerge_pct || {};
  const heated = know.ground.heatedToC(place);
  const tempC = heated !== null ? heated : know.heat.meanC(know.ground.climate(place), day);
  if (!Object.keys(shares).length || tempC === null) return { pct: usual, few };
  const share = shares[String(nearestDegree(state.know.emerge_days, tempC))];
  if (share === undefined) return { pct: usual, few };
  const pct = Math.max(FEWEST_PCT, Math.floor(Math.floor((usual * share) / 100) / STEP_PCT) * STEP_PCT);
  const at = year === null ? `at ${tempC}\u00a0°C` : `seed of ${year} at ${tempC}\u00a0°C:`;
  return { pct, few: `${at} about ${pct} ${COME_UP}` };
}

/**
 * Of a hundred seeds so old, how many come, and the year of old seed: half as many once they have lain as long as seed of that crop
 * keeps; what was gathered or packed for a year is fresh until the end of the next.
 * @param {number} usual
 * @param {BatchState} state
 * @param {number} day
 * @param {Knowledge} know
 * @returns {{pct: number, year: number | null}}
 */
export function aged(usual, state, day, know) {
  const year = know.reading.seedYear(state.fields.variety ?? null);
  const life = state.know.seed?.life ?? null;
  const years = year === null ? 0 : yearOf(day) - year - 1;
  if (life === null || years <= 0) return { pct: usual, year: null };
  const kept = Math.floor((usual * Math.max(0, 2 * life - years)) / (2 * life));
  const pct = Math.max(FEWEST_PCT, Math.floor(kept / STEP_PCT) * STEP_PCT);
  return { pct, year };
}

/** Seeds to sow so that so many plants come, 95 % sure. @param {number} pct @param {number | null} plants @param {Knowledge} know @returns {number | null} */
export function seedsFor(pct, plants, know) {
  const table = (know.rulebook.seeds || {})[String(pct)] || [];
  if (plants === null || !table.length || plants <= 0) return plants;
  if (plants <= table.length) return table[plants - 1];
  return Math.ceil((plants * table[table.length - 1]) / table.length);
}
