// @ts-check
/**
 * Beds: which stretch of a bed each batch takes, and where each of its plants stands. All lengths in whole millimetres.
 *
 * A bed is measured from its door end. Who says where it begins stands there; the others follow each other from that end, each in
 * the first stretch that is long enough. A batch takes the whole width or, where that was said, a strip along the bed beside which
 * others stand. Half the spacing is kept free at both ends of a stretch, so that plants of two kinds stand at least half of the
 * sum of their spacings apart.
 */
import { along, closestRows, countOf, places, shifted } from "./layouts.js";

/** What is trained up a string or cane takes so much room at its foot. Source: our own rule, a hand's breadth all round its stem. */
const FOOT_MM = 200;
/** No plants are drawn closer than this. */
const CLOSEST_MM = 20;
/** Places between other plants are looked for on a grid as fine as this. */
const FOOT_STEP_MM = 50;

/**
 * @typedef {import("./layouts.js").Layout} Layout
 * @typedef {import("./layouts.js").Bed} Bed
 * @typedef {{batch: string, count: number | null, spacing: number, row: number, pattern: string, turned: boolean, rows: number | null,
 *   at: number | null, run: number | null, footOf: string | null, trained: boolean, stands: boolean, end: number | null, left: number | null, wide: number | null}} Taker a batch that takes part of a bed. count: null
 *   where nobody counts: drills, which share what the others leave; pattern: empty for a square or rows, as the spacings say; turned: rows
 *   run across the bed; rows: at most so many along it; at, run: where its stretch begins and how long it is, if that was said;
 *   footOf: the batch at whose foot it stands; trained: upwards, so that others can stand at its foot; stands: it is
 *   there already, however close that is; end: kept free at each of its edges, null for half its spacing; left, wide: how far from the
 *   left edge its strip begins and how wide that is, null for as far as the edges
 * @typedef {[number, number]} Strip a part of a bed's width: how far from the left edge it begins, and how wide it is
 * @typedef {[number, number, number, number]} Free from where to where along the bed, in which strip
 * @typedef {{batch: string, at: number, run: number, left: number, wide: number, plants: [number, number][], gaps: [number, number][], drills: number[],
 *   without: number, row: number}} Stretch what a batch takes, and each plant's place along the bed and across it. gaps: places that
 *   stay empty; drills: distances from the long edge of the rows of what nobody counts; without: plants that found no room; row: between
 *   its rows, as they are spread
 */

/** The stretches of a bed, in the order given: first who says where, then those that are counted, drills, and who stands at a foot. @param {number} length @param {number} width @param {Taker[]} given @returns {Stretch[]} */
export function arrange(length, width, given) {
  const names = new Set(given.map((one) => one.batch));
  const ground = given.filter((one) => !one.footOf || !names.has(one.footOf) || one.footOf === one.batch);
  /** @type {Map<string, Stretch>} */
  const made = new Map();
  const rank = (/** @type {Taker} */ one) => Number(one.at === null) * 2 + Number(one.count === null && one.run === null);
  for (const one of [...ground].sort((a, b) => rank(a) - rank(b))) {
    if (rank(one) < 3) made.set(one.batch, take(length, width, one, made.values()));
  }
  const drills = ground.filter((one) => !made.has(one.batch));
  drills.forEach((one, at) => {
    const sharers = drills.slice(at).filter((other) => meet(stripOf(width, one), stripOf(width, other))).length;
    made.set(one.batch, takeRest(length, width, one, made.values(), sharers));
  });
  for (const one of given) if (!made.has(one.batch)) made.set(one.batch, atFoot(one, given, made));
  return given.map((one) => /** @type {Stretch} */ (made.get(one.batch)));
}

/** The part of the width it takes: all of it, if nothing was said. @param {number} width @param {{left: number | null, wide: number | null}} taker @returns {Strip} */
export function stripOf(width, taker) {
  const left = Math.min(taker.left ?? 0, Math.max(0, width - 1));
  return [left, taker.wide === null ? width - left : Math.min(Math.max(1, taker.wide), width - left)];
}

/** @param {Strip} one @param {Strip} other */
function meet(one, other) {
  return one[0] < other[0] + other[1] && other[0] < one[0] + one[1];
}

/** What no stretch takes. Strips side by side that are free in the same stretches are told as one. @param {number} length @param {number} width @param {Iterable<Stretch>} stretches @returns {Free[]} */
export function freeOf(length, width, stretches) {
  const given = [...stretches];
  const edges = [...new Set([0, width, ...given.flatMap((one) => [one.left, one.left + one.wide])])].sort((a, b) => a - b);
  /** @type {{left: number, right: number, free: [number, number][]}[]} */
  const bands = [];
  for (const [at, right] of edges.slice(1).entries()) {
    const free = freeIn(length, [edges[at], right - edges[at]], given);
    const beside = bands[bands.length - 1];
    if (beside && String(beside.free) === String(free)) beside.right = right;
    else bands.push({ left: edges[at], right, free });
  }
  return bands.flatMap(({ left, right, free }) => free.map(([since, until]) => /** @type {Free} */ ([since, until, left, right - left])));
}

