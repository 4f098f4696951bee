// @ts-check
/** A bed on some day: what each batch takes of it and where each plant stands; how close plants could stand. Pure. */
import { arrange, bedOf, freeIn, freeOf, runFor, stripOf } from "../kernel/beds.js";
import { along, layouts } from "../kernel/layouts.js";
import { rowAt } from "../kernel/room.js";

/**
 * @typedef {Awaited<ReturnType<import("../store/book.js").Book["room"]>>} Room
 * @typedef {Room["stays"][0]} Stay
 * @typedef {import("../kernel/beds.js").Stretch & {stay: Stay, trained: boolean, spacing: number}} Part a batch's stretch of the bed
 * @typedef {{length: number, width: number, parts: Part[], free: import("../kernel/beds.js").Free[], others: Stay[]}} BedOnDay [mm]. others: what stands
 *   there in pots and trays
 * @typedef {{count: number, cm: number, rowCm: number, pattern: string, turned: boolean, lines: number, spare: number, run: number | null}} Closeness one
 *   way of planting a wanted number. spare: plants left over, below nought gaps; lines: rows; run: what they
 *   take of a bed that has room to spare [mm]
 */

/** A length or width as it is kept, in millimetres. @param {number | null | undefined} cm */
export function mmOf(cm) {
  return Math.round((cm ?? 0) * 10);
}

/** A place's length and width, the longer first; null without a size. [mm] @param {Record<string, any>} fields @returns {{length: number, width: number} | null} */
export function sizeOf({ length_cm, width_cm }) {
  if (!length_cm || !width_cm) return null;
  return { length: mmOf(Math.max(length_cm, width_cm)), width: mmOf(Math.min(length_cm, width_cm)) };
}

/** What is in a place on a day. @param {Room} room @param {string} place @param {string} day @returns {Stay[]} */
export function staysOn(room, place, day) {
  return room.stays.filter((stay) => stay.place === place && stay.from <= day && day < stay.to);
}

/** A bed as it stands on a day; null without a size. @param {Room} room @param {string} place @param {Record<string, any>} fields the place's @param {string} day @returns {BedOnDay | null} */
export function bedOn(room, place, fields, day) {
  const size = sizeOf(fields);
  if (!size) return null;
  const here = staysOn(room, place, day);
  const inGround = gathered(here.filter((stay) => stay.layout)).sort((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : a.batch < b.batch ? -1 : 1));
  const stretches = arrange(size.length, size.width, inGround.map(takerOfStay));
  const parts = stretches.map((stretch, at) => {
    const stay = inGround[at];
    const { trained, spacing } = /** @type {NonNullable<Stay["layout"]>} */ (stay.layout);
    return { ...stretch, stay, trained, spacing: nearest(stretch.plants, spacing) };
  });
  return { ...size, parts, free: freeOf(size.length, size.width, stretches), others: here.filter((stay) => !stay.layout) };
}

/** How far apart the plants of a row stand, as they are drawn. @param {[number, number][]} plants @param {number} planned */
function nearest(plants, planned) {
  const [first, ...others] = plants;
  const next = first && others.find(([, across]) => across === first[1]);
  return next && next[0] - first[0] < planned ? next[0] - first[0] : planned;
}

/** Plants of one batch at several stages in one bed stand together. @param {Stay[]} stays @returns {Stay[]} */
function gathered(stays) {
  /** @type {Map<string, Stay>} */
  const byBatch = new Map();
  for (const stay of stays) {
    const held = byBatch.get(stay.batch);
    const count = held && (held.count === null || stay.count === null ? null : held.count + stay.count);
    byBatch.set(stay.batch, held ? { ...held, count: /** @type {number | null} */ (count) } : stay);
  }
  return [...byBatch.values()];
}

/** @param {Stay} stay @returns {import("../kernel/beds.js").Taker} */
function takerOfStay({ batch, count, layout, told }) {
  const { foot_of: footOf, stems: _stems, ...rest } = /** @type {NonNullable<Stay["layout"]>} */ (layout);
  return { batch, count, footOf, stands: told, ...rest };
}

const MOST_CHOICES = 4;

/**
 * How close a wanted number could stand: for each number of plants that a spacing within the crop's range gives, the way that leaves
 * them the most room; those nearest to what is wanted, the closest first.
 * @param {{length: number, width: number}} size of the stretch there is [mm]
 * @param {any} know the crop's
 * @param {number} want
 * @param {number | null} [end] kept free at its edges [mm]; else half the spacing
 * @returns {Closeness[]}
 */
