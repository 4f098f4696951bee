// @ts-check
/** Pots and trays on a bench, a shelf or in a propagator, side by side in rows: where each stands. Pure; lengths in millimetres. */

/**
 * @typedef {{batch: string, sort: string, length: number, width: number, cells: number, many: number}} Lot so many of one vessel
 * @typedef {{x: number, y: number, long: number, wide: number, lot: number}} Stood lot: which of the lots it is of
 */

const MOST = 600;

/**
 * Row by row from the door end, lot after lot, the deepest first; a vessel is turned where only so it fits.
 * @param {number} length
 * @param {number} width
 * @param {Lot[]} lots
 * @returns {{stood: Stood[], without: number[]}} without: how many of each lot find no room
 */
export function standSideBySide(length, width, lots) {
  /** @type {Stood[]} */
  const stood = [];
  const without = lots.map(() => 0);
  const order = lots.map((_, at) => at).sort((a, b) => Math.min(lots[b].length, lots[b].width) - Math.min(lots[a].length, lots[a].width) || a - b);
  let [x, y, deep] = [0, 0, 0];
  for (const at of order) {
    const lot = lots[at];
    const [wide, long] = [lot.length, lot.width].sort((a, b) => (a <= width && b > width ? -1 : b - a)); // across the bench, and along it
    for (let many = 0; many < lot.many; many += 1) {
      if (y + wide > width) [x, y, deep] = [x + deep, 0, 0];
      if (wide > width || x + long > length || stood.length >= MOST) {
        without[at] = lot.many - many;
        break;
      }
      stood.push({ x, y, long, wide, lot: at });
      y += wide;
      deep = Math.max(deep, long);
    }
  }
  return { stood, without };
}
