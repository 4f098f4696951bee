// @ts-check
/** How long one can see to work: civil dusk of a day at the site, from the rulebook's weekly figures. */
import { leapIndex, parse } from "../../kernel/read/days.js";
import { civilNow } from "../../lib/dates.js";

const WEEK = 7;
const MINUTE_MS = 60_000;

/**
 * @param {(number | null)[] | null | undefined} dusk minutes after midnight UTC on each seventh day of a leap year
 * @param {string} today `YYYY-MM-DD`
 * @param {string | null} zone
 * @returns {string} `light until 21:56`; empty where it is not known or stays light
 */
export function lightUntil(dusk, today, zone) {
  if (!dusk?.length) return "";
  const day = leapIndex(parse(today));
  const before = dusk[Math.floor(day / WEEK)];
  const after = dusk[(Math.floor(day / WEEK) + 1) % dusk.length];
  if (before === null || before === undefined || after === null || after === undefined) return "";
  const minutes = before + ((after - before) * (day % WEEK)) / WEEK;
  const moment = new Date(Date.parse(`${today}T00:00:00Z`) + Math.floor(minutes) * MINUTE_MS);
  return `light until ${civilNow(moment, zone || "").time}`;
}
