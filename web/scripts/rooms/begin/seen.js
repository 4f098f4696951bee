// @ts-check
/** What is to be seen of the first three questions: what is there already, what may be chosen, and the plan that follows. Pure. */
import { frostWords, houses, inside, placeChoices } from "../../household/names.js";
import { nextTurn, workOut } from "../../household/plan-working.js";
import { present } from "../../household/wishes.js";
import { plainDay } from "../../lib/dates.js";
import { capital, counted, kept } from "../../lib/words.js";
import { HOUSES, WISHED, standingFor } from "./choices.js";
import { seeAssumed, seeNames } from "./where.js";

/**
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {{name: string, beds: number, long: number, wide: number}} Usual sizes in cm
 * @typedef {{step: number, house: Usual, sort: string, wanted: Record<string, number>, stands: Record<string, string>, spot: {lat: string, lon: string},
 *   again: boolean, unfolded: boolean}} Ask sort: the house that is being added; wanted: plants by crop; stands: places by crop, `none` where that is not decided;
 *   spot: as it is typed; again: where one is is asked once more; unfolded: what was assumed is shown
 */

export const STEPS = ["Where", "Places", "What grows"];

/** The first question that has no answer yet. @param {Book} book @returns {Ask} */
export function atFirst(book) {
  const { lat, name } = book.fields("site");
  const step = typeof lat !== "number" && !name ? 0 : book.ofKind("place").length ? 2 : 1;
  return { step, house: { name: "", beds: 3, long: 400, wide: 120 }, sort: "", wanted: {}, stands: {}, spot: { lat: "", lon: "" }, again: false, unfolded: false };
}

/** @param {Book} book @param {Ask} ask @param {{climates: import("./where.js").Climate[], asked: string, zone: string}} given */
export function seeSite(book, ask, { climates, asked, zone }) {
  const site = book.fields("site");
  const known = typeof site.lat === "number" || Boolean(site.name);
  return {
    known,
    asks: !known || ask.again,
    name: site.name || "Your garden",
    frosts: frostWords(site) || "frosts from the climate",
    assumed: seeAssumed(site, climates),
    groups: seeNames(climates, { asked, zone }),
    none: climates.length ? "No climate is called so. The nearest one is found by latitude and longitude, below." : "",
  };
}

/** @param {Book} book @param {Ask} ask */
export function seePlaces(book, ask) {
  const there = houses(book).map((house) => {
    const within = inside(book, house.id).length;
    return { id: house.id, name: house.fields.name, says: within ? counted(within, "place") : "" };
  });
  const chosen = HOUSES.find((one) => one.id === ask.sort) || null;
  return {
    there,
    sorts: HOUSES.map((one) => ({ id: one.id, words: one.words, chosen: one.id === ask.sort, usual: { ...one.usual, name: freeName(book, one.words) } })),
    adding: chosen && { cover: chosen.cover, beds: chosen.inner === "bed" ? "Beds in it" : `Places in it: ${chosen.inner}`, sized: chosen.inner !== "propagator" },
  };
}

/** A name that no place has yet. @param {Book} book @param {string} words */
function freeName(book, words) {
  const names = new Set(book.ofKind("place").map(({ fields }) => fields.name));
  let name = words;
  for (let at = 2; names.has(name); at += 1) name = `${words} ${at}`;
  return name;
}

/** Crops to choose from: those many households grow, and all others. @param {Book} book @param {Ask} ask */
export function seeCrops(book, ask) {
  const known = book.rulebook.crops || {};
  const crop = (/** @type {string} */ id) => ({ id, words: known[id].many, chosen: id in ask.wanted });
  const often = WISHED.filter((id) => id in known);
  return {
    count: Object.keys(known).length,
    often: often.map(crop),
    rest: Object.keys(known).filter((id) => !often.includes(id)).map(crop).sort((a, b) => a.words.localeCompare(b.words)),
  };
}

export const UNDECIDED = "none";

/** Where a crop is to stand: as it was said, else as is best of what there is. @param {Book} book @param {Ask} ask @param {string} crop @returns {string | null} */
function standsIn(book, ask, crop) {
  const said = ask.stands[crop];
  if (said === UNDECIDED) return null;
  return said && book.get(said) ? said : standingFor(book, crop);
}

/** Chosen crops of which nobody has said where they stand, nor that it is not decided. @param {Book} book @param {Ask} ask @returns {string[]} */
export function placeless(book, ask) {
  return Object.keys(ask.wanted).filter((crop) => crop in (book.rulebook.crops || {}) && ask.stands[crop] !== UNDECIDED && !standsIn(book, ask, crop));
}

/** The batch that a crop would be. @param {Book} book @param {Ask} ask @param {string} crop @param {string} today */
function wishOf(book, ask, crop, today) {
  const wish = { crop, variety: null, want: ask.wanted[crop], for_place: standsIn(book, ask, crop), year: 0, sow_on: null, spacing_cm: null, pot_l: null };
  return { ...wish, ...nextTurn(book.rulebook, book.records, wish, today) };
}

/** The plan of what is chosen, in order of its first days. @param {Book} book @param {Ask} ask @param {string} today */
export function seePlan(book, ask, today) {
  return Object.keys(ask.wanted)
    .filter((crop) => crop in (book.rulebook.crops || {}))
    .map((crop) => ({ crop, ...workOut(book.rulebook, book.records, wishOf(book, ask, crop, today), today) }))
    .filter(({ jobs }) => jobs.length)
    .sort((a, b) => (a.jobs[0].aim < b.jobs[0].aim ? -1 : 1))
    .map(({ crop, jobs: [first], stages }) => {
      const pick = stages.find((one) => one.stage === "picking");
      const days = [`best ${plainDay(first.aim, today)}`, pick ? `picking from ${plainDay(pick.from, today)}` : ""].filter(Boolean).join(", ");
      const stands = ask.stands[crop] === UNDECIDED ? UNDECIDED : standsIn(book, ask, crop) || "";
      return { crop, title: kept(first.title), days: kept(days), many: book.rulebook.crops[crop].many, want: ask.wanted[crop], stands, places: [...placeChoices(book, false), [UNDECIDED, "not decided yet"]] };
    });
}

/**
 * What goes into the book: a batch for each crop, and a variety where none of it is there.
 * @param {Book} book
 * @param {Ask} ask
 * @param {{crops: string[], today: string, newId: () => string}} given
 * @returns {import("../../types.js").Wish[]}
 */
export function batchWishes(book, ask, { crops, today, newId }) {
  return crops.flatMap((crop) => {
    const { crop: _crop, ...fields } = wishOf(book, ask, crop, today);
    const held = book.ofKind("variety").find((one) => one.fields.crop === crop);
    const variety = held?.id || newId();
    const { many } = book.rulebook.crops[crop];
    const named = { id: variety, kind: "variety", fields: { name: capital(many), crop } };
    return [...(held ? [] : [named]), { id: newId(), kind: "batch", fields: present({ ...fields, variety }) }];
  });
}
