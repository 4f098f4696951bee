// @ts-check
/** What is to be seen of a house from above: its beds, benches and shelves where they lie, how full each is, and what is up. Pure. */
import { houseOf, placeName } from "../../../household/names.js";
import { reachOf, spotsOf } from "../../../household/spots.js";
import { WATER_LINES } from "../../../kernel/read/ground.js";
import { daysBetween } from "../../../lib/dates.js";
import { kept } from "../../../lib/words.js";
import { seeTime } from "./bed-seen.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../household/bed-working.js").Room} Room
 * @typedef {NonNullable<ReturnType<typeof seeHouse>>} SeenHouse
 */

const WEEK = 7;

/** Null where no size is known of anything in it. @param {Book} book @param {Room} room @param {string} id @param {import("./bed-seen.js").Choice} choice @param {string} today */
export function seeHouse(book, room, id, { day, year }, today) {
  const spots = spotsOf(book, id);
  if (!spots.size) return null;
  const fields = book.fields(id);
  const week = Math.floor(daysBetween(room.from, day) / WEEK);
  const places = [...spots].map(([place, spot]) => ({ id: place, name: kept(placeName(book, place) || "?"), ...spot, taken: takenIn(room, place, week), sort: book.fields(place).sort || "bed" }));
  const up = new Set(book.stand(today).fixtures.filter((/** @type {any} */ one) => one.up).map((/** @type {any} */ one) => one.id));
  const hanging = book.ofKind("fixture").filter((one) => up.has(one.id) && houseOf(book, one.id) === id);
  const hangs = hanging.map((one) => one.fields.name || "?");
  return {
    id,
    ...reachOf(fields, spots.values()),
    cover: fields.cover || "open",
    places: places.map((place) => ({ ...place, hangs: hanging.some(({ fields }) => fields.place === place.id && !WATER_LINES.includes(fields.sort)) })),
    water: hanging.some(({ fields }) => WATER_LINES.includes(fields.sort)),
    hangs: hangs.length ? kept(`Up here: ${hangs.join(", ")}.`) : "",
    label: kept(`${placeName(book, id)} from above: ${places.map(({ name, taken }) => (taken === null ? name : [name, taken, "% taken"].join(" "))).join(", ")}`),
    time: seeTime(room, places.map((place) => place.id), day, year, today),
  };
}

/** How full a place is in a week. [%] @param {Room} room @param {string} id @param {number} week */
function takenIn(room, id, week) {
  const place = room.places.find((one) => one.id === id);
  if (!place || week < 0 || week >= place.weeks.length || !place.cm2) return null;
  return Math.round((100 * place.weeks[week]) / place.cm2);
}
