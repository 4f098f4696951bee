// @ts-check
/**
 * Batch states: every batch with the path it walks, before anything was done. A batch's plants lie in cells (how far,
 * where) -> how many. How far is the index of the last moving step of the path that they have been through. A batch
 * nobody counts (no `want`, and a sowing without a number) is kept as one whole.
 */
import { boughtSteps, isBought } from "./bought.js";
import { turnOf, turned } from "./turns.js";
import { inSeason, parse } from "./days.js";

/**
 * @typedef {import("./deeds.js").Deed} Deed
 * @typedef {import("./ground.js").Ground} Ground
 * @typedef {{step: number, where: string, count: number}} Cell
 * @typedef {{place: string, since: number, until: number | null}} Stay
 */

/** The place of plants nobody said a place for. */
export const NOWHERE = "";
const NOTHING_KNOWN = {};

/**
 * @typedef {{steps: any[], moving: number[], before: (number | null)[], seed: boolean[], byId: Map<string, number>,
 *   byVerb: Map<string, number[]>, comesUp: boolean, finalStep: number}} Path The steps a batch walks, and what is worked out once
 *   for all that walk the same. moving: indexes of the steps that move plants; before: the last of these before each step; seed:
 *   whether plants that have come just so far are still seeds that may never come up; finalStep: the last of moving, -1 for none
 */

/** A path from the rulebook's steps. @param {any[]} steps @returns {Path} */
function pathOf(steps) {
  /** @type {Path} */
  const path = { steps, moving: [], before: [], seed: [], byId: new Map(), byVerb: new Map(), comesUp: false, finalStep: -1 };
  steps.forEach((step, index) => {
    path.before.push(path.finalStep < 0 ? null : path.finalStep);
    if (step.stage) {
      path.moving.push(index);
      path.finalStep = index;
    }
    if (!path.byId.has(step.id)) path.byId.set(step.id, index);
    const same = path.byVerb.get(step.verb);
    if (same) same.push(index);
    else path.byVerb.set(step.verb, [index]);
  });
  path.comesUp = path.byVerb.has("emerge");
  path.seed = steps.map((step) => step.verb === "sow" && path.comesUp);
  return path;
}

/** One batch as the diary leaves it. Lists run alongside the steps of its path. */
export class BatchState {
  /**
   * @param {{id: string, fields: any, crop: string | null, varietyName: string, know: any, path: Path, year: number,
   *   want: number | null, final: string | null, cover: string,
   *   climate: string}} given
   */
  constructor(given) {
    this.id = given.id;
    this.fields = given.fields;
    this.crop = given.crop;
    this.varietyName = given.varietyName;
    this.know = given.know;
    this.path = given.path;
    this.year = given.year;
    this.want = given.want;
    this.final = given.final;
    this.cover = given.cover;
    /** What the rulebook's windows and heat are looked up by: the cover, or its house's own climate. */
    this.climate = given.climate;
    this.steps = this.path.steps;
    this.moving = this.path.moving;
    this.finalStep = this.path.finalStep;
    const size = this.steps.length;
    /** @type {Map<string, Cell>} */
    this.cells = new Map();
    /** @type {number[]} */
    this.moved = new Array(size).fill(0);
    /** @type {(number | null)[]} */
    this.first = new Array(size).fill(null);
    /** @type {(number | null)[]} */
    this.last = new Array(size).fill(null);
    /** @type {number[]} */
    this.doneCount = new Array(size).fill(0);
    /** @type {boolean[]} */
    this.tickedWhole = new Array(size).fill(false);
    /** @type {{deed: Deed, step: number | null}[]} */
    this.deeds = [];
    /** @type {Stay[]} */
    this.stays = [];
    this.counted = true;
    this.begun = false;
    this.sown = 0;
    this.lost = 0;
    this.picked = 0;
    this.pickedG = 0;
    /** @type {number | null} */
    this.overOn = null;
    /** @type {number | null} */
    this.frostedOn = null;
    /** @type {Map<number, number>} Steps that nobody told of and that are taken as done, with the day they are taken for. */
    this.believed = new Map();
    /** @type {Set<number>} Steps told in part whose rest is not asked for any more. */
    this.closed = new Set();
    /** @type {Map<string, string>} What was decided, by the step that asked. */
    this.answers = new Map();
    /** @type {number | null} The day somebody looked after a frost: colder days up to it are answered for. */
    this.survived = null;
    /** Whether what stood was lost to frost. */
    this.frostLost = false;
    /** @type {number | null} The pots most were put into last. [L] */
    this.potL = null;
  }

