// @ts-check
/** What is to be seen of a plain form: its fields as they begin, and what its answers become. Pure. */
import { pathOf, placeName } from "../../../household/names.js";
import { countedSeeds, seedsInHand } from "../../../household/seeds.js";
import { lastOnWalk } from "../../../household/walk.js";
import { FORMS } from "./shapes.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {{kind: string, id: string, fresh: boolean}} Thing fresh: it is not in the book yet
 */

/** How a new thing begins. @param {string} kind @param {string[]} pairs `name=value` @param {string} today @returns {Record<string, any>} */
export function beginning(kind, pairs, today) {
  /** @type {Record<string, any>} */
  const fields = Object.fromEntries(pairs.map((pair) => pair.split("=", 2)));
  if (kind === "fixture") fields.up = true;
  if (kind === "batch") fields.year = Number(today.slice(0, 4));
  return fields;
}

/** @param {Book} book @param {Thing} thing */
export function seeForm(book, { kind, id, fresh }) {
  const { title, shapes } = FORMS[kind];
  return {
    kind,
    title,
    shapes: shapes.filter((shape) => fresh || !shape.atFirst),
    trouble: kind === "batch" && !book.ofKind("variety").length ? "Put down a variety first: what the seed packet says." : "",
    newVariety: kind === "batch",
    key: fresh ? "Write it down" : "Change it",
    numbersOf: (!fresh && kind === "variety" && book.fields(id).crop) || null,
    putAway: !fresh && kind !== "site",
  };
}

/** What a thing in the book holds; of seeds what is left of them. @param {Book} book @param {Thing} thing @param {string} today @returns {Record<string, any>} */
export function heldNow(book, { kind, id }, today) {
  const fields = book.get(id)?.fields || {};
  return kind === "variety" ? { ...fields, seeds: seedsInHand(book, today).get(id) ?? null } : fields;
}

/** What is written: a new thing has no fields that say nothing, and a new place comes last on the walk. @param {Book} book @param {Thing} thing @param {Record<string, any>} given what was changed @param {string} today @returns {Record<string, any>} */
export function fieldsOf(book, { kind, fresh }, given, today) {
  const changed = kind === "variety" && "seeds" in given ? { ...given, ...countedSeeds(given.seeds, today) } : given;
  if (!fresh) return changed;
  const said = Object.fromEntries(Object.entries(changed).filter(([, value]) => value !== null && value !== false));
  if (kind === "place") return { ...said, walk: lastOnWalk(book, said.within ?? null) };
  return kind === "job" ? { ...said, hand: true } : said;
}

/** Why what was filled in cannot be so; empty where it can. @param {Book} book @param {Thing} thing @param {Record<string, any>} fields */
export function whyNot(book, { kind, id }, fields) {
  if (kind !== "place" || !fields.within || !pathOf(book, fields.within).includes(id)) return "";
  return fields.within === id ? "A place cannot lie in itself. Choose another, or none." : `${placeName(book, fields.within) || "That"} lies in this place already. Choose another, or none.`;
}

/** What would be left without a place if it were put away. @param {Book} book @param {Thing} thing @param {string} today @returns {string} empty for nothing */
export function standingIn(book, { kind, id }, today) {
  if (kind !== "place" && kind !== "fixture") return "";
  const { places } = book.stand(today);
  const inside = places.filter((/** @type {any} */ one) => one.id !== id && one.path.includes(id));
  if (places.find((/** @type {any} */ one) => one.id === id)?.plants.length) return "Plants stand here. Move or clear it first.";
  return inside.length ? `${inside.length} places lie in it. Move or clear it first.` : "";
}
