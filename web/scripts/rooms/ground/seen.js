// @ts-check
/** What is to be seen of the ground: houses in walking order, with what is to do and what grows in each. Pure. */
import { houses, inside } from "../../household/names.js";
import { counted } from "../../lib/words.js";

/**
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {import("../../types.js").Job} Job
 * @typedef {ReturnType<typeof seeHouse>} House
 */

const COVER_WORDS = new Map([["glass", "glass"], ["tunnel", "a tunnel"], ["frame", "cold frames"], ["open", "open ground"], ["indoors", "indoors"]]);
const MANY = new Map([["shelf", "shelves"], ["bench", "benches"]]);

/** @param {Book} book @param {string} today */
export function seeGround(book, today) {
  const stand = book.stand(today);
  const jobs = book.jobs(today);
  const seen = houses(book).map((house) => seeHouse(book, house, stand, jobs));
  return { words: `${counted(seen.length, "place")}, in walking order`, houses: seen, drawn: seen.some(({ beds }) => beds.some((bed) => bed.length_cm)) };
}

/** @param {Book} book @param {any} house @param {any} stand @param {Job[]} jobs */
function seeHouse(book, house, stand, jobs) {
  const { walk, name, cover } = house.fields;
  const here = jobs.filter((job) => job.house === house.id);
  const ready = here.filter((job) => job.state === "ready");
  const past = ready.filter((job) => job.leeway !== null && job.leeway < 0).length;
  const waiting = here.filter((job) => job.state === "waiting").length;
  const beds = inside(book, house.id);
  return {
    id: house.id,
    walk,
    name: name || "?",
    cover: cover || "open",
    says: [ready.length ? counted(ready.length, "job") : "", waiting ? `${waiting} waiting` : ""].filter(Boolean).join(", ") || "no jobs",
    past: past ? `, ${past} past` : "",
    holds: beds.length ? bedWords(beds) : COVER_WORDS.get(cover) || "nothing said yet",
    beds: beds.map((bed) => ({ ...bed.fields, grows: growsIn(stand, bed.id) })),
  };
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
