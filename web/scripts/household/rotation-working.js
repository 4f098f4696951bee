// @ts-check
/** Rotation: which families stood on a bed when, and what is risked where one comes back too soon. A caution, never a bar. Pure. */
import { civil, parse } from "../kernel/read/days.js";
import { capital } from "../lib/words.js";
import { cropOf, familyName } from "./names.js";

/**
 * @typedef {import("../store/book.js").Book} Book
 * @typedef {import("./bed-working.js").Room} Room
 * @typedef {{name: string, families: string[], crops: string[], years: [number, number] | null}} Risk
 */

const YEAR_DAYS = 365.25;
/** What was begun so lately belongs to the same year of a rotation: peas and beans after them. [days] Source: common practice, a bed's family goes by the year. */
const SAME_YEAR_DAYS = 270;
/** In one border year after year: what helps where there is no other. Source: common practice. */
const ALL_THE_SAME = "Where there is no other bed: fresh soil, pots, or grafted plants.";

/** What crop a batch is of, by its id in the rulebook. @param {Book} book @param {string} batch @returns {string} */
function cropIdOf(book, batch) {
  return book.fields(book.fields(batch).variety).crop || "";
}

/** Whether something that waits in the ground goes for a crop. @param {Risk} risk @param {string} crop @param {string} family */
function hits(risk, crop, family) {
  return risk.crops.includes(crop) || risk.families.includes(family);
}

/**
 * What speaks against a crop on a bed from a day on, by what stood there before.
 * @param {Book} book
 * @param {Room} room with the seasons that rest
 * @param {string} place
 * @param {{crop: string, know: any, from: string, but?: string}} what but: a batch that does not count
 * @returns {string[]}
 */
export function rotationCautions(book, room, place, { crop, know, from, but }) {
  const before = room.stays.filter((stay) => stay.place === place && stay.layout && stay.batch !== but && parse(from) - parse(stay.from) > SAME_YEAR_DAYS);
  const years = know.rotation_years || 0;
  const kin = before.filter((stay) => cropOf(book, stay.batch).family === know.family).sort((a, b) => (a.to < b.to ? 1 : -1))[0];
  /** @type {string[]} */
  const said = [];
  const since = (/** @type {string} */ to) => (parse(from) - parse(to)) / YEAR_DAYS;
  if (kin && since(kin.to) < years) {
    const stands = kin.to >= from ? "still stands here then" : `stood here until ${yearOf(kin.to)}`;
    said.push(`${capital(cropOf(book, kin.batch).many)}, of the same family (${familyName(know.family)}), ${stands}: ${years} years between are usual, so again from ${yearOf(kin.to) + years + 1}.`);
  }
  /** @type {Map<string, string[]>} by what they are left by */
  const risks = new Map();
  for (const risk of /** @type {Risk[]} */ (book.rulebook.rotation || [])) {
    const host = hits(risk, crop, know.family) && before.filter((stay) => hits(risk, cropIdOf(book, stay.batch), cropOf(book, stay.batch).family)).sort((a, b) => (a.to < b.to ? 1 : -1))[0];
    if (!host || (risk.years && since(host.to) >= risk.years[0])) continue;
    const after = cropOf(book, host.batch).many || "its hosts";
    risks.set(after, [...(risks.get(after) || []), `${risk.name} ${riskYears(risk.years)}`]);
  }
  for (const [after, waits] of risks) said.push(`After ${after} there waits in the ground: ${waits.join(", ")}.`);
  return said.length ? [...said, ALL_THE_SAME] : [];
}

/** @param {[number, number] | null} years */
function riskYears(years) {
  if (!years) return "for good";
  return years[0] === years[1] ? `${years[0]} years` : `${years[0]} to ${years[1]} years`;
}

/** @param {string} date */
function yearOf(date) {
  return civil(parse(date))[0];
}