  /** Stems of each plant: as was decided, else as the batch says. @returns {number | null} */
  stems() {
    for (const step of this.steps) {
      for (const answer of step.answers || []) {
        if (this.answers.get(step.id) === answer.id && (answer.stems ?? null) !== null) return answer.stems;
      }
    }
    return this.fields.stems ?? null;
  }

  /** Whether somebody looked, and nothing of what was sown last had come. @returns {boolean} */
  noneUp() {
    if (this.moving.length < 2) return false;
    const look = this.moving[1];
    return this.steps[look].verb === "emerge" && this.first[look] !== null && !this.believed.has(look) && this.counted && this.moved[look] === 0;
  }

  /**
   * The last day of a repeating step, as far as it is known: its own, the end of its span, or, of what is done in the weeks of some
   * year, so long after what it follows.
   * @param {number} index
   * @returns {number | null}
   */
  endsOn(index) {
    const step = this.steps[index];
    /** @type {number[]} */
    const days = [];
    if (step.until) days.push(inSeason(step.until, this.year));
    const first = this.first[index];
    if ((step.span ?? null) !== null && first !== null) days.push(first + step.span);
    for (const link of step.season && (step.every ?? null) !== null ? step.after || [] : []) {
      const on = this.path.byId.get(link.step);
      const since = on === undefined ? null : this.first[on];
      if (since !== null && (link.max ?? null) !== null && (link.heat ?? null) === null) days.push(since + link.max);
    }
    return days.length ? Math.min(...days) : null;
  }

  /** Whether plants that have come just this far are still seeds. @param {number} step */
  isSeed(step) {
    return step >= 0 && this.path.seed[step];
  }

  /**
   * Plants (not seeds) that have come at least so far and not as far as `below`.
   * @param {{below?: number | null, atLeast?: number}} [range]
   * @returns {number}
   */
  live({ below = null, atLeast = -1 } = {}) {
    let total = 0;
    for (const cell of this.cells.values()) {
      if (cell.step >= atLeast && (below === null || cell.step < below) && !this.isSeed(cell.step)) total += cell.count;
    }
    return total;
  }

  /** Seeds sown that have not come up. @returns {number} */
  seeds() {
    let total = 0;
    for (const cell of this.cells.values()) if (this.isSeed(cell.step)) total += cell.count;
    return total;
  }

  /** Places where something of it stands, in order of id. @returns {string[]} */
  places() {
    const found = new Set();
    for (const cell of this.cells.values()) if (cell.count > 0 && cell.where !== NOWHERE) found.add(cell.where);
    return [...found].sort();
  }

  /**
   * Where most of it stands; ties go to the first id.
   * @param {{below?: number | null, atLeast?: number}} [range]
   * @returns {string | null}
   */
  mainPlace({ below = null, atLeast = -1 } = {}) {
    /** @type {Map<string, number>} */
    const byPlace = new Map();
    for (const { step, where, count } of this.cells.values()) {
      if (where !== NOWHERE && count > 0 && step >= atLeast && (below === null || step < below)) {
        byPlace.set(where, (byPlace.get(where) || 0) + count);
      }
    }
    /** @type {string | null} */
    let best = null;
    for (const [where, count] of byPlace) {
      const most = best === null ? -1 : /** @type {number} */ (byPlace.get(best));
      if (best === null || count > most || (count === most && where < best)) best = where;
    }
    return best;
  }

