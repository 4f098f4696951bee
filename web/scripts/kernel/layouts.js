// @ts-check
/**
 * Layouts: how many plants fit a bed, and where each stands: in a square, staggered, or in rows, both ways round. Always counted,
 * never by a factor: on a narrow bed the odd row decides. All lengths in whole millimetres.
 */

/**
 * @typedef {{length: number, width: number, end: number}} Bed a bed and the gap kept free at each of its edges
 * @typedef {{pattern: "square" | "staggered" | "rows", turned: boolean, count: number, spacing: number, row: number, leftOver: number}} Layout
 *   spacing: in the row; row: between rows; turned: rows run across the bed; leftOver: free at the end of the rows beyond the gap kept
 */

/** Rows of a staggered square lie this many millionths of the spacing apart: the height of an equal triangle, sqrt(3)/2. */
const TIGHTEST_PER_MILLION = 866_025;
const MILLION = 1_000_000;
/** A layout that just does not fit is told when so much less between plants would let more in. */
const MISS_MM = 50;

/** Plants on a line with a gap at each end. @param {number} length @param {number} end @param {number} apart @returns {number} */
export function along(length, end, apart) {
  const free = length - 2 * end;
  return free < 0 ? 0 : Math.floor(free / apart) + 1;
}

/** Plants on a line that begins half a step in. @param {number} length @param {number} end @param {number} apart @returns {number} */
export function shifted(length, end, apart) {
  const free = length - 2 * end - Math.ceil(apart / 2);
  return free < 0 ? 0 : Math.floor(free / apart) + 1;
}

/**
 * Every way of planting a bed at a spacing, the most plants first. What holds nothing is left out, and so is what is another way of
 * saying the same: a square turned, one staggered row.
 * @param {Bed} bed
 * @param {number} spacing
 * @param {number | null} [row] between rows; null for as far as in the row
 * @returns {Layout[]}
 */
export function layouts(bed, spacing, row = null) {
  const between = row ?? spacing;
  const close = between === spacing ? closestRows(spacing) : between;
  /** @type {Layout[]} */
  const made = [];
  for (const turned of bed.length === bed.width ? [false] : [false, true]) {
    const [run, across] = turned ? [bed.width, bed.length] : [bed.length, bed.width];
    const leftOver = Math.max(0, run - 2 * bed.end) % spacing;
    const pattern = between === spacing ? "square" : "rows";
    if (!turned || pattern !== "square") made.push({ pattern, turned, count: 0, spacing, row: between, leftOver });
    if (along(across, bed.end, close) > 1) made.push({ pattern: "staggered", turned, count: 0, spacing, row: close, leftOver });
  }
  for (const one of made) one.count = countOf(bed, one);
  const rank = (/** @type {Layout} */ one) => Number(one.pattern === "staggered") * 2 + Number(one.turned);
  return made.filter((one) => one.count > 0).sort((a, b) => b.count - a.count || rank(a) - rank(b));
}

/** How close staggered rows can lie so that no two plants are nearer than the spacing. @param {number} spacing @returns {number} */
export function closestRows(spacing) {
  return Math.ceil((spacing * TIGHTEST_PER_MILLION) / MILLION);
}

/** How many plants a bed holds so. @param {Bed} bed @param {Layout} layout @param {number | null} [lines] rows, where fewer are planted than fit @returns {number} */
export function countOf(bed, layout, lines = null) {
  const [run, across] = layout.turned ? [bed.width, bed.length] : [bed.length, bed.width];
  const rows = lines ?? along(across, bed.end, layout.row);
  const full = along(run, bed.end, layout.spacing);
  if (layout.pattern !== "staggered") return rows * full;
  return Math.ceil(rows / 2) * full + Math.floor(rows / 2) * shifted(run, bed.end, layout.spacing);
}

/** Where each plant stands: along the bed and across it, from one corner. @param {Bed} bed @param {Layout} layout @param {number | null} [lines] rows, where fewer are planted than fit @returns {[number, number][]} */
export function places(bed, layout, lines = null) {
  const [run, across] = layout.turned ? [bed.width, bed.length] : [bed.length, bed.width];
  /** @type {[number, number][]} */
  const found = [];
  const rows = lines ?? along(across, bed.end, layout.row);
  for (let line = 0; line < rows; line += 1) {
    const shift = layout.pattern === "staggered" && line % 2 ? Math.ceil(layout.spacing / 2) : 0;
    const many = shift ? shifted(run, bed.end, layout.spacing) : along(run, bed.end, layout.spacing);
    const y = bed.end + line * layout.row;
    for (let at = 0; at < many; at += 1) {
      const x = bed.end + shift + at * layout.spacing;
      found.push(layout.turned ? [y, x] : [x, y]);
    }
  }
  return found;
}

/**
 * How much less between plants would let how many in; null where five centimetres would not.
 * @param {Bed} bed
 * @param {number} spacing
 * @param {number | null} [row]
 * @returns {[number, number] | null} millimetres, whole centimetres of them, and the count
 */
export function nearestMiss(bed, spacing, row = null) {
  const now = bestCount(bed, spacing, row);
  for (let less = 10; less <= Math.min(MISS_MM, spacing - 10); less += 10) {
    const more = bestCount(bed, spacing - less, row !== null && row > less ? row - less : row);
    if (more > now) return [less, more];
  }
  return null;
}

/** The most plants that any way of planting holds. @param {Bed} bed @param {number} spacing @param {number | null} [row] @returns {number} */
export function bestCount(bed, spacing, row = null) {
  return layouts(bed, spacing, row)[0]?.count ?? 0;
}