/** What no stretch takes over the whole width of a strip: from where to where along the bed, in order. @param {number} length @param {Strip} strip @param {Iterable<Stretch>} stretches @returns {[number, number][]} */
export function freeIn(length, strip, stretches) {
  /** @type {[number, number][]} */
  const free = [];
  let at = 0;
  for (const one of [...stretches].filter((one) => meet(strip, [one.left, one.wide])).sort((a, b) => a.at - b.at || a.run - b.run)) {
    if (one.at > at) free.push([at, one.at]);
    at = Math.max(at, one.at + one.run);
  }
  if (at < length) free.push([at, length]);
  return free;
}

/** The shortest stretch that holds so many plants; the whole of the longest one where none does. @param {number} width @param {Taker} taker @param {number} count @param {number} longest @returns {number} */
export function runFor(width, taker, count, longest) {
  let [low, high] = [0, longest];
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle, width, taker) >= count) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** How it is planted. Who says how many rows has them, closer than usual where the width asks for it. @param {number} width @param {Taker} taker @returns {Layout} */
function layoutOf(width, taker) {
  const usual = taker.pattern === "staggered" && taker.row === taker.spacing ? closestRows(taker.spacing) : taker.row;
  const close = taker.rows !== null && !taker.turned ? Math.max(1, Math.min(usual, Math.floor(wideOf(width, taker) / taker.rows))) : usual;
  const pattern = /** @type {Layout["pattern"]} */ (taker.pattern || (taker.row === taker.spacing ? "square" : "rows"));
  return { pattern, turned: taker.turned, count: 0, spacing: taker.spacing, row: close, leftOver: 0 };
}

/** Its stretch as a bed of its own. A bed narrower than the plants need holds one row, which leans over its edges. @param {number} run @param {number} width @param {Pick<Taker, "spacing" | "end">} taker @returns {Bed} */
export function bedOf(run, width, taker) {
  return { length: run, width: wideOf(width, taker), end: endOf(taker) };
}

/** @param {Pick<Taker, "spacing" | "end">} taker @returns {number} */
function endOf(taker) {
  return taker.end ?? Math.floor(taker.spacing / 2);
}

/** The width it is planted in: at least that of one row with what is kept free beside it. @param {number} width @param {Pick<Taker, "spacing" | "end">} taker @returns {number} */
function wideOf(width, taker) {
  return Math.max(width, 2 * endOf(taker));
}

/** Rows along the bed. @param {number} width @param {Taker} taker @returns {number} */
function linesOf(width, taker) {
  const lines = along(wideOf(width, taker), endOf(taker), layoutOf(width, taker).row);
  return taker.rows === null ? lines : Math.min(lines, taker.rows);
}

/** @param {number} run @param {number} width @param {Taker} taker @returns {number} */
function holds(run, width, taker) {
  return countOf(bedOf(run, width, taker), layoutOf(width, taker), taker.turned ? null : linesOf(width, taker));
}

/** The longest of some stretches, the first of several. @param {[number, number][]} free @returns {[number, number]} */
function longestOf(free) {
  return free.reduce((best, one) => (one[1] - one[0] > best[1] - best[0] ? one : best), free[0] || [0, 0]);
}

/** A stretch where it is said to begin, else the first free one that is long enough, else the longest. @param {number} length @param {number} width @param {Taker} taker @param {Iterable<Stretch>} taken @returns {Stretch} */
function take(length, width, taker, taken) {
  const strip = stripOf(width, taker);
  const wanted = taker.run ?? runFor(strip[1], taker, taker.count ?? 0, length);
  if (taker.at !== null) {
    const at = Math.min(taker.at, Math.max(0, length - 1));
    return fill([at, Math.max(0, Math.min(wanted, length - at))], strip, taker);
  }
  const free = freeIn(length, strip, taken);
  const fits = free.find(([since, until]) => until - since >= wanted);
  if (fits) return fill([fits[0], wanted], strip, closer(taker, wanted, strip[1]));
  const [since, until] = longestOf(free);
  return fill([since, until - since], strip, closer(taker, until - since, strip[1]));
}

/** What stands there already stands closer than the calendar has it: its rows first, then all of it. @param {Taker} taker @param {number} run @param {number} width @returns {Taker} */
function closer(taker, run, width) {
  if (!taker.stands || taker.count === null || run <= 0 || holds(run, width, taker) >= taker.count) return taker;
  const row = Math.min(taker.row, taker.spacing);
  for (let spacing = taker.spacing; spacing >= CLOSEST_MM; spacing -= Math.max(1, Math.floor(taker.spacing / 20))) {
    const tried = { ...taker, spacing, row: Math.min(row, spacing), rows: null };
    if (holds(run, width, tried) >= taker.count) return tried;
  }
  return taker;
}

