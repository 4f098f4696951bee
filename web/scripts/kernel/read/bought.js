// @ts-check
/** Bought: the path of plants that are bought, or rooted from cuttings: it begins where they go into their ground. */
import { inSeason, iso } from "./days.js";

export const CUTTINGS = "cuttings";
const PLANTS = "plants";
/** From seed to seedlings, where days between steps are added up. */
const COMES_UP_DAYS = 14;
/** Days of a rulebook are moved within this year and the next. */
const ANY_YEAR = 2030;
const ENDS = ["from", "aim", "by"];

/** Whether a batch begins with plants, and is never told to sow. @param {any} fields @returns {boolean} */
export function isBought(fields) {
  return fields.begins === PLANTS || fields.begins === CUTTINGS;
}

/**
 * A raised crop's steps without its raising; any other path as it is. Planting without a window of its own has that of the first
 * step, moved by the days between them.
 * @param {any[]} steps
 * @returns {any[]}
 */
export function boughtSteps(steps) {
  const at = steps.findLastIndex((step) => step.stage);
  if (at < 0 || steps[0].verb !== "sow" || steps[at].verb !== "plant_out") return steps;
  const kept = [...steps.slice(0, at).filter((step) => step.verb === "decide"), ...steps.slice(at + 1)];
  const ids = new Set([steps[at], ...kept].map((step) => step.id));
  const first = { ...steps[at], after: [], window: steps[at].window ?? moved(steps, at) };
  return [first, ...kept.map((step) => ({ ...step, after: (step.after || []).filter((/** @type {any} */ link) => ids.has(link.step)) }))];
}

/** The first step's window under every cover, moved on by the days to planting. @param {any[]} steps @param {number} planting @returns {any} */
function moved(steps, planting) {
  const window = steps[0].window ?? null;
  if (window === null) return null;
  const days = [0, 0, 0];
  for (const step of steps.slice(1, planting + 1)) {
    if (!step.stage) continue;
    const link = (step.after || [])[0] || {};
    if ((link.heat ?? null) !== null) continue;
    const least = link.emergence ? COMES_UP_DAYS : link.min || 0;
    const best = link.emergence ? COMES_UP_DAYS : link.aim || least;
    [least, best, best].forEach((more, end) => (days[end] += more));
  }
  /** @type {any} */
  const made = Object.create(null);
  for (const [cover, entry] of Object.entries(window)) {
    made[cover] = { ...entry, last: null };
    ENDS.forEach((end, n) => {
      if (entry[end]) made[cover][end] = later(entry[end], days[n]);
    });
  }
  return made;
}

/** A rulebook date so many days later, at most in the next year. @param {string} text @param {number} days @returns {string} */
function later(text, days) {
  const day = iso(inSeason(text, ANY_YEAR) + days);
  return `${Math.min(9, Number(day.slice(0, 4)) - ANY_YEAR)}-${day.slice(5)}`;
}
