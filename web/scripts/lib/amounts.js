// @ts-check
/** What people write where an amount is asked for: `2.3 kg`, `2,3`, `1 lb`, `40 °F`. What is not understood is said, never guessed. */
import { pintL, unitName } from "./quantities.js";

/** @typedef {{value: number, why?: undefined} | {why: string, value?: undefined}} Amount */

/** Grams. The pound is the international one, exactly 453.59237 g, an ounce its sixteenth (NIST Handbook 44, appendix C). */
const UNITS = new Map(Object.entries({ g: 1, gr: 1, gram: 1, grams: 1, kg: 1000, kilo: 1000, kilos: 1000, lb: 453.59237, lbs: 453.59237, pound: 453.59237, pounds: 453.59237, oz: 28.349523125, ounce: 28.349523125, ounces: 28.349523125 }));
const PARTS = /^([+-]?(?:\d[\d ]*)?(?:[.,]\d+)?)\s*(.*)$/;
const THOUSANDS = /^\d{1,3}([., ]\d{3})+$/;

/** @param {string} text @returns {{figures: string, number: number, unit: string} | null} */
function parts(text) {
  const plain = text.replaceAll("\u2212", "-").replaceAll(/[\u00a0\u202f]/g, " ").trim().toLowerCase();
  const found = PARTS.exec(plain);
  if (!found || !/\d/.test(found[1])) return null;
  const figures = found[1].trim();
  return { figures, number: Number(figures.replaceAll(" ", "").replace(",", ".")), unit: found[2].trim() };
}

/** How many. @param {string} text @returns {Amount} */
export function readCount(text) {
  const found = parts(text);
  if (!found) return { why: "Type a whole number in figures, such as 12." };
  if (UNITS.has(found.unit)) return { why: "That is a weight, and it is asked how many." };
  if (found.unit) return { why: "Type the figures alone, such as 12." };
  const number = THOUSANDS.test(found.figures) ? Number(found.figures.replaceAll(/[., ]/g, "")) : found.number;
  return Number.isInteger(number) ? { value: number } : { why: "Type a whole number, such as 12." };
}

/** A weight in grams: `2.3 kg`, `2 lb 3 oz`. Without a unit as the household weighs; in metric figures with a point or a comma are kilograms. @param {string} text @returns {Amount} */
export function readGrams(text) {
  const found = parts(text);
  const usual = unitName("weight") === "g" ? (found && /[.,]/.test(found.figures) ? "kg" : "g") : found && /[.,]/.test(found.figures) ? "lb" : "oz";
  const read = readSum(text, UNITS, usual);
  if (!read) return { why: "Type the weight in figures, such as 800, 2.3 kg or 2 lb 3 oz." };
  return read.value === undefined ? { why: `“${read.unit}” is no weight known here: g, kg, lb or oz.` } : { value: Math.round(read.value) };
}

/** Degrees Celsius, to a tenth; without a letter as the household reads them. @param {string} text @returns {Amount} */
export function readDegrees(text) {
  return degrees(text, "degrees");
}

/** So many degrees Celsius more or less. @param {string} text @returns {Amount} */
export function readWarmer(text) {
  return degrees(text, "warmer");
}

/** @param {string} text @param {"degrees" | "warmer"} sort @returns {Amount} */
function degrees(text, sort) {
  const found = parts(text);
  if (!found) return { why: "Type the degrees in figures, such as 4.5." };
  const fahrenheit = found.unit ? /^(°\s*)?f(ahrenheit)?$/.test(found.unit) : unitName(sort) === "°F";
  if (!fahrenheit && found.unit && !/^(°\s*c?|c|celsius)$/.test(found.unit)) return { why: "Type the degrees alone, or with C or F." };
  const value = fahrenheit ? (found.number - (sort === "degrees" ? 32 : 0)) / 1.8 : found.number;
  return { value: fahrenheit ? Math.round(value * 10) / 10 : value };
}

/** Lengths in cm. The yard is exactly 0.9144 m, a foot its third, an inch a twelfth of that (NIST Handbook 44, appendix C). */
const LENGTHS = new Map(Object.entries({ mm: 0.1, cm: 1, m: 100, metre: 100, metres: 100, meter: 100, meters: 100, in: 2.54, inch: 2.54, inches: 2.54, "\"": 2.54, ft: 30.48, foot: 30.48, feet: 30.48, "'": 30.48, yd: 91.44, yard: 91.44, yards: 91.44 }));

/** A length in cm: `3.5 m`, `11 ft 6 in`; without a unit as the household measures. @param {string} text @returns {Amount} */
export function readLength(text) {
  const read = readSum(text, LENGTHS, unitName("length"));
  if (!read) return { why: "Type the length in figures, such as 350, 3.5 m or 11 ft 6 in." };
  return read.value === undefined ? { why: `“${read.unit}” is no length known here: cm, m, ft or in.` } : { value: Math.round(read.value * 10) / 10 };
}

/** Litres. A pint and a gallon are the household's own: US or imperial; in metric imperial ones, as on British pots and cans. */
const LITRES = new Map(Object.entries({ l: 1, litre: 1, litres: 1, liter: 1, liters: 1, ml: 0.001, cl: 0.01 }));
const PINTS = new Map(Object.entries({ pt: 1, pint: 1, pints: 1, qt: 2, quart: 2, quarts: 2, gal: 8, gallon: 8, gallons: 8 }));

/** A volume in litres: `10 L`, `2 gal`, `1 pt`; without a unit as the household measures. @param {string} text @returns {Amount} */
export function readLitres(text) {
  const known = new Map([...LITRES, ...[...PINTS].map(([unit, pints]) => /** @type {[string, number]} */ ([unit, pints * pintL()]))]);
  const read = readSum(text, known, unitName("volume") === "L" ? "l" : "pt");
  if (!read) return { why: "Type the litres in figures, such as 10 or 0.3, or 2 gal." };
  return read.value === undefined ? { why: `“${read.unit}” is no measure known here: L, ml, pt or gal.` } : { value: Math.round(read.value * 1000) / 1000 };
}

/** What stands behind a unit without one of its own: `14 ft 5`, `4 m 40`, `2 lb 3`. */
const SMALLER = new Map(Object.entries({ ft: "in", foot: "in", feet: "in", "'": "in", yd: "ft", m: "cm", metre: "cm", metres: "cm", lb: "oz", lbs: "oz" }));

/** One amount, or a large one and a small one behind it, such as `2 lb 3 oz`. @param {string} text @param {Map<string, number>} units @param {string} usual @returns {{value?: number, unit: string} | null} null where there are no figures */
function readSum(text, units, usual) {
  const first = parts(text);
  if (!first) return null;
  const two = /^([^\d\s]+)\s*(\d.*)$/.exec(first.unit);
  const unit = two ? two[1] : first.unit || usual;
  const one = units.get(unit);
  if (one === undefined) return { unit };
  const rest = two ? readSum(two[2], units, SMALLER.get(unit) || "") : null;
  if (rest && (rest.value === undefined || rest.value >= one)) return { unit: two ? two[2] : unit };
  return { unit, value: first.number * one + (rest?.value || 0) };
}

/** A number of whatever is asked for. @param {string} text @returns {Amount} */
export function readNumber(text) {
  const found = parts(text);
  return found && !found.unit ? { value: found.number } : { why: "Type the figures alone, such as 4.5." };
}