/** A share of the longest free stretch for what nobody counts. @param {number} length @param {number} width @param {Taker} taker @param {Iterable<Stretch>} taken @param {number} sharedBy @returns {Stretch} */
function takeRest(length, width, taker, taken, sharedBy) {
  const strip = stripOf(width, taker);
  const [since, until] = longestOf(freeIn(length, strip, taken));
  return fill([since, Math.floor((until - since) / sharedBy)], strip, taker);
}

/** Put its plants into a stretch, row for row from the door end. @param {[number, number]} stretch where it begins and how long it is @param {Strip} strip @param {Taker} taker @returns {Stretch} */
function fill([at, run], [left, width], taker) {
  const layout = layoutOf(width, taker);
  const bed = bedOf(run, width, taker);
  const lines = taker.turned ? null : linesOf(width, taker);
  const { across: within, row } = spread(width, bed, layout, lines);
  const across = (/** @type {number} */ y) => left + within(y);
  /** @type {Stretch} */
  const stretch = { batch: taker.batch, at, run, left, wide: width, plants: [], gaps: [], drills: [], without: 0, row };
  if (taker.count === null) {
    stretch.drills = Array.from({ length: lines ?? 1 }, (_, line) => across(bed.end + line * layout.row)).sort((a, b) => a - b);
    return stretch;
  }
  const spots = places(bed, layout, lines).map(([x, y]) => /** @type {[number, number]} */ ([at + x, across(y)])).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  stretch.plants = spots.slice(0, taker.count);
  stretch.gaps = spots.slice(taker.count);
  stretch.without = Math.max(0, taker.count - spots.length);
  return stretch;
}

/** Where across a strip what the layout puts at some distance from its edge stands: evenly spread, or in the middle. @param {number} width @param {Bed} bed @param {Layout} layout @param {number | null} lines @returns {{across: (y: number) => number, row: number}} */
function spread(width, bed, layout, lines) {
  const staggered = layout.pattern === "staggered";
  const held = layout.turned ? along(bed.width, bed.end, layout.spacing) : lines || 0;
  const apart = layout.turned ? layout.spacing : layout.row;
  const between = layout.turned && staggered ? shifted(bed.width, bed.end, layout.spacing) : 0;
  const used = Math.max(Math.max(0, held - 1) * apart, between ? Math.ceil(layout.spacing / 2) + (between - 1) * layout.spacing : 0);
  const even = held ? Math.floor(width / held) : width;
  if (!layout.turned && !staggered && even > layout.row) {
    return { row: even, across: (y) => Math.floor(even / 2) + Math.floor((y - bed.end) / layout.row) * even };
  }
  const shift = Math.floor((width - used) / 2) - bed.end;
  return { row: layout.row, across: (y) => y + shift };
}

/** Between the plants of another batch: each as far from both kinds as half the sum of what they take there. @param {Taker} taker @param {Taker[]} given @param {Map<string, Stretch>} made @returns {Stretch} */
function atFoot(taker, given, made) {
  const host = given.find((one) => one.batch === taker.footOf);
  const there = made.get(taker.footOf || "");
  if (!host || !there || !there.run) return { batch: taker.batch, at: 0, run: 0, left: 0, wide: 0, plants: [], gaps: [], drills: [], without: taker.count ?? 0, row: 0 };
  const apart = Math.floor((host.trained ? Math.min(host.spacing, FOOT_MM) : host.spacing) / 2) + Math.floor(taker.spacing / 2);
  const { left, wide } = there;
  const ends = Math.floor(taker.spacing / 2);
  const edge = Math.min(ends, Math.floor(wide / 2));
  /** @type {[number, number][]} */
  const found = [];
  for (let x = there.at + ends; x <= there.at + there.run - ends; x += FOOT_STEP_MM) {
    for (let y = left + edge; y <= left + wide - edge; y += FOOT_STEP_MM) {
      if (there.drills.every((drill) => Math.abs(y - drill) >= apart) && clear(x, y, there.plants, apart) && clear(x, y, found, taker.spacing)) found.push([x, y]);
    }
  }
  const wanted = Math.min(taker.count ?? found.length, found.length);
  const plants = Array.from({ length: wanted }, (_, at) => found[Math.floor((at * found.length) / wanted)]); // spread over all there is
  return { batch: taker.batch, at: there.at, run: there.run, left, wide, plants, gaps: [], drills: [], without: taker.count === null ? 0 : taker.count - wanted, row: taker.row };
}

/** @param {number} x @param {number} y @param {[number, number][]} others @param {number} apart @returns {boolean} */
function clear(x, y, others, apart) {
  return others.every(([a, b]) => (x - a) ** 2 + (y - b) ** 2 >= apart ** 2);
}