export function closenesses(size, know, want, end = null) {
  const [least, most, usual] = know.spacing_cm;
  const widest = waysAt(size, know, most, end);
  if (widest.length && widest[0].count >= want) return [...new Set([least, usual, most])].map((cm) => shortest(size, know, { cm, end }, want));
  /** @type {Map<number, Closeness>} */
  const byCount = new Map();
  for (const cm of distances(least, most, usual)) {
    for (const way of waysAt(size, know, cm, end)) {
      byCount.set(way.count, { count: way.count, cm, rowCm: way.row / 10, pattern: way.pattern, turned: way.turned, lines: linesOf(size, way, end), spare: want - way.count, run: null });
    }
  }
  const counts = [...byCount.keys()].sort((a, b) => b - a);
  const enough = counts.filter((count) => count >= want);
  const few = counts.filter((count) => count < want);
  const chosen = new Set([...enough.slice(-2), ...few].slice(0, MOST_CHOICES - 1));
  const usualWay = byUsual(byCount, usual);
  if (usualWay !== null) chosen.add(usualWay);
  return counts.filter((count) => chosen.has(count)).map((count) => /** @type {Closeness} */ (byCount.get(count)));
}

/** A stretch that is planted at a distance, as layouts are asked for. @param {{length: number, width: number}} size [mm] @param {any} know the crop's @param {number} cm @param {number | null} end kept free at its edges [mm]; else half the spacing */
export function plantedAt({ length, width }, know, cm, end) {
  const [spacing, row] = [mmOf(cm), mmOf(rowAt(know, cm))];
  return { bed: bedOf(length, width, { spacing, end }), spacing, row: row === spacing ? null : row };
}

/** Every way of planting a stretch at a distance, the most plants first. @param {{length: number, width: number}} size @param {any} know @param {number} cm @param {number | null} end */
function waysAt(size, know, cm, end) {
  const { bed, spacing, row } = plantedAt(size, know, cm, end);
  return layouts(bed, spacing, row);
}

/** How many rows there are. @param {{length: number, width: number}} size @param {{turned: boolean, row: number, spacing: number}} way @param {number | null} end */
function linesOf({ length, width }, { turned, row, spacing }, end) {
  const bed = bedOf(length, width, { spacing, end });
  return along(turned ? bed.length : bed.width, bed.end, row);
}

/** The way that takes least of a bed where there is room enough. @param {{length: number, width: number}} size @param {any} know @param {{cm: number, end: number | null}} at @param {number} want @returns {Closeness} */
function shortest(size, know, { cm, end }, want) {
  const spacing = mmOf(cm);
  const made = waysAt(size, know, cm, end).map(({ pattern, turned, row }) => {
    const taker = { batch: "", count: want, spacing, row, pattern, turned, rows: null, at: null, run: null, footOf: null, trained: false, stands: false, end, left: null, wide: null };
    const run = runFor(size.width, taker, want, size.length);
    return { count: want, cm, rowCm: row / 10, pattern, turned, lines: linesOf({ length: run, width: size.width }, { turned, row, spacing }, end), spare: 0, run };
  });
  return made.reduce((best, one) => (one.run < best.run ? one : best));
}

/** Whole centimetres from the least to the most, with the usual one among them. @param {number} least @param {number} most @param {number} usual @returns {number[]} */
function distances(least, most, usual) {
  const step = Math.max(1, Math.round((most - least) / 60));
  const found = new Set([least, usual, most]);
  for (let cm = Math.ceil(least); cm <= most; cm += step) found.add(cm);
  return [...found].sort((a, b) => a - b);
}

/** How many stand at the usual distance or the next wider one that is known of. @param {Map<number, Closeness>} byCount @param {number} usual @returns {number | null} */
function byUsual(byCount, usual) {
  const there = [...byCount.values()].filter(({ cm }) => cm >= usual).sort((a, b) => a.cm - b.cm || b.count - a.count);
  return there.length ? there[0].count : null;
}

/** The longest free stretch of a bed for a batch over the days it is to stand there. [mm] @param {Room} room @param {string} place @param {Record<string, any>} fields @param {{from: string, to: string, but?: (string | null | undefined)[], first?: boolean, layout?: Stay["layout"]}} stay but: batches that do not count, and what stands at their foot; first: what comes there later gives way; layout: with the strip it takes @returns {{length: number, width: number} | null} */
export function freeStretch(room, place, fields, { from, to, but = [], first = false, layout = null }) {
  const size = sizeOf(fields);
  if (!size) return null;
  const counts = (/** @type {Stay} */ stay) => stay.layout && !but.includes(stay.batch) && !but.includes(stay.layout.foot_of);
  const there = room.stays.filter((stay) => stay.place === place && counts(stay) && stay.from < (first ? from : to) && from < stay.to);
  const strip = stripOf(size.width, layout || { left: null, wide: null });
  const days = [...new Set([from, ...there.map((stay) => stay.from).filter((day) => day > from)])];
  /** @type {[number, number][]} */
  let free = [[0, size.length]];
  for (const day of days) {
    const on = bedOn({ ...room, stays: there }, place, fields, day);
    free = common(free, on ? freeIn(size.length, strip, on.parts) : []);
  }
  return { length: Math.max(0, ...free.map(([since, until]) => until - since)), width: strip[1] };
}

/** What two lists of stretches have in common. @param {[number, number][]} some @param {[number, number][]} others @returns {[number, number][]} */
function common(some, others) {
  return some.flatMap(([a, b]) => others.map(([c, d]) => /** @type {[number, number]} */ ([Math.max(a, c), Math.min(b, d)])).filter(([since, until]) => until > since));
}
