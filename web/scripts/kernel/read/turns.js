// @ts-check
/** Turns: the times of a year at which a crop can be begun where it stands, and which of them a batch takes. */
import { inSeason, parse, yearOf } from "./days.js";

/** Further than any day of a year lies from a window. [days] */
const FAR = 9999;

/**
 * A table's entry for a house's own climate, else for its cover, else the one for all.
 * @param {any} table
 * @param {string} climate
 * @param {string} cover
 * @returns {any}
 */
export function atClimate(table, climate, cover) {
  if (table === null || table === undefined) return null;
  for (const name of [climate, cover]) if (name in table) return table[name];
  return table["*"] ?? null;
}

/**
 * Which of a crop's turns a batch takes: as chosen, else the one that its own first day lies in or nearest to, else 0.
 * @param {any} know
 * @param {any} fields
 * @param {string} climate
 * @param {string} cover
 * @returns {number}
 */
export function turnOf(know, fields, climate, cover) {
  const turns = know.turns || [];
  const chosen = fields.turn ?? null;
  if (chosen !== null) return chosen >= 0 && chosen <= turns.length ? chosen : 0;
  if (!turns.length || !fields.sow_on) return 0;
  const day = parse(fields.sow_on);
  const first = know.steps[0];
  let best = 0;
  let least = daysAway(atClimate(first.window ?? null, climate, cover), day);
  turns.forEach((/** @type {any} */ turn, /** @type {number} */ at) => {
    const away = daysAway(atClimate({ ...first, ...turn[first.id] }.window ?? null, climate, cover), day);
    if (away < least) [best, least] = [at + 1, away];
  });
  return best;
}

/**
 * A step with the days it has in a turn under a cover.
 * @param {any} step
 * @param {any} know
 * @param {number} turn
 * @param {string} cover
 * @returns {any}
 */
export function turned(step, know, turn, cover) {
  const changed = turn === 0 ? undefined : know.turns[turn - 1][step.id];
  const made = changed ? { ...step, ...changed } : step;
  return made.until && typeof made.until === "object" ? { ...made, until: made.until[cover] ?? null } : made;
}

/** How far a day lies outside a window of this year or its neighbours; far where there is none. @param {any} window @param {number} day */
function daysAway(window, day) {
  if (!window || !window.from || !window.by) return FAR;
  let away = FAR;
  for (const year of [yearOf(day) - 1, yearOf(day), yearOf(day) + 1]) {
    away = Math.min(away, Math.max(inSeason(window.from, year) - day, day - inSeason(window.by, year), 0));
  }
  return away;
}
