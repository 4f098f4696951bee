// @ts-check
/** What people write where an amount is asked for: `2.3 kg`, `2,3`, `1 lb`, `40 °F`. What is not understood is said, never guessed. */

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

/** A weight in grams. Without a unit whole figures are grams; with a point or a comma in them they are kilograms. @param {string} text @returns {Amount} */
export function readGrams(text) {
  const found = parts(text);
  if (!found) return { why: "Type the weight in figures, such as 800, 2.3 kg or 1 lb." };
  const grams = UNITS.get(found.unit || (/[.,]/.test(found.figures) ? "kg" : "g"));
  if (!grams) return { why: `“${found.unit}” is no weight known here: g, kg, lb or oz.` };
  return { value: Math.round(found.number * grams) };
}

/** Degrees Celsius. @param {string} text @returns {Amount} */
export function readDegrees(text) {
  const found = parts(text);
  if (!found) return { why: "Type the degrees in figures, such as 4.5." };
  if (/^(°\s*)?f(ahrenheit)?$/.test(found.unit)) return { value: Math.round(((found.number - 32) / 1.8) * 10) / 10 };
  return !found.unit || /^(°\s*c?|c|celsius)$/.test(found.unit) ? { value: found.number } : { why: "Type the degrees alone, in °C." };
}

/** Lengths in cm. The yard is exactly 0.9144 m, a foot its third, an inch a twelfth of that (NIST Handbook 44, appendix C). */
const LENGTHS = new Map(Object.entries({ mm: 0.1, cm: 1, m: 100, metre: 100, metres: 100, meter: 100, meters: 100, in: 2.54, inch: 2.54, inches: 2.54, "\"": 2.54, ft: 30.48, foot: 30.48, feet: 30.48, "'": 30.48, yd: 91.44, yard: 91.44, yards: 91.44 }));

/** A length in cm; without a unit it is in cm already. @param {string} text @returns {Amount} */
export function readLength(text) {
  const found = parts(text);
  if (!found) return { why: "Type the length in figures, such as 350 or 3.5 m." };
  const cm = LENGTHS.get(found.unit || "cm");
  return cm ? { value: Math.round(found.number * cm * 10) / 10 } : { why: `“${found.unit}” is no length known here: cm, m, ft or in.` };
}

/** A number of whatever is asked for. @param {string} text @returns {Amount} */
export function readNumber(text) {
  const found = parts(text);
  return found && !found.unit ? { value: found.number } : { why: "Type the figures alone, such as 4.5." };
}
