// @ts-check
/** What the first questions offer: usual places, crops many households grow, and where and how many. Pure. */
import { houses, inside } from "../../household/names.js";

/** Houses as they are usually found, with what lies in them. Sizes are a beginning, to be changed. [cm] */
export const HOUSES = [
  { id: "glass", words: "Glasshouse", cover: "glass", inner: "bed", usual: { beds: 2, long: 350, wide: 80 } },
  { id: "tunnel", words: "Tunnel", cover: "tunnel", inner: "bed", usual: { beds: 3, long: 600, wide: 120 } },
  { id: "frame", words: "Cold frame", cover: "frame", inner: "frame", usual: { beds: 1, long: 120, wide: 60 } },
  { id: "open", words: "Open beds", cover: "open", inner: "bed", usual: { beds: 4, long: 400, wide: 120 } },
  { id: "indoors", words: "Windowsill", cover: "indoors", inner: "shelf", usual: { beds: 1, long: 120, wide: 25 } },
  { id: "propagator", words: "Propagator", cover: "indoors", inner: "propagator", usual: { beds: 1, long: 60, wide: 40 } },
];
const INNER_WORDS = /** @type {Record<string, string>} */ ({ bed: "bed", frame: "frame", shelf: "shelf", propagator: "propagator" });
const PROPAGATOR_C = 20;

/** Crops to begin the list with: common practice in a household's garden. */
export const WISHED = ["tomato", "courgette", "lettuce", "potato", "onion", "carrot", "runner_bean", "pea", "beetroot", "kale", "cucumber", "chilli"];

/**
 * A house and what lies in it.
 * @param {any} chosen
 * @param {{name: string, beds: number, long: number, wide: number, walk: number}} given sizes in cm
 * @param {() => string} newId
 * @returns {any[]}
 */
export function placesOf(chosen, given, newId) {
  const house = newId();
  const wishes = [{ id: house, kind: "place", fields: { name: given.name.trim() || chosen.words, sort: "house", cover: chosen.cover, walk: given.walk } }];
  for (let at = 1; at <= given.beds; at += 1) {
    const warm = chosen.inner === "propagator";
    const fields = { name: given.beds === 1 ? INNER_WORDS[chosen.inner] : `${INNER_WORDS[chosen.inner]} ${at}`, sort: chosen.inner, within: house, walk: at, ...(warm ? { heated_to_c: PROPAGATOR_C } : { length_cm: given.long, width_cm: given.wide }) };
    wishes.push({ id: newId(), kind: "place", fields: /** @type {any} */ (fields) });
  }
  return wishes;
}

/**
 * Where a crop is best stood of what there is: warm crops under cover, others in the open; where no bed is free, with the others.
 * @param {any} book
 * @param {string} crop
 * @returns {string | null}
 */
export function standingFor(book, crop) {
  const order = book.rulebook.crops[crop].tender ? ["tunnel", "glass", "frame", "open"] : ["open", "tunnel", "frame", "glass"];
  for (const cover of order) {
    const house = houses(book).find((/** @type {any} */ one) => (one.fields.cover || "open") === cover);
    if (!house) continue;
    const beds = inside(book, house.id).filter((/** @type {any} */ one) => !["propagator", "shelf", "bench"].includes(one.fields.sort));
    const taken = new Set(book.ofKind("batch").map((/** @type {any} */ one) => one.fields.for_place));
    return (beds.find((/** @type {any} */ bed) => !taken.has(bed.id)) || beds[0] || house).id;
  }
  return null;
}

/** Plants to begin with, by how much room each takes. @param {any} crop @returns {number} */
export function suggestedCount(crop) {
  const apart = crop.spacing_cm?.[2] ?? 30;
  return apart >= 60 ? 3 : apart >= 40 ? 6 : apart >= 14 ? 16 : apart >= 8 ? 40 : 100;
}
