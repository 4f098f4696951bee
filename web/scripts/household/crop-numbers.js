// @ts-check
/** A crop's numbers as words, and the household's own laid over them. Pure. */
import { kept } from "../lib/words.js";

/**
 * @typedef {{path: string, group: string, label: string, value: number, unit: string, low: number, high: number,
 *   whole: boolean, source: string, usual: [number, number] | null, anchor: string | null, before: boolean}} CalendarNumber
 */

/** The record of one number of one's own. @param {string} name crop or variety @param {string} path @returns {string} */
export function ownId(name, path) {
  return `own.${name}.${path.replace(/[^a-z0-9_.-]/g, "-")}`;
}

/**
 * A household's own numbers of a crop or a variety, by path.
 * @param {any} book
 * @param {"crop" | "variety"} sort
 * @param {string} name
 * @returns {Map<string, number>}
 */
export function ownNumbers(book, sort, name) {
  const found = new Map();
  for (const record of book.ofKind("crop")) {
    const fields = record.fields;
    if (fields[sort] === name && (sort === "variety" || !fields.variety) && fields.path && typeof fields.value === "number") found.set(fields.path, fields.value);
  }
  return found;
}

/**
 * What has to be written so that a number is one's own; null for the calendar's again.
 * @param {any} book
 * @param {{crop: string, variety: string | null}} whose
 * @param {string} path
 * @param {number | null} value
 * @returns {any}
 */
export function ownWish(book, whose, path, value) {
  const id = ownId(whose.variety || whose.crop, path);
  if (value === null) return { id, kind: "crop", fields: { gone: true } };
  const there = book.get(id) ? { gone: false } : {};
  return { id, kind: "crop", fields: { ...(whose.variety ? { variety: whose.variety } : { crop: whose.crop }), path, value, ...there } };
}

/** `45 cm`, `8 weeks before the last frost`. @param {CalendarNumber} number @param {number} value @returns {string} */
export function valueWords(number, value) {
  if (number.anchor) return kept(weeksWords(number.before ? -value : value, number.anchor));
  if (number.unit === "%") return `${plain(value)}\u00a0%`;
  return kept([plain(value), number.unit].filter(Boolean).join(" "));
}

/** @param {number} after @param {string} anchor */
function weeksWords(after, anchor) {
  if (after === 0) return anchor.startsWith("nights") ? `when ${anchor}` : `at ${anchor}`;
  const many = Math.abs(after);
  return `${plain(many)} ${many === 1 ? "week" : "weeks"} ${after < 0 ? "before" : "after"} ${anchor}`;
}

/** At most three places, none for nothing. @param {number} value */
function plain(value) {
  return String(Math.round(value * 1000) / 1000);
}

/** What is measured by a number, where the household may measure it its own way. @param {CalendarNumber} number @returns {import("../lib/quantities.js").Sort | null} */
export function measuredBy(number) {
  if (number.unit === "°C") return number.path.endsWith(".allow_c") ? "warmer" : "degrees";
  return { cm: /** @type {const} */ ("length"), L: /** @type {const} */ ("volume"), g: /** @type {const} */ ("weight") }[number.unit] || null;
}

/** How the keys of a stepper count. @param {CalendarNumber} number @returns {{step: number, decimals: number}} */
export function paceOf(number) {
  if (number.whole) return { step: number.unit.startsWith("degree-days") ? 10 : 1, decimals: 0 };
  if (number.unit === "weeks" || number.unit === "°C") return { step: 0.5, decimals: 1 };
  if (number.unit === "cm") return { step: number.value < 5 ? 0.5 : 1, decimals: 1 };
  if (number.unit === "min") return { step: number.value < 3 ? 0.1 : 1, decimals: 1 };
  if (number.unit === "L" && number.value >= 0.3) return { step: 0.1, decimals: 2 };
  if (number.value >= 1) return { step: 0.1, decimals: 2 };
  return { step: 0.01, decimals: 3 };
}

/** @param {CalendarNumber[]} numbers @returns {[string, CalendarNumber[]][]} in the order of a season */
export function inGroups(numbers) {
  /** @type {Map<string, CalendarNumber[]>} */
  const groups = new Map();
  for (const number of numbers) groups.set(number.group, [...(groups.get(number.group) || []), number]);
  return [...groups];
}
