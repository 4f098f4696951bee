// @ts-check
/** What is to be seen when a house is laid out: as it is and other ways it could be, side by side, each with what it is worth. Pure. */
import { lightOf, narrowest, outside, overlapping, plantsOf, walkOf, LEAST_PATH } from "../../../household/layout-working.js";
import { houseOf, placeName } from "../../../household/names.js";
import { reachOf, spotsOf } from "../../../household/spots.js";
import { addDays } from "../../../lib/dates.js";
import { kept } from "../../../lib/words.js";
import { metres } from "../place/bed-seen.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../household/bed-working.js").Room} Room
 * @typedef {import("../../../household/spots.js").Spot} Spot
 * @typedef {NonNullable<ReturnType<typeof seeLayouts>>} Seen
 * @typedef {Seen["layouts"][0]} Layout
 */

export const AS_IT_IS = "";
const MONTHS_LOOKED = 12;
const MONTH = 30;

/** A layout that is kept, with what has come into the house since. @param {Map<string, Spot>} now @param {Record<string, any>} kept_ */
function spotsKept(now, kept_) {
  return new Map([...now].map(([id, spot]) => [id, Array.isArray(kept_[id]) ? { x: kept_[id][0], y: kept_[id][1], long: kept_[id][2], wide: kept_[id][3] } : spot]));
}

/** Spots as a record holds them. @param {Map<string, Spot>} spots @returns {Record<string, number[]>} */
export function asKept(spots) {
  return Object.fromEntries([...spots].map(([id, { x, y, long, wide }]) => [id, [x, y, long, wide]]));
}

/** Null where the house has nothing with a size. @param {Book} book @param {Room} room @param {string} id @param {string} today */
export function seeLayouts(book, room, id, today) {
  const fields = book.fields(id);
  const now = spotsOf(book, id);
  if (!fields.name || !now.size) return null;
  const size = reachOf(fields, now.values());
  const days = Array.from({ length: MONTHS_LOOKED }, (_, at) => addDays(today, at * MONTH));
  const others = book.ofKind("layout").filter((one) => one.fields.house === id);
  const see = (/** @type {string} */ layout, /** @type {string} */ name, /** @type {Map<string, Spot>} */ spots) => ({ id: layout, name: kept(name), spots, ...worth(book, room, { spots, size, days, bearing: fields.bearing ?? null }) });
  return {
    id,
    name: kept(placeName(book, id)),
    size,
    cover: fields.cover || "open",
    layouts: [see(AS_IT_IS, "As it is", now), ...others.map((one) => see(one.id, one.fields.name || "Another way", spotsKept(now, one.fields.spots || {})))],
    decision: seeDecision(book, id, today),
    firstPlanting: firstPlanting(book, room, id, today),
  };
}

/** @param {Book} book @param {Room} room @param {{spots: Map<string, Spot>, size: {length: number, width: number}, days: string[], bearing: number | null}} given */
function worth(book, room, { spots, size, days, bearing }) {
  const { fit, without } = plantsOf(room, spots, days);
  const light = lightOf(spots, bearing);
  const gap = narrowest(spots);
  const name = (/** @type {string} */ id) => placeName(book, id);
  return {
    places: [...spots].map(([id, spot]) => ({ id, name: kept(name(id) || "?"), ...spot, sort: book.fields(id).sort || "bed" })),
    facts: [
      ["Plants", kept(without ? `${fit} find room, ${without} do not` : `all ${fit} find room`)],
      ["Light", light === null ? "not known until the house says which way it lies" : kept(`${light} % of the ground has rows that run north and south`)],
      ["Walking", kept([`${metres(walkOf(spots, size) * 10)} for a round from the door`, gap === null ? "" : `narrowest way ${gap} cm`].filter(Boolean).join(", "))],
    ],
    trouble: [
      ...overlapping(spots).map(([a, b]) => `${name(a)} lies over ${name(b)}.`),
      ...outside(spots, size).map((id) => `${name(id)} does not lie in the house.`),
      gap !== null && gap < LEAST_PATH ? `${gap} cm is too narrow to walk: ${LEAST_PATH} cm for a person, 60 cm for a barrow.` : "",
    ].filter(Boolean).map(kept),
  };
}

/** The decision between layouts that was put on the list, and its answer. @param {Book} book @param {string} house @param {string} today */
function seeDecision(book, house, today) {
  const id = decisionId(house);
  const answer = book.ofKind("diary").filter(({ fields }) => fields.job === id && fields.answer).sort((a, b) => (a.stamp < b.stamp ? 1 : -1))[0];
  const open = book.jobs(today).some((job) => job.id === id && job.state !== "done");
  return { open, answer: answer ? String(answer.fields.answer) : "" };
}

/** @param {string} house */
export function decisionId(house) {
  return `layout.${house}.decide`;
}

/** When something is planted in a house next: until then it can be laid out otherwise. @param {Book} book @param {Room} room @param {string} house @param {string} today @returns {string | null} */
function firstPlanting(book, room, house, today) {
  const coming = room.stays.filter((stay) => !stay.told && stay.layout && stay.from > today && houseOf(book, stay.place) === house).map((stay) => stay.from).sort();
  return coming[0] ?? null;
}

/** What using a layout writes: each place where it lies, and its size. @param {Book} book @param {Map<string, Spot>} spots @returns {import("../../../types.js").Wish[]} */
export function useWishes(book, spots) {
  return [...spots].flatMap(([id, { x, y, long, wide }]) => {
    const { x_cm, y_cm, length_cm, width_cm } = book.fields(id);
    const same = x_cm === x && y_cm === y && length_cm === long && width_cm === wide;
    return same ? [] : [{ id, kind: "place", fields: { x_cm: x, y_cm: y, length_cm: long, width_cm: wide } }];
  });
}

/** The decision that is put on the list, with its window: until the first planting. @param {Seen} seen @param {string} today @returns {import("../../../types.js").Wish} */
export function decideWish({ id, name, layouts, firstPlanting: by }, today) {
  const fields = { hand: true, title: `Decide on the layout of ${name.replaceAll("\u00a0", " ")}`, place: id, from: today, minutes: 15, answers: layouts.map((one) => one.name.replaceAll("\u00a0", " ")).slice(0, 6), gone: false };
  return { id: decisionId(id), kind: "job", fields: by ? { ...fields, by_day: by } : fields };
}
