// @ts-check
/** Vessels: the pots and trays that plants are raised in, the household's own before those that are sold, and the room they take. */
import { visible } from "../read/merge.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("../../types.js").RecordForm} RecordForm
 * @typedef {{sort: string, length: number, width: number, ml: number, cells: number}} Vessel a pot or a tray [mm, ml]. ml: what fills it,
 *   of modules each one; cells: modules to a tray
 * @typedef {{vessel: Vessel, many: number, cm2: number}} Filled so many of one vessel, and the room they take side by side [whole cm²]
 */

const [POT, TRAY, CELLS] = ["pot", "tray", "cells"];

/** Every vessel there is to choose from. */
export class Vessels {
  /** @param {Vessel[]} pots by litres, the smallest first @param {Vessel[]} trays of modules, the fewest first @param {Vessel | null} seedTray @param {number[]} seeds to a pot, to half a tray, to a full one; millilitres of that pot */
  constructor(pots, trays, seedTray, seeds) {
    this.pots = pots;
    this.trays = trays;
    this.seedTray = seedTray;
    this.seeds = seeds;
  }

  /** The smallest pot that holds so much; of more than any holds the largest. @param {number} ml @returns {Vessel | null} */
  pot(ml) {
    return this.pots.find((pot) => pot.ml >= ml) ?? this.pots[this.pots.length - 1] ?? null;
  }

  /** What so many plants stand in that have come so far; one tray where nobody counts. Null where no vessel is known. @param {BatchState} state @param {number} step @param {number | null} count @param {number | null} potMl @returns {Filled | null} */
  of(state, step, count, potMl) {
    if (potMl !== null) {
      const pot = this.pot(potMl);
      return pot && filled(pot, potsFor(state, step, count));
    }
    const pricked = state.path.byVerb.get("prick_out") || [];
    if (pricked.length && step < pricked[0]) return this.#ofSeed(count);
    const wanted = potsFor(state, step, count);
    const tray = this.trays.find((one) => one.cells >= wanted) ?? this.trays[this.trays.length - 1];
    return tray ? filled(tray, Math.ceil(wanted / tray.cells)) : null;
  }

  /** Seed that is pricked out later stands thick: in a pot, half a tray, or full ones. @param {number | null} count @returns {Filled | null} */
  #ofSeed(count) {
    if (this.seedTray === null) return null;
    const [pot, half, full, potMl] = this.seeds;
    const small = this.pot(potMl);
    if (count !== null && count <= pot && small) return filled(small, 1);
    const { length, width, ml } = this.seedTray;
    if (count !== null && count <= half) return filled({ sort: TRAY, length: Math.floor(length / 2), width, ml: Math.floor(ml / 2), cells: 1 }, 1);
    return filled(this.seedTray, count === null ? 1 : Math.max(1, Math.ceil(count / full)));
  }
}

/** @param {Vessel} vessel @param {number} many @returns {Filled} */
function filled(vessel, many) {
  return { vessel, many, cm2: Math.ceil((many * vessel.length * vessel.width) / 100) };
}

/** Pots or modules for so many plants; several share one where the crop's path has it so. @param {BatchState} state @param {number} step @param {number | null} count @returns {number} */
export function potsFor(state, step, count) {
  if (count === null) return 1;
  for (let index = Math.min(step, state.steps.length - 1); index >= 0; index -= 1) {
    const each = (state.steps[index].needs || []).find((/** @type {any} */ need) => need.per);
    if (each) return Math.ceil(count / each.per);
  }
  return count;
}

/** What is sold, with the household's own in its place: a pot of the same litres, and modules of their own number alone. @param {any} rulebook @param {RecordForm[]} records @returns {Vessels} */
export function vesselsOf(rulebook, records) {
  const sold = rulebook.vessels || {};
  /** @type {Map<number, Vessel>} */
  const pots = new Map((sold.pots || []).map((/** @type {number[]} */ [ml, wide]) => [ml, { sort: POT, length: wide, width: wide, ml, cells: 1 }]));
  const [length, width, full] = sold.tray || [0, 0, 0];
  const own = records.filter((record) => record.kind === "vessel" && visible(record)).sort((a, b) => (a.id < b.id ? -1 : 1));
  /** @type {Map<number, Vessel>} */
  let cells = new Map();
  /** @type {Vessel | null} */
  let seedTray = length ? { sort: TRAY, length, width, ml: full, cells: 1 } : null;
  for (const { fields } of own) {
    const made = ownVessel(fields, length, width);
    if (made?.sort === POT) pots.set(made.ml, made);
    else if (made?.sort === CELLS) cells.set(made.cells, made);
    else if (made) seedTray = made;
  }
  if (!cells.size && length) cells = new Map((sold.cells || []).map((/** @type {number[]} */ [many, each]) => [many, { sort: CELLS, length, width, ml: each, cells: many }]));
  const sorted = (/** @type {Map<number, Vessel>} */ map) => [...map].sort((a, b) => a[0] - b[0]).map(([, vessel]) => vessel);
  return new Vessels(sorted(pots), sorted(cells), seedTray, sold.seeds || [0, 0, 1, 0]);
}

/** A vessel of the household's own; null where too little is said to be of use. @param {Record<string, any>} fields @param {number} length @param {number} width @returns {Vessel | null} */
function ownVessel(fields, length, width) {
  const long = mmOf(fields.length_cm) || length;
  const wide = mmOf(fields.width_cm) || (fields.sort === POT ? long : width);
  const ml = Math.floor((fields.litres || 0) * 1000 + 0.5);
  if (fields.sort === POT && ml && (fields.length_cm ?? null) !== null) return { sort: POT, length: long, width: wide, ml, cells: 1 };
  if (fields.sort === CELLS && fields.cells && long && wide) return { sort: CELLS, length: long, width: wide, ml: Math.floor(ml / fields.cells), cells: fields.cells };
  return fields.sort === TRAY && long && wide ? { sort: TRAY, length: long, width: wide, ml, cells: 1 } : null;
}

/** Whole millimetres of centimetres. @param {number | null | undefined} cm @returns {number | null} */
export function mmOf(cm) {
  return (cm ?? null) === null ? null : Math.floor(/** @type {number} */ (cm) * 10 + 0.5);
}
