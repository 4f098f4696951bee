// @ts-check
/** The walk: places one after another, each with its number. Numbers follow from the order, so that no two are alike. Pure. */
import { houseOf, houses, inside } from "./names.js";

/** @typedef {import("../types.js").Wish} Wish */

/** A house's number on the walk; null for none. @param {any} book @param {string | null | undefined} place a house, or what lies in it @returns {number | null} */
export function walkNumber(book, place) {
  const house = houseOf(book, place);
  const at = houses(book).findIndex(({ id }) => id === house);
  return at < 0 ? null : at + 1;
}

/** Where a new place comes: last of those it lies among. @param {any} book @param {string | null} within @returns {number} */
export function lastOnWalk(book, within) {
  const among = within ? inside(book, within) : houses(book);
  return 1 + Math.max(0, ...among.map(({ fields }) => fields.walk ?? 0));
}

/**
 * A place carried up or down among those it stands with: those whose number changes by it.
 * @param {any[]} among records in their order
 * @param {string} id
 * @param {-1 | 1} step
 * @returns {{wishes: Wish[], undo: Wish[], number: number} | null} null at either end
 */
export function carried(among, id, step) {
  const from = among.findIndex((one) => one.id === id);
  const to = from + step;
  if (from < 0 || to < 0 || to >= among.length) return null;
  const order = [...among];
  order.splice(to, 0, ...order.splice(from, 1));
  const moved = order.map((one, at) => ({ one, walk: at + 1 })).filter(({ one, walk }) => one.fields.walk !== walk);
  const wish = (/** @type {any} */ one, /** @type {any} */ walk) => ({ id: one.id, kind: "place", fields: { walk } });
  return { wishes: moved.map(({ one, walk }) => wish(one, walk)), undo: moved.map(({ one }) => wish(one, one.fields.walk ?? null)), number: to + 1 };
}
