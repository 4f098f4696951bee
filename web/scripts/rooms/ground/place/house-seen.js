// @ts-check
/** What is to be seen of a house from above: its beds, benches and shelves where they lie, how full each is, and what is up. Pure. */
import { inRows } from "../../../household/layout-working.js";
import { houseOf, inside, placeName } from "../../../household/names.js";
import { daysBetween } from "../../../lib/dates.js";
import { kept } from "../../../lib/words.js";
import { seeTime } from "./bed-seen.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../household/bed-working.js").Room} Room
 * @typedef {NonNullable<ReturnType<typeof seeHouse>>} SeenHouse
 */

const GAP_CM = 40;
const WATER = ["drip_line", "soaker_hose"];
const WEEK = 7;

/** Null where no size is known of anything in it. @param {Book} book @param {Room} room @param {string} id @param {import("./bed-seen.js").Choice} choice @param {string} today */
export function seeHouse(book, room, id, { day, year }, today) {
  const sized = inside(book, id).filter(({ fields }) => fields.length_cm && fields.width_cm);
  if (!sized.length) return null;
  const fields = book.fields(id);
  const flat = sized.map((place) => ({ id: place.id, ...lying(place.fields) }));
  const rows = inRows(flat.filter((place) => place.x === null), GAP_CM);
  const week = Math.floor(daysBetween(room.from, day) / WEEK);
  const places = flat.map(({ id: place, long, wide, x, y }) => {
    const at = x === null ? /** @type {{x: number, y: number}} */ (rows.get(place)) : { x, y };
    return { id: place, name: kept(placeName(book, place) || "?"), ...at, long, wide, taken: takenIn(room, place, week), sort: book.fields(place).sort || "bed" };
  });
  const [most, deep] = [Math.max(...places.map(({ x, long }) => x + long)), Math.max(...places.map(({ y, wide }) => y + wide))];
  const up = new Set(book.stand(today).fixtures.filter((/** @type {any} */ one) => one.up).map((/** @type {any} */ one) => one.id));
  const hanging = book.ofKind("fixture").filter((one) => up.has(one.id) && houseOf(book, one.id) === id);
  const hangs = hanging.map((one) => one.fields.name || "?");
  return {
    id,
    length: Math.max(fields.length_cm || 0, most + GAP_CM),
    width: Math.max(fields.width_cm || 0, deep + GAP_CM),
    cover: fields.cover || "open",
    places: places.map((place) => ({ ...place, hangs: hanging.some(({ fields }) => fields.place === place.id && !WATER.includes(fields.sort)) })),
    water: hanging.some(({ fields }) => WATER.includes(fields.sort)),
    hangs: hangs.length ? kept(`Up here: ${hangs.join(", ")}.`) : "",
    label: kept(`${placeName(book, id)} from above: ${places.map(({ name, taken }) => (taken === null ? name : [name, taken, "% taken"].join(" "))).join(", ")}`),
    time: seeTime(room, places.map((place) => place.id), day, year, today),
  };
}

/** A place's size as it lies in its house: along it and across, and where, if that was said. [cm] @param {Record<string, any>} fields */
function lying({ length_cm, width_cm, x_cm, y_cm }) {
  return { long: length_cm, wide: width_cm, x: x_cm ?? null, y: x_cm === undefined ? null : (y_cm ?? 0) };
}

/** How full a place is in a week. [%] @param {Room} room @param {string} id @param {number} week */
function takenIn(room, id, week) {
  const place = room.places.find((one) => one.id === id);
  if (!place || week < 0 || week >= place.weeks.length || !place.cm2) return null;
  return Math.round((100 * place.weeks[week]) / place.cm2);
}
