// @ts-check
/** What is to be seen of the ground: houses in walking order, with what is to do and what grows in each. Pure. */
import { cropOf, houseOf, houses, inside } from "../../household/names.js";
import { spotsOf } from "../../household/spots.js";
import { counted, kept } from "../../lib/words.js";

/**
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {import("../../types.js").Job} Job
 * @typedef {ReturnType<typeof seeHouse> & {walk: number}} House
 */

const COVER_WORDS = new Map([["glass", "glass"], ["tunnel", "a tunnel"], ["frame", "cold frames"], ["open", "open ground"], ["indoors", "indoors"]]);
const MOST_GROWN = 3;
const MANY = new Map([["shelf", "shelves"], ["bench", "benches"]]);

/** @param {Book} book @param {string} today */
export function seeGround(book, today) {
  const stand = book.stand(today);
  const jobs = book.jobs(today);
  const seen = houses(book).map((house, at) => ({ ...seeHouse(book, house, stand, jobs), walk: at + 1 }));
  return { words: `${counted(seen.length, "place")}, in walking order`, houses: seen, drawn: seen.some(({ beds }) => beds.length) };
}

/** @param {Book} book @param {any} house @param {any} stand @param {Job[]} jobs */
function seeHouse(book, house, stand, jobs) {
  const { name, cover } = house.fields;
  const here = jobs.filter((job) => job.house === house.id);
  const ready = here.filter((job) => job.state === "ready");
  const past = ready.filter((job) => job.leeway !== null && job.leeway < 0).length;
  const waiting = here.filter((job) => job.state === "waiting").length;
  const beds = inside(book, house.id);
  return {
    id: house.id,
    name: name || "?",
    cover: cover || "open",
    says: [ready.length ? counted(ready.length, "job") : "", waiting ? `${waiting} waiting` : ""].filter(Boolean).join(", ") || "no jobs",
    past: past ? `, ${past} past` : "",
    holds: kept(grownWords(book, house.id, stand)) || (beds.length ? `${bedWords(beds)}, empty` : COVER_WORDS.get(cover) || "nothing said yet"),
    beds: [...spotsOf(book, house.id)].map(([bed, spot]) => ({ ...spot, grows: growsIn(stand, bed) })),
  };
}

/** `24 tomatoes, 12 basil and 3 more`: what grows in a house, the most first. @param {Book} book @param {string} house @param {any} stand @returns {string} */
function grownWords(book, house, stand) {
  /** @type {Map<string, {know: any, count: number}>} */
  const crops = new Map();
  for (const batch of stand.batches.filter((/** @type {any} */ one) => one.state !== "over")) {
    for (const cell of batch.cells.filter((/** @type {any} */ one) => houseOf(book, one.place) === house)) {
      const held = crops.get(batch.crop) || { know: cropOf(book, batch.id), count: 0 };
      crops.set(batch.crop, { know: held.know, count: held.count + (cell.count ?? 0) });
    }
  }
  const words = [...crops.values()].sort((a, b) => b.count - a.count).map(({ know, count }) => [count || "", count === 1 ? know.one : know.many || "plants"].filter(String).join(" "));
  const more = words.length - MOST_GROWN;
  return more > 0 ? `${words.slice(0, MOST_GROWN).join(", ")} and ${more} more` : words.join(", ");
}

/** @param {any} stand @param {string} place @returns {"planted" | "potted" | "none"} */
function growsIn(stand, place) {
  const plants = stand.places.filter((/** @type {any} */ one) => one.path.includes(place)).flatMap((/** @type {any} */ one) => one.plants);
  if (plants.some((/** @type {any} */ one) => one.stage === "planted")) return "planted";
  return plants.length ? "potted" : "none";
}

/** `3 beds, bench`. @param {any[]} beds */
function bedWords(beds) {
  /** @type {Map<string, number>} */
  const sorts = new Map();
  for (const { fields } of beds) sorts.set(fields.sort || "bed", (sorts.get(fields.sort || "bed") || 0) + 1);
  return [...sorts].map(([sort, count]) => (count === 1 ? sort : counted(count, sort, MANY.get(sort)))).join(", ");
}
