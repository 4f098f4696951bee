// @ts-check
/** How long one can see to work: civil dusk of a day at the site, from the rulebook's weekly figures. */
import { leapIndex, parse } from "../../kernel/read/days.js";
import { civilNow } from "../../lib/dates.js";

const WEEK = 7;
/** In place of a dusk, where there is no day to end. */
const DARK_ALL_DAY = -100_000;
const MINUTE_MS = 60_000;

/**
 * @param {(number | null)[] | null | undefined} dusk minutes after midnight UTC on each seventh day of a leap year; null where it stays
 *   light
 * @param {string} today `YYYY-MM-DD`
 * @param {string | null} zone
 * @returns {string} `light until 21:56`; empty where it is not known
 */
export function lightUntil(dusk, today, zone) {
  if (!dusk?.length) return "";
  const day = leapIndex(parse(today));
  const before = dusk[Math.floor(day / WEEK)];
  const after = dusk[(Math.floor(day / WEEK) + 1) % dusk.length];
  if (before === undefined) return "";
  if (before === null) return "light all night";
  if (before === DARK_ALL_DAY) return "dark all day";
  const known = after !== null && after !== undefined && after !== DARK_ALL_DAY;
  const minutes = known ? before + ((after - before) * (day % WEEK)) / WEEK : before;
  const moment = new Date(Date.parse(`${today}T00:00:00Z`) + Math.floor(minutes) * MINUTE_MS);
  return `light until ${civilNow(moment, zone || "").time}`;
}
