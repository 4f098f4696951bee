// @ts-check
/**
 * Quantities as the household measures. All is kept and worked out in metric; what the app itself says has a no-break space
 * between a figure and its unit, and is turned at the glass. What somebody typed has a plain space, and stays as it is.
 */

/** @typedef {"degrees" | "warmer" | "length" | "weight" | "volume"} Sort degrees: a temperature; warmer: a difference of two */

const POUND_G = 453.59237;
const OUNCE_G = POUND_G / 16;
const INCH_CM = 2.54;
/** A pint in litres: liquid US, imperial. Source: NIST Handbook 44, appendix C. */
const PINT_L = { us: 0.473176473, imperial: 0.56826125 };
const PINTS_TO_GALLON = 8;
/** Between a figure and its unit. */
const NB = "\u00a0";

/** @type {{degrees: "C" | "F", units: "metric" | "us" | "imperial"}} */
const ways = { degrees: "C", units: "metric" };

/** Measure as the household's site says. @param {{degrees?: any, units?: any} | null | undefined} site */
export function measureAs(site) {
  ways.degrees = site?.degrees === "F" ? "F" : "C";
  ways.units = site?.units === "us" || site?.units === "imperial" ? site.units : "metric";
}

/** Whether nothing is to be turned. */
function metric() {
  return ways.degrees === "C" && ways.units === "metric";
}

const METRIC = { degrees: ["°C", 1], warmer: ["°C", 1], length: ["cm", 1], weight: ["g", 1], volume: ["L", 1] };

/** The unit in which something is asked for, and what one of it is in metric. @param {Sort} sort @returns {{unit: string, one: number}} */
function unitOf(sort) {
  const turned = sort === "degrees" || sort === "warmer" ? ways.degrees === "F" : ways.units !== "metric";
  if (!turned) return { unit: /** @type {string} */ (METRIC[sort][0]), one: 1 };
  if (sort === "length") return { unit: "in", one: INCH_CM };
  if (sort === "weight") return { unit: "oz", one: OUNCE_G };
  if (sort === "volume") return { unit: "pt", one: pintL() };
  return { unit: "°F", one: 1 / 1.8 };
}

/** The household's pint. [L] In metric the imperial one. */
export function pintL() {
  return PINT_L[ways.units === "us" ? "us" : "imperial"];
}

/** What something is asked for in: `cm`, `in`, `°F`. @param {Sort} sort */
export function unitName(sort) {
  return unitOf(sort).unit;
}

/** A metric amount in the household's unit. @param {Sort} sort @param {number} value °C, cm, g or L @returns {number} */
export function toShown(sort, value) {
  const { unit, one } = unitOf(sort);
  return sort === "degrees" && unit === "°F" ? value / one + 32 : value / one;
}

/** An amount in the household's unit in metric: °C, cm, g or L. @param {Sort} sort @param {number} shown @returns {number} */
export function toStored(sort, shown) {
  const { unit, one } = unitOf(sort);
  return sort === "degrees" && unit === "°F" ? (shown - 32) * one : shown * one;
}

/** At most so many places. @param {number} value @param {number} places */
function rounded(value, places) {
  return String(Math.round(value * 10 ** places) / 10 ** places);
}

/** An amount as it stands in a field: to a tenth, pints to a hundredth. @param {Sort} sort @param {number} value */
export function inField(sort, value) {
  return unitOf(sort).one === 1 && sort !== "warmer" ? String(value) : rounded(toShown(sort, value), sort === "volume" ? 2 : 1);
}

const FIGURE = "[-\u2212]?\\d+(?:[.,]\\d+)?";
/** One amount or two with a `to` between; what a temperature lies above another is a difference. Degree-days stay those of °C. */
const QUANTITY = new RegExp(
  `(?<!degree-days above[ \u00a0])(?<![\\d.,])(?:(${FIGURE})([ \u00a0]to[ \u00a0]))?(${FIGURE})\u00a0(\u00b0C|cm|mm|ml|L|kg|g|m)(?![\\p{L}\u00b2\u00b3])([ \u00a0](?:above|below|warmer|colder)\\b(?![ \u00a0]\\d))?`,
  "gu",
);

/** @type {Record<string, {sort: Sort, each: number}>} */
const READ = {
  "°C": { sort: "degrees", each: 1 },
  mm: { sort: "length", each: 0.1 },
  cm: { sort: "length", each: 1 },
  m: { sort: "length", each: 100 },
  ml: { sort: "volume", each: 0.001 },
  L: { sort: "volume", each: 1 },
  g: { sort: "weight", each: 1 },
  kg: { sort: "weight", each: 1000 },
};

/** Text of the app's own with its quantities turned. @param {string} text @returns {string} */
export function asMeasured(text) {
  if (metric()) return text;
  return text.replace(QUANTITY, (...found) => {
    const [whole, first, to, figure, unit, than = ""] = found;
    const { sort, each } = READ[unit];
    const asked = sort === "degrees" && than ? "warmer" : sort;
    if (unitOf(asked).one === 1) return whole;
    const amount = (/** @type {string} */ digits) => Number(digits.replace("\u2212", "-").replace(",", ".")) * each;
    const last = inWords(asked, amount(figure));
    if (first === undefined) return last + than;
    const [head, ...unitOfFirst] = inWords(asked, amount(first)).split(NB);
    return `${last.split(NB).slice(1).join(NB) === unitOfFirst.join(NB) ? head : [head, ...unitOfFirst].join(NB)}${to}${last}${than}`;
  });
}

/** An amount in words. @param {Sort} sort @param {number} value °C, cm, g or L @returns {string} */
function inWords(sort, value) {
  const shown = toShown(sort, value);
  if (sort === "degrees") return `${rounded(shown, 0)}${NB}\u00b0F`;
  if (sort === "warmer") return `${rounded(shown, 1)}${NB}\u00b0F`;
  if (sort === "weight") return parted(shown, OUNCES);
  if (sort === "length") return parted(shown, INCHES);
  if (shown >= PINTS_TO_GALLON) return `${rounded(shown / PINTS_TO_GALLON, 1)}${NB}gal`;
  return `${rounded(shown, shown < 1 ? 2 : 1)}${NB}pt`;
}

/** From so many small ones on the large are said. */
const OUNCES = { small: "oz", large: "lb", holds: 16, from: 16 };
const INCHES = { small: "in", large: "ft", holds: 12, from: 36 };
/** Fewer small ones are told to a tenth. */
const TENTHS_UNDER = 4;

/** `1 lb 12 oz`, `11 ft 6 in`, `0.4 in`. @param {number} amount of the small unit, 0 or more @param {typeof OUNCES} units */
function parted(amount, { small, large, holds, from }) {
  const whole = Math.round(amount);
  if (whole < from) return `${rounded(amount, amount < TENTHS_UNDER ? 1 : 0)}${NB}${small}`;
  const rest = whole % holds;
  const told = [Math.floor(whole / holds), large, ...(rest ? [rest, small] : [])];
  return told.join(NB);
}
