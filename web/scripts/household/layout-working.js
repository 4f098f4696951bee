// @ts-check
/** Layouts of a house: where its beds lie, moved with snap, and what one is worth: plants, light, walking. Pure; centimetres. */
import { bedOn } from "./bed-working.js";

/**
 * @typedef {import("./spots.js").Spot} Spot
 * @typedef {{length: number, width: number}} Size of the house
 * @typedef {import("./bed-working.js").Room} Room
 */

/** Edges this near to another edge or a wall come to lie on it. */
const SNAP = 15;
/** Else places lie on a grid as fine as this. */
const GRID = 5;
/** Less than this between two beds is no path. Source: common practice, a barrow needs 60 cm and a person 40. */
export const LEAST_PATH = 40;
/** Rows within so much of north and south share the light evenly. [degrees] Source: common practice for tall rows. */
const NEAR_NORTH = 45;

/**
 * A spot moved so far, on the nearest edge or the grid, and inside its house.
 * @param {Spot} spot
 * @param {{dx: number, dy: number}} by
 * @param {Spot[]} others
 * @param {Size} house
 * @param {boolean} [snaps] whether to edges too; a key moves by what it says
 * @returns {Spot}
 */
export function moved(spot, { dx, dy }, others, house, snaps = true) {
  const along = snaps ? onEdge(spot.x + dx, spot.long, others.flatMap((one) => [one.x, one.x + one.long]), house.length) : spot.x + dx;
  const across = snaps ? onEdge(spot.y + dy, spot.wide, others.flatMap((one) => [one.y, one.y + one.wide]), house.width) : spot.y + dy;
  return { ...spot, x: within(along, spot.long, house.length), y: within(across, spot.wide, house.width) };
}

/** @param {number} at @param {number} long @param {number} most */
function within(at, long, most) {
  return Math.max(0, Math.min(Math.max(0, most - long), at));
}

/** @param {number} at @param {number} long @param {number[]} edges @param {number} most @returns {number} */
function onEdge(at, long, edges, most) {
  const targets = [0, most - long, ...edges, ...edges.map((edge) => edge - long)];
  const nearest = targets.reduce((best, one) => (Math.abs(one - at) < Math.abs(best - at) ? one : best));
  return Math.abs(nearest - at) <= SNAP ? nearest : Math.round(at / GRID) * GRID;
}

/** Pairs that lie over one another. @param {Map<string, Spot>} spots @returns {[string, string][]} */
export function overlapping(spots) {
  return pairs(spots).filter(([, a, , b]) => a.x < b.x + b.long && b.x < a.x + a.long && a.y < b.y + b.wide && b.y < a.y + a.wide).map(([one, , other]) => [one, other]);
}

/** What does not lie wholly in its house. @param {Map<string, Spot>} spots @param {Size} house @returns {string[]} */
export function outside(spots, house) {
  return [...spots].filter(([, { x, y, long, wide }]) => x < 0 || y < 0 || x + long > house.length || y + wide > house.width).map(([id]) => id);
}

/** @param {Map<string, Spot>} spots @returns {[string, Spot, string, Spot][]} */
function pairs(spots) {
  const all = [...spots];
  return all.flatMap(([one, a], at) => all.slice(at + 1).map(([other, b]) => /** @type {[string, Spot, string, Spot]} */ ([one, a, other, b])));
}

/** The way of a round: from the door in the middle of the near end to the nearest point of each place and back, the nearest next. [cm] @param {Map<string, Spot>} spots @param {Size} house @returns {number} */
export function walkOf(spots, house) {
  const left = [...spots.values()];
  const door = { x: 0, y: house.width / 2 };
  let at = door;
  let way = 0;
  while (left.length) {
    const next = left.map((spot) => ({ spot, to: nearestPoint(spot, at) })).reduce((best, one) => (distance(at, one.to) < distance(at, best.to) ? one : best));
    way += distance(at, next.to);
    at = next.to;
    left.splice(left.indexOf(next.spot), 1);
  }
  return Math.round(way + distance(at, door));
}

/** @param {Spot} spot @param {{x: number, y: number}} from */
function nearestPoint({ x, y, long, wide }, from) {
  return { x: Math.max(x, Math.min(x + long, from.x)), y: Math.max(y, Math.min(y + wide, from.y)) };
}

/** @param {{x: number, y: number}} a @param {{x: number, y: number}} b */
function distance(a, b) {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

/** The narrowest way between two places that lie side by side; null where none do. What touches has no way between and is one. [cm] @param {Map<string, Spot>} spots @returns {number | null} */
export function narrowest(spots) {
  const gaps = pairs(spots).flatMap(([, a, , b]) => {
    const [alongside, behind] = [a.x < b.x + b.long && b.x < a.x + a.long, a.y < b.y + b.wide && b.y < a.y + a.wide];
    const gap = alongside && !behind ? Math.max(a.y - b.y - b.wide, b.y - a.y - a.wide) : behind && !alongside ? Math.max(a.x - b.x - b.long, b.x - a.x - a.long) : 0;
    return gap > 0 ? [gap] : [];
  });
  return gaps.length ? Math.min(...gaps) : null;
}

/** How much of the ground has rows that run north and south, by which way the house lies. [of 100] Null where that is not said. @param {Map<string, Spot>} spots @param {number | null} bearing of the way in from the door, degrees from north @returns {number | null} */
export function lightOf(spots, bearing) {
  if (bearing === null) return null;
  let [even, all] = [0, 0];
  for (const { long, wide } of spots.values()) {
    const rows = (bearing + (long >= wide ? 0 : 90)) % 180;
    const off = Math.min(rows, 180 - rows);
    all += long * wide;
    if (off <= NEAR_NORTH) even += long * wide;
  }
  return all ? Math.round((100 * even) / all) : null;
}

/** How many plants of what stands and is planned find room, and how many do not, with places of these sizes. @param {Room} room @param {Map<string, Spot>} spots @param {string[]} days on which is looked @returns {{fit: number, without: number}} */
export function plantsOf(room, spots, days) {
  /** @type {Map<string, {fit: number, without: number}>} */
  const most = new Map();
  for (const [id, { long, wide }] of spots) {
    for (const day of days) {
      for (const part of bedOn(room, id, { length_cm: long, width_cm: wide }, day)?.parts || []) {
        const found = { fit: part.plants.length, without: part.without };
        const held = most.get(part.batch);
        if (!held || found.without > held.without) most.set(part.batch, found);
      }
    }
  }
  return [...most.values()].reduce((sum, one) => ({ fit: sum.fit + one.fit, without: sum.without + one.without }), { fit: 0, without: 0 });
}
