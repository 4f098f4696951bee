// @ts-check
/** Gaps: from the day one thing is done to the days on which the next may, should and must be. */
import { LONGEST_WAIT_DAYS } from "./heat.js";
import { daysWords } from "../read/words.js";

/** @typedef {import("./work.js").Link} Link */

/**
 * `pricked out 24 March + 21 days (first true leaves)`. sooner: days that heat read by a thermometer brought it forward.
 * @param {Link} link
 * @param {string} done
 * @param {number} days
 * @param {number} sooner
 * @returns {string}
 */
export function gapWords(link, done, days, sooner) {
  const why = link.why ? ` (${link.why.split("{days}").join(daysWords(days))})` : "";
  const words = days === 0 ? `${done}${why}` : `${done} + ${daysWords(days)}${why}`;
  if (sooner === 0) return words;
  return `${words}, ${daysWords(Math.abs(sooner))} ${sooner > 0 ? "sooner" : "later"} than usual by the heat read there`;
}

const NOT_MOVED = [0, 0, 0];
/** Days to coming up of what has no table. */
const UNKNOWN_UP_DAYS = 7;
/** As warm as a place is taken to be where nothing is known of it. [°C] */
const UNKNOWN_C = 15;

/**
 * For each day of a gap, how many days sooner it is than in a typical year, because of what a thermometer read.
 * @param {Link} link
 * @param {number} since
 * @param {[number, number | null, number | null]} days
 * @param {import("./heat.js").Heat} heat
 * @returns {number[]}
 */
export function readSooner(link, since, days, heat) {
  const series = link.heat;
  if (series === null || !heat.wasRead(series, since)) return NOT_MOVED;
  return [link.min, link.aim, link.max].map((tenths, at) => {
    const usual = tenths !== null ? heat.dayUsuallyReached(series, since, tenths) : null;
    const day = days[at];
    return usual !== null && day !== null ? Math.max(usual, since + link.least) - day : 0;
  });
}

/**
 * The days between which heat that is still to come will most likely bring the best day; null where nothing is open.
 * @param {Link} link
 * @param {number} since
 * @param {number | null} aim
 * @param {number} today
 * @param {import("./heat.js").Heat} heat
 * @returns {[number, number] | null}
 */
export function heatBand(link, since, aim, today, heat) {
  if (link.heat === null || link.aim === null || aim === null || aim <= today) return null;
  const band = heat.band(link.heat, since, link.aim, today);
  const soonest = since + link.least;
  if (band === null || band[0] >= soonest) return band;
  return band[1] > soonest ? [soonest, band[1]] : null;
}

/**
 * First, best and last day of what follows something done on a day.
 * @param {Link} link
 * @param {number} since
 * @param {import("./heat.js").Heat} heat
 * @returns {[number, number | null, number | null]}
 */
export function gap(link, since, heat) {
  const [first, aim, last] = bareGap(link, since, heat);
  return [first, aim, last === null && link.keeps !== null && aim !== null ? aim + link.keeps : last];
}

/**
 * @param {Link} link
 * @param {number} since
 * @param {import("./heat.js").Heat} heat
 * @returns {[number, number | null, number | null]}
 */
function bareGap(link, since, heat) {
  if (link.emergence !== null) {
    const days = emergenceDays(link.emergence, link, since, heat);
    return [since + days[0], since + days[1], since + days[2]];
  }
  if (link.heat !== null) {
    const first = heat.dayReached(link.heat, since, link.min);
    const aim = link.aim !== null ? heat.dayReached(link.heat, since, link.aim) : null;
    const last = link.max !== null ? heat.dayReached(link.heat, since, link.max) : null;
    const never = heat.knows(link.heat) ? LONGEST_WAIT_DAYS : 0; // never warm enough, or nothing known of this heat
    const soonest = Math.max(first !== null ? first : since + never, since + link.least);
    return [soonest, aim === null ? null : Math.max(aim, soonest), last === null ? null : Math.max(last, soonest)];
  }
  return [
    since + link.min,
    link.aim !== null ? since + link.aim : null,
    link.max !== null ? since + link.max : null,
  ];
}

/**
 * Days from sowing until the first, most and all that will have come up. Where heat is kept up, the days at that temperature
 * (at the nearest the table has). Elsewhere each day does its part, as warm as it usually is there: one at which the table
 * has nothing does none, so seed in cold ground waits for the warmth.
 * @param {Record<string, number>} table
 * @param {{heatedToC: number | null, cover: string}} where
 * @param {number} since
 * @param {import("./heat.js").Heat} heat
 * @returns {[number, number, number]}
 */
export function emergenceDays(table, { heatedToC, cover }, since, heat) {
  const given = heatedToC === null && Object.keys(table).length ? heat.daysToComeUp(table, cover, since) : null;
  const days = given !== null ? given : nearest(table, heatedToC !== null ? heatedToC : heat.meanC(cover, since));
  return [days, days + 2, Math.floor((days * 3) / 2) + 3];
}

/** The temperature in a table that lies nearest; the cooler of two. [whole °C] @param {Record<string, number>} table not empty @param {number} tempC @returns {number} */
export function nearestDegree(table, tempC) {
  const degrees = Object.keys(table).map(Number).sort((a, b) => a - b);
  let found = degrees[0];
  for (const degree of degrees) if (Math.abs(degree - tempC) < Math.abs(found - tempC)) found = degree;
  return found;
}

/** @param {Record<string, number>} table @param {number | null} tempC @returns {number} */
function nearest(table, tempC) {
  if (!Object.keys(table).length) return UNKNOWN_UP_DAYS;
  return table[String(nearestDegree(table, tempC === null ? UNKNOWN_C : tempC))];
}
