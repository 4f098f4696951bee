// @ts-check
/** Where the places of a house lie in it: as somebody laid them out, the others in rows. Pure; centimetres. */
import { inside } from "./names.js";

/** @typedef {{x: number, y: number, long: number, wide: number}} Spot of a place in its house, from the door end's left corner */

/** Left free between places nobody laid out, and round them. Source: common practice, a person needs so much. */
export const GAP_CM = 40;

/** The places of a house that have a size, in walking order. @param {any} book @param {string} house @returns {Map<string, Spot>} */
export function spotsOf(book, house) {
  return spotsIn(inside(book, house));
}

/** @param {{id: string, fields: Record<string, any>}[]} places @returns {Map<string, Spot>} */
export function spotsIn(places) {
  const sized = places.filter(({ fields }) => fields.length_cm && fields.width_cm).map(({ id, fields: { length_cm: long, width_cm: wide, x_cm: x = null, y_cm: y } }) => ({ id, long, wide, x, y: y ?? 0 }));
  const rows = inRows(sized.filter(({ x }) => x === null));
  return new Map(sized.map(({ id, long, wide, x, y }) => [id, { ...(rows.get(id) || { x, y }), long, wide }]));
}

/** Two side by side along the house, row under row. @param {{id: string, long: number, wide: number}[]} places @returns {Map<string, {x: number, y: number}>} */
function inRows(places) {
  /** @type {Map<string, {x: number, y: number}>} */
  const at = new Map();
  let y = GAP_CM;
  for (let first = 0; first < places.length; first += 2) {
    let x = GAP_CM;
    const row = places.slice(first, first + 2);
    for (const { id, long } of row) {
      at.set(id, { x, y });
      x += long + GAP_CM;
    }
    y += Math.max(...row.map(({ wide }) => wide)) + GAP_CM;
  }
  return at;
}

/** The house's own size, or as far as what lies in it goes. @param {Record<string, any>} house its fields @param {Iterable<Spot>} spots @returns {{length: number, width: number}} */
export function reachOf(house, spots) {
  const all = [...spots];
  const far = (/** @type {number[]} */ ends) => Math.max(0, ...ends) + GAP_CM;
  return { length: house.length_cm || far(all.map(({ x, long }) => x + long)), width: house.width_cm || far(all.map(({ y, wide }) => y + wide)) };
}
