// @ts-check
/** What can have been seen on plants: the troubles their crop can have, the likeliest first. Pure. */
import { addDays } from "../../lib/dates.js";
import { pathOf } from "../../household/names.js";

const LATELY_DAYS = 60;

/**
 * @param {any} book
 * @param {{batch: string | null, place: string | null}} on
 * @param {string} today
 * @returns {string[]} ids of troubles
 */
export function troublesFor(book, on, today) {
  const care = book.rulebook.care || {};
  const crops = on.batch ? [cropId(book, on.batch)] : cropsAt(book, on.place, today);
  const can = Object.keys(care).filter((id) => !crops.length || crops.some((crop) => care[id].hosts.includes(crop)));
  const seen = sightings(book, crops, today);
  const rank = (/** @type {string} */ id) => seen.get(id) || 0;
  return can.sort((a, b) => rank(b) - rank(a) || care[b].hosts.length - care[a].hosts.length || (a < b ? -1 : 1));
}

/** @param {any} book @param {string} batch @returns {string} */
function cropId(book, batch) {
  return book.fields(book.fields(batch).variety).crop || "";
}

/** Crops that stand in a place, or in what lies in it. @param {any} book @param {string | null} place @param {string} today @returns {string[]} */
function cropsAt(book, place, today) {
  if (place === null) return [];
  const there = book.stand(today).batches.filter((/** @type {any} */ batch) => batch.state !== "over" && batch.cells.some((/** @type {any} */ cell) => pathOf(book, cell.place).includes(place)));
  return [...new Set(there.map((/** @type {any} */ batch) => cropId(book, batch.id)))].filter(Boolean);
}

/**
 * How likely a trouble is by what the household has seen: lately on these crops, lately anywhere, ever on these crops.
 * @param {any} book @param {string[]} crops @param {string} today @returns {Map<string, number>}
 */
function sightings(book, crops, today) {
  const since = addDays(today, -LATELY_DAYS);
  /** @type {Map<string, number>} */
  const seen = new Map();
  for (const { fields } of book.ofKind("diary")) {
    if (fields.did !== "look" || !fields.found || fields.level === "none") continue;
    const same = fields.batch && crops.includes(cropId(book, fields.batch));
    const lately = fields.on > since;
    const points = same && lately ? 3 : lately ? 2 : same ? 1 : 0;
    seen.set(fields.found, Math.max(points, seen.get(fields.found) || 0));
  }
  return seen;
}
