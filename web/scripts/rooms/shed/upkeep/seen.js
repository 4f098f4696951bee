// @ts-check
/** What is to be seen of the other work: what can be chosen, and where it is chosen. Pure. */
import { byWalk, fullPlace, houseOf, houses, placeName } from "../../../household/names.js";
import { dayOfYear } from "../../../lib/dates.js";
import { capital, counted, minutesWords } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {{id: string, title: string, say: string}} Caution
 * @typedef {{id: string, target: string | null, name: string, house: string, chosen: boolean, fields: any}} Target
 */

const HOUSEHOLD = "household";
const YEAR_DAYS = 250;
const SEVERAL_YEARS_DAYS = 500;
const USUAL_M2 = 4;
/** What the work is for, in the order in which it is offered. */
const PARTS = [
  { title: "Beds", sorts: ["bed", "border"] },
  { title: "Glass and film", sorts: ["house"] },
  { title: "Heat and water", sorts: ["heater", "drip_line", "soaker_hose"] },
  { title: "Shed, heap and desk", sorts: [HOUSEHOLD] },
];
export const SOILS = [["sand", "Sand"], ["loam", "Loam"], ["clay", "Clay"], ["organic", "Rich in humus"], ["peat", "Peat"]];
export const USUAL_PH = 6.5;

/** Every work there is, by what it is for. @param {Book} book @returns {{title: string, works: {id: string, name: string, says: string}[]}[]} */
export function seeWorks(book) {
  const upkeep = book.rulebook.upkeep || {};
  return PARTS.map(({ title, sorts }) => ({
    title,
    works: Object.keys(upkeep)
      .filter((id) => sorts.includes(upkeep[id].at[0]))
      .map((id) => ({ id, name: upkeep[id].name, says: whereWords(book, targetsOf(book, id), upkeep[id]) })),
  })).filter(({ works }) => works.length);
}

/** Where it is chosen, or when it would be done. @param {Book} book @param {Target[]} targets @param {any} rule @returns {string} */
function whereWords(book, targets, rule) {
  const chosen = targets.filter((one) => one.chosen);
  if (!chosen.length) return rhythmWords(rule);
  if (chosen[0].target === null) return "chosen";
  return `chosen: ${chosen.length > 3 ? counted(chosen.length, "place") : chosen.map((one) => fullPlace(book, one.target)).join("; ")}`;
}

/** When in the year, and how often. @param {any} rule @returns {string} */
export function rhythmWords(rule) {
  if (rule.kinds) return "where a bed stands empty long enough";
  const [least, most] = [Math.min(...rule.every), Math.max(...rule.every)];
  let often = least === most ? `every ${counted(least, "day")}` : `every ${least} to ${most} days, as things grow`;
  if (least >= SEVERAL_YEARS_DAYS) often = "each third year";
  else if (least >= YEAR_DAYS) often = "once a year";
  return rule.season ? `${often}, ${dayOfYear(rule.season.from)} to ${dayOfYear(rule.season.to)}` : often;
}

/** One work, and all it can be chosen for. @param {Book} book @param {string} id */
export function seeWork(book, id) {
  const rule = (book.rulebook.upkeep || {})[id];
  if (!rule) return null;
  const targets = targetsOf(book, id);
  const cautions = book.rulebook.cautions || {};
  return {
    id,
    name: rule.name,
    rhythm: capital(rhythmWords(rule)),
    takes: takesWords(rule),
    hint: rule.hint,
    cautions: /** @type {Caution[]} */ (rule.cautions.filter((/** @type {string} */ one) => one in cautions).map((/** @type {string} */ one) => ({ id: one, ...cautions[one] }))),
    whole: rule.at.includes(HOUSEHOLD) ? targets[0] : null,
    groups: rule.at.includes(HOUSEHOLD) ? [] : inHouses(targets),
    none: targets.length ? "" : noneWords(rule.at),
    often: oftenOf(rule, targets),
    limes: rule.lime ? targets.filter((one) => one.chosen) : [],
  };
}

/** How often it comes again where it is chosen, in days; null for what comes once a year or between crops. @param {any} rule @param {Target[]} targets */
function oftenOf(rule, targets) {
  const chosen = targets.filter((one) => one.chosen);
  if (rule.kinds || !chosen.length || Math.min(...rule.every) >= YEAR_DAYS) return null;
  const own = chosen.find((one) => one.fields.every_days)?.fields.every_days ?? null;
  return { days: own ?? Math.min(...rule.every), own: own !== null, targets: chosen };
}

/** `11 min for 4 m². Source: …` @param {any} rule @returns {string} */
function takesWords(rule) {
  const [fixed, each] = rule.minutes;
  const size = each ? ` for ${USUAL_M2}\u00a0m²` : "";
  return `${capital(minutesWords(fixed + Math.ceil((each * USUAL_M2) / 10)))}${size}. Source: ${rule.source}.`;
}

/** @param {string[]} at @returns {string} */
function noneWords(at) {
  if (at.includes("heater")) return "No heater is in the book. Put it in on the Ground, as something put up in its house.";
  if (at.includes("drip_line")) return "No drip line or hose is in the book. Put it in on the Ground, as something put up in its bed.";
  return "There is no such place in the book yet. Put it in on the Ground.";
}

/** Houses in walking order, each with what can be chosen there. @param {Target[]} targets @returns {{house: string, targets: Target[]}[]} */
function inHouses(targets) {
  /** @type {Map<string, Target[]>} */
  const groups = new Map();
  for (const target of targets) groups.set(target.house, [...(groups.get(target.house) || []), target]);
  return [...groups].map(([house, inside]) => ({ house, targets: inside }));
}

/** What a work can be chosen for, in walking order. @param {Book} book @param {string} work @returns {Target[]} */
export function targetsOf(book, work) {
  const rule = book.rulebook.upkeep[work];
  const target = (/** @type {string | null} */ place) => {
    const id = place === null ? `upkeep.${work}` : `upkeep.${work}.${place}`;
    const record = book.get(id);
    const chosen = Boolean(record) && book.ofKind("upkeep").some((one) => one.id === id);
    return { id, target: place, name: placeName(book, place) || rule.name, house: placeName(book, houseOf(book, place)) || "", chosen, fields: chosen ? record?.fields || {} : {} };
  };
  if (rule.at.includes(HOUSEHOLD)) return [target(null)];
  const order = houses(book).map(({ id }) => id);
  const walked = (/** @type {string} */ id) => order.indexOf(houseOf(book, id) ?? "");
  const places = book.ofKind("place").filter((one) => fits(book, one, rule)).sort((a, b) => walked(a.id) - walked(b.id) || byWalk(a, b));
  const fixtures = book.ofKind("fixture").filter(({ fields }) => rule.at.includes(fields.sort));
  return [...places, ...fixtures].map(({ id }) => target(id));
}

/** @param {Book} book @param {any} place @param {any} rule @returns {boolean} */
function fits(book, { id, fields }, rule) {
  const sort = fields.sort || "bed";
  const house = houseOf(book, id) === id;
  if (!rule.at.includes(house ? "house" : sort)) return false;
  return !rule.covers || rule.covers.includes(fields.cover || "open");
}

/**
 * Choosing a work for a place, or not any more.
 * @param {string} work
 * @param {Target} target
 * @param {boolean} chosen
 * @param {string} today
 * @returns {import("../../../types.js").Wish}
 */
export function chooseWish(work, { id, target }, chosen, today) {
  const fields = chosen ? { work, ...(target === null ? {} : { place: target }), since: today, gone: false } : { gone: true };
  return { id, kind: "upkeep", fields };
}