  /** The cells in order of how far and where. @returns {Cell[]} */
  sortedCells() {
    return [...this.cells.values()].sort((a, b) => a.step - b.step || (a.where < b.where ? -1 : a.where > b.where ? 1 : 0));
  }

  /** @param {number} step @param {string} where @param {number} count */
  put(step, where, count) {
    const key = `${step} ${where}`;
    const cell = this.cells.get(key);
    if (cell) cell.count += count;
    else this.cells.set(key, { step, where, count });
  }

  /** @param {Cell} cell @param {number} count */
  leave(cell, count) {
    cell.count -= count;
    if (cell.count === 0) this.cells.delete(`${cell.step} ${cell.where}`);
  }
}

/** Begins batches: from their records, what the rulebook knows of their crops, and where they are to end. */
export class Beginnings {
  /** @type {Map<any, Map<string, Path>>} */
  #paths = new Map();

  /**
   * @param {Map<string, any>} batches fields by id; may change later
   * @param {Map<string, any>} varieties fields by id
   * @param {any} rulebook
   * @param {Ground} ground
   */
  constructor(batches, varieties, rulebook, ground) {
    this.batches = batches;
    this.varieties = varieties;
    this.rulebook = rulebook;
    this.ground = ground;
  }

  /** A batch before anything was done. @param {string} id @returns {BatchState} */
  begin(id) {
    const fields = this.batches.get(id);
    const named = fields.variety || "";
    const variety = this.varieties.get(named) || {};
    const crop = variety.crop ?? null;
    const know = (this.rulebook.varieties || {})[named] || this.rulebook.crops[crop || ""] || NOTHING_KNOWN;
    const final = finalPlace(fields, this.batches, this.ground);
    const cover = this.ground.cover(final);
    const climate = this.ground.climate(final);
    return new BatchState({
      id,
      fields,
      crop,
      varietyName: fields.name || variety.name || know.many || id,
      know,
      path: this.#path(know, fields, cover, turnOf(know, fields, climate, cover)),
      year: fields.year ?? -1,
      want: fields.want ?? null,
      final,
      cover,
      climate,
    });
  }

  /** @param {any} know @param {any} fields @param {string} cover @param {number} turn @returns {Path} */
  #path(know, fields, cover, turn) {
    const potL = fields.pot_l ?? null;
    const bought = isBought(fields);
    let paths = this.#paths.get(know);
    if (paths === undefined) this.#paths.set(know, (paths = new Map()));
    const key = `${cover} ${potL} ${turn} ${bought}`;
    let path = paths.get(key);
    if (path === undefined) {
      const steps = (know.steps || []).filter((/** @type {any} */ step) => applies(step, cover, potL));
      const days = steps.map((/** @type {any} */ step) => turned(step, know, turn, cover));
      path = pathOf(bought && days.length ? boughtSteps(days) : days);
      paths.set(key, path);
    }
    return path;
  }
}

/** @param {any} fields @param {Map<string, any>} raw @param {Ground} ground @returns {string | null} */
function finalPlace(fields, raw, ground) {
  let place = fields.for_place ?? null;
  if (place === null && raw.has(fields.near)) place = raw.get(fields.near).for_place ?? null;
  return ground.path(place).length ? place : null;
}

/** @param {any} step @param {string} cover @param {number | null} potL @returns {boolean} */
function applies(step, cover, potL) {
  const covers = step.covers ?? null;
  if (covers !== null && !covers.includes(cover)) return false;
  const tooBig = potL !== null && (step.pot_l ?? null) !== null && step.pot_l >= potL;
  return !(tooBig && step.verb === "pot_up");
}

/** The household's own day for the first step. @param {BatchState} state @returns {number | null} */
export function sowOn(state) {
  return state.fields.sow_on ? parse(state.fields.sow_on) : null;
}
