// @ts-check
/** What is to be seen of sowings that follow each other: what may be chosen, and the answer as lines. Pure. */
import { placeChoices } from "../../../household/names.js";
import { yearOfDay } from "../../../household/plan-working.js";
import { daySpan, plainDay } from "../../../lib/dates.js";
import { counted, kept } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {{mode: string, variety: string, place: string, from: string, to: string, a_week: number, every: number, plants: number}} Ask
 * @typedef {{sow: string, plant: string, pick_from: string, pick_to: string, seeds: number, plants: number}} Sowing
 * @typedef {{sowings: Sowing[], gaps: {from: string, to: string, why: string}[], says: string, from: string, to: string, raised: boolean,
 *   by_heat: boolean}} Found the server's answer
 */

const MODES = [["picking", "By the picking"], ["days", "Every so often"], ["heat", "By heat"]];
/** @type {Ask} */
export const AT_FIRST = { mode: "picking", variety: "", place: "", from: "", to: "", a_week: 7, every: 14, plants: 12 };

/** @param {Book} book @param {string} crop @param {Found | null} found */
export function seeQuestions(book, crop, found) {
  return {
    many: book.rulebook.crops?.[crop]?.many || crop,
    modes: found && !found.by_heat ? MODES.slice(0, 2) : MODES,
    varieties: book.ofKind("variety").filter((one) => one.fields.crop === crop).map((one) => [one.id, one.fields.name]),
    places: placeChoices(book, false),
  };
}

/** What the server is asked. @param {string} crop @param {Ask} ask @returns {string} */
export function question(crop, ask) {
  const query = new URLSearchParams({ crop, mode: ask.mode, a_day: String(ask.a_week / 7), every: String(ask.every), plants: String(ask.plants) });
  for (const name of /** @type {const} */ (["variety", "place", "from", "to"])) if (ask[name]) query.set(name, ask[name]);
  return `/api/successions?${query}`;
}

/** @param {Book} book @param {string} crop @param {Found} found @param {string} today */
export function seeAnswer(book, crop, found, today) {
  const { sowings, gaps } = found;
  const plants = book.rulebook.crops?.[crop]?.steps?.[0]?.verb === "plant_out";
  return {
    title: sowings.length ? kept(counted(sowings.length, "sowing")) : "No sowing serves that",
    says: found.says && kept(found.says),
    picture: sowings.length ? { from: sowings[0].sow, to: lastDay(found), sowings, gaps, today } : null,
    gaps: gaps.map((gap) => kept(`Nothing ${gapDays(gap, today)}: ${gap.why}.`)),
    lines: sowings.map((sowing) => seeSowing(sowing, { plants, raised: found.raised, today })),
    key: sowings.length === 1 ? "Put it in the book" : `Put these ${sowings.length} in the book`,
  };
}

/** @param {{from: string, to: string}} gap @param {string} today */
function gapDays({ from, to }, today) {
  return from === to ? `on ${plainDay(from, today)}` : `from ${daySpan(from, to, today)}`;
}

/** @param {Found} found @returns {string} */
function lastDay({ sowings, gaps }) {
  return [...sowings.map((one) => one.pick_to), ...gaps.map((one) => one.to)].sort().pop() || "";
}

/** @param {Sowing} sowing @param {{plants: boolean, raised: boolean, today: string}} given plants: it begins by planting, not by seed */
function seeSowing(sowing, { plants, raised, today }) {
  const first = plants ? "Plant" : `Sow ${sowing.seeds}`;
  const then = [raised ? `planted ${plainDay(sowing.plant, today)}` : "", `picked ${daySpan(sowing.pick_from, sowing.pick_to, today)}`].filter(Boolean).join(", ");
  return { first: kept(`${first}, ${plainDay(sowing.sow, today)}`), then: kept(then), plants: kept(counted(sowing.plants, "plant")) };
}

/**
 * The batches that the sowings become, and the variety where it is not in the book yet.
 * @param {Book} book
 * @param {{crop: string, ask: Ask, sowings: Sowing[], newId: () => string}} given
 * @returns {import("../../../types.js").Wish[]}
 */
export function sowingWishes(book, { crop, ask, sowings, newId }) {
  const { many } = book.rulebook.crops[crop];
  const variety = ask.variety || newId();
  /** @type {import("../../../types.js").Wish[]} */
  const wishes = ask.variety ? [] : [{ id: variety, kind: "variety", fields: { name: many, crop } }];
  sowings.forEach((sowing, at) => {
    const wish = { crop, variety: ask.variety || null, want: sowing.plants, for_place: ask.place || null, year: 0, sow_on: sowing.sow, spacing_cm: null, pot_l: null };
    const year = yearOfDay(book.rulebook, book.records, wish);
    const fields = { variety, year, want: sowing.plants, sow_on: sowing.sow, name: `${many}, ${at + 1} of ${sowings.length}`, ...(ask.place ? { for_place: ask.place } : {}) };
    wishes.push({ id: newId(), kind: "batch", fields });
  });
  return wishes;
}
