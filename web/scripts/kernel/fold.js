// @ts-check
/**
 * Fold: the diary laid over the batches, giving what stands where and how far along its path it has come.
 *
 * A batch's plants lie in cells (how far, where) -> how many. How far is the index of the last moving step of the path
 * that they have been through. A batch nobody counts is kept as one whole.
 */
import { parse, yearOf } from "./days.js";
import { WATER_LINES } from "./ground.js";

/**
 * @typedef {import("./deeds.js").Deed} Deed
 * @typedef {import("./ground.js").Ground} Ground
 * @typedef {{step: number, where: string, count: number}} Cell
 * @typedef {{place: string, since: number, until: number | null}} Stay
 */

/** The place of plants nobody said a place for. */
export const NOWHERE = "";

/** One batch as the diary leaves it. Lists run alongside the steps of its path. */
export class BatchState {
  /**
   * @param {{id: string, fields: any, crop: string | null, varietyName: string, know: any, steps: any[], year: number,
   *   want: number | null, final: string | null, cover: string}} given
   */
  constructor(given) {
    this.id = given.id;
    this.fields = given.fields;
    this.crop = given.crop;
    this.varietyName = given.varietyName;
    this.know = given.know;
    this.steps = given.steps;
    this.year = given.year;
    this.want = given.want;
    this.final = given.final;
    this.cover = given.cover;
    const size = given.steps.length;
    const comesUp = given.steps.some((step) => step.verb === "emerge");
    /** @type {number[]} */
    this.moving = [];
    /** @type {boolean[]} Whether plants that have come just so far are still seeds that may never come up. */
    this.seed = [];
    given.steps.forEach((step, index) => {
      if (step.stage) this.moving.push(index);
      this.seed.push(step.verb === "sow" && comesUp);
    });
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
  }

  /** Index of the last moving step; -1 for a path without one. */
  get finalStep() {
    return this.moving.length ? this.moving[this.moving.length - 1] : -1;
  }

  /** Whether plants that have come just this far are still seeds. @param {number} step */
  isSeed(step) {
    return step >= 0 && this.seed[step];
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

/**
 * Every batch before anything was done, in order of id.
 * @param {Record<string, any[]>} records
 * @param {any} rulebook
 * @param {Ground} ground
 * @returns {Map<string, BatchState>}
 */
export function beginBatches(records, rulebook, ground) {
  /** @type {Map<string, any>} */
  const varieties = new Map((records.variety || []).map((record) => [record.id, record.fields]));
  /** @type {Map<string, any>} */
  const raw = new Map((records.batch || []).map((record) => [record.id, record.fields]));
  /** @type {Map<string, BatchState>} */
  const states = new Map();
  for (const [id, fields] of raw) {
    const variety = varieties.get(fields.variety || "") || {};
    const crop = variety.crop ?? null;
    const know = (rulebook.varieties || {})[fields.variety || ""] || rulebook.crops[crop || ""] || {};
    const final = finalPlace(fields, raw, ground);
    const cover = ground.cover(final);
    const steps = (know.steps || []).filter((/** @type {any} */ step) => applies(step, cover, fields));
    states.set(
      id,
      new BatchState({
        id,
        fields,
        crop,
        varietyName: fields.name || variety.name || know.many || id,
        know,
        steps,
        year: fields.year ?? -1,
        want: fields.want ?? null,
        final,
        cover,
      }),
    );
  }
  return states;
}

/** @param {any} fields @param {Map<string, any>} raw @param {Ground} ground @returns {string | null} */
function finalPlace(fields, raw, ground) {
  let place = fields.for_place ?? null;
  if (place === null && raw.has(fields.near)) place = raw.get(fields.near).for_place ?? null;
  return ground.path(place).length ? place : null;
}

/** @param {any} step @param {string} cover @param {any} fields @returns {boolean} */
function applies(step, cover, fields) {
  const covers = step.covers ?? null;
  if (covers !== null && !covers.includes(cover)) return false;
  const potL = fields.pot_l ?? null;
  const tooBig = potL !== null && (step.pot_l ?? null) !== null && step.pot_l >= potL;
  return !(tooBig && step.verb === "pot_up");
}

/**
 * Lay the deeds over batches and fixtures, in place. Deeds of unknown batches and fixtures are passed over.
 * @param {Map<string, BatchState>} states
 * @param {Deed[]} deeds
 * @param {Ground} ground
 * @param {number} today
 */
export function fold(states, deeds, ground, today) {
  for (const deed of deeds) {
    if (deed.fixture !== null && ground.fixtures.has(deed.fixture)) doFixture(deed, ground);
    const state = states.get(deed.batch || "");
    if (state) doBatch(state, deed, ground);
  }
  for (const state of states.values()) {
    if (state.year < 0) state.year = yearOf(state.deeds.length ? state.deeds[0].deed.on : today);
  }
  noteFrosts(states, deeds, ground);
}

/** @param {Deed} deed @param {Ground} ground */
function doFixture(deed, ground) {
  const fixture = /** @type {import("./ground.js").Fixture} */ (ground.fixtures.get(deed.fixture || ""));
  if (deed.did === "install") {
    fixture.up = true;
    fixture.since = deed.on;
  } else if (deed.did === "remove") {
    fixture.up = false;
    fixture.connected = false;
    fixture.since = deed.on;
  } else if (deed.did === "connect") {
    fixture.up = true;
    fixture.connected = WATER_LINES.includes(fixture.sort);
    fixture.since = deed.on;
  }
}

/** @param {BatchState} state @param {Deed} deed @param {Ground} ground */
function doBatch(state, deed, ground) {
  const step = stepOf(state, deed);
  state.deeds.push({ deed, step });
  state.begun = true;
  if (step !== null) {
    if (state.first[step] === null) state.first[step] = deed.on;
    state.last[step] = deed.on;
    state.doneCount[step] += deed.count || 0;
    if (deed.count === null && (deed.job !== null || deed.did !== "pick")) state.tickedWhole[step] = true;
  }
  if (step !== null && state.steps[step].stage) moveOn(state, deed, step);
  else if (deed.did === "move") movePlace(state, deed, ground);
  else if (deed.did === "lose") state.lost += takeAway(state, deed.count, deed.place, ground, true);
  else if (deed.did === "clear") takeAway(state, deed.count, deed.place, ground, false);
  else if (deed.did === "pick") pick(state, deed, step, ground);
  noteStays(state, deed.on);
  let standing = false;
  for (const cell of state.cells.values()) if (cell.count > 0) standing = true;
  const onlySeed = standing && state.live() === 0;
  let nothingLeft = !standing || (onlySeed && state.lost + state.picked > 0 && up(state));
  if (deed.did === "clear" && state.finalStep >= 0 && state.moved[state.finalStep] > 0) {
    nothingLeft = state.live({ atLeast: state.finalStep }) === 0; // what was left over goes with the last plants
  }
  if ((deed.did === "clear" || deed.did === "lose" || deed.did === "pick") && nothingLeft) {
    state.cells.clear();
    noteStays(state, deed.on);
    state.overOn = deed.on;
  } else if (standing && !onlySeed) state.overOn = null;
}

/** @param {BatchState} state @returns {boolean} */
function up(state) {
  return state.moving.slice(1).some((index) => state.first[index] !== null);
}

/**
 * Which step of the path a deed did, by its job or else by its verb; null for what is not on the path.
 * @param {BatchState} state
 * @param {Deed} deed
 * @returns {number | null}
 */
export function stepOf(state, deed) {
  if (deed.job !== null && deed.job.startsWith(`${state.id}.`)) {
    const name = deed.job.slice(state.id.length + 1).split(".")[0];
    const index = state.steps.findIndex((step) => step.id === name);
    if (index >= 0) return index;
    if (name !== "resow") return null;
  }
  let verb = deed.did;
  if (verb === "look") return null; // a look round is not a step of the path unless its job says so
  if (verb === "pot_up" && finishes(state, deed)) verb = "plant_out";
  /** @type {number[]} */
  const same = [];
  state.steps.forEach((step, index) => {
    if (step.verb === verb) same.push(index);
  });
  if (same.length <= 1) return same.length ? same[0] : null;
  if (verb === "pot_up") return potStep(state, deed, same);
  for (const index of same) {
    if ((state.steps[index].every ?? null) !== null || (state.first[index] === null && reached(state, index))) return index;
  }
  return same[same.length - 1];
}

/** @param {BatchState} state @param {Deed} deed @returns {boolean} */
function finishes(state, deed) {
  const potL = state.fields.pot_l ?? null;
  return potL !== null && deed.potL !== null && deed.potL >= potL;
}

/** @param {BatchState} state @param {Deed} deed @param {number[]} same @returns {number} */
function potStep(state, deed, same) {
  const last = same[same.length - 1];
  if (deed.potL !== null) {
    const wanted = deed.potL;
    return same.find((index) => (state.steps[index].pot_l ?? null) !== null && state.steps[index].pot_l >= wanted) ?? last;
  }
  return same.find((index) => state.first[index] === null) ?? last;
}

/** @param {BatchState} state @param {number} index @returns {boolean} */
function reached(state, index) {
  const before = state.moving.filter((moving) => moving < index);
  return !before.length || state.moved[before[before.length - 1]] > 0;
}

/** @param {BatchState} state @param {Deed} deed @param {number} step */
function moveOn(state, deed, step) {
  const dest = deed.toPlace || deed.place || null;
  const cameFrom = deed.toPlace ? deed.place : null;
  const verb = state.steps[step].verb;
  let count;
  if (step === state.moving[0] && !state.moved.some((moved) => moved !== 0)) {
    if (deed.count === null && state.want === null) state.counted = false;
    count = deed.count !== null && state.counted ? deed.count : state.want || 1;
    if (verb === "sow") state.sown += state.counted ? count : 0;
  } else if (verb === "sow" && step === state.moving[0]) {
    count = deed.count !== null && state.counted ? deed.count : 0;
    state.sown += count;
  } else {
    advance(state, state.counted ? deed.count : null, step, cameFrom, dest);
    return;
  }
  state.put(step, dest || NOWHERE, count);
  countMoved(state, -1, step, count);
}

/** @param {BatchState} state @param {number} came @param {number} step @param {number} count */
function countMoved(state, came, step, count) {
  for (const index of state.moving) if (came < index && index <= step) state.moved[index] += count;
}

/**
 * Bring plants on to a step, the furthest on first; more than there were is taken at its word. Once seedlings go on from
 * where they came up, seed that has not come up is given up.
 * @param {BatchState} state
 * @param {number | null} count
 * @param {number} step
 * @param {string | null} cameFrom
 * @param {string | null} dest
 */
function advance(state, count, step, cameFrom, dest) {
  let rows = [...state.cells.values()]
    .filter((cell) => cell.count > 0 && cell.step < step)
    .sort(
      (a, b) =>
        b.step - a.step ||
        Number(a.where !== cameFrom) - Number(b.where !== cameFrom) ||
        (a.where < b.where ? -1 : a.where > b.where ? 1 : 0),
    );
  if (state.steps[step].verb !== "emerge" && rows.some((cell) => !state.isSeed(cell.step))) {
    for (const [key, cell] of [...state.cells]) if (state.isSeed(cell.step)) state.cells.delete(key);
    rows = rows.filter((cell) => !state.isSeed(cell.step));
  }
  let left = count;
  for (const cell of rows) {
    const take = left === null ? cell.count : Math.min(left, cell.count);
    if (take === 0) break;
    state.leave(cell, take);
    state.put(step, dest || cell.where, take);
    countMoved(state, cell.step, step, take);
    if (left !== null) left -= take;
  }
  if (left === null && !rows.length && !state.moved.some((moved) => moved !== 0)) {
    if (state.want === null) state.counted = false;
    left = state.want || 1;
  }
  if (left) {
    state.put(step, dest || NOWHERE, left);
    countMoved(state, -1, step, left);
  }
}

/** @param {BatchState} state @param {Deed} deed @param {Ground} ground */
function movePlace(state, deed, ground) {
  const dest = deed.toPlace || deed.place || null;
  const cameFrom = deed.toPlace ? deed.place : null;
  if (dest === null) return;
  let left = state.counted ? deed.count : null;
  for (const cell of rowsIn(state, cameFrom, ground, true)) {
    if (cell.where === dest) continue;
    const take = left === null ? cell.count : Math.min(left, cell.count);
    if (take === 0) break;
    state.leave(cell, take);
    state.put(cell.step, dest, take);
    if (left !== null) left -= take;
  }
}

/**
 * Cells in a place (and all that lies in it), seeds last, then by how far they have come.
 * @param {BatchState} state
 * @param {string | null} place
 * @param {Ground} ground
 * @param {boolean} leastFirst
 * @returns {Cell[]}
 */
function rowsIn(state, place, ground, leastFirst) {
  const sign = leastFirst ? 1 : -1;
  return [...state.cells.values()]
    .filter((cell) => cell.count > 0 && (place === null || ground.inside(cell.where, place)))
    .sort(
      (a, b) =>
        Number(state.isSeed(a.step)) - Number(state.isSeed(b.step)) ||
        sign * (a.step - b.step) ||
        (a.where < b.where ? -1 : a.where > b.where ? 1 : 0),
    );
}

/**
 * Plants that are there no more. Returns how many were. All of them where no number is said.
 * @param {BatchState} state
 * @param {number | null} count
 * @param {string | null} place
 * @param {Ground} ground
 * @param {boolean} leastFirst
 * @returns {number}
 */
function takeAway(state, count, place, ground, leastFirst) {
  let rows = rowsIn(state, place, ground, leastFirst);
  if (!rows.length) rows = rowsIn(state, null, ground, leastFirst);
  let left = state.counted ? count : null;
  let taken = 0;
  for (const cell of rows) {
    const take = left === null ? cell.count : Math.min(left, cell.count);
    if (take === 0) break;
    state.leave(cell, take);
    taken += take;
    if (left !== null) left -= take;
  }
  return taken;
}

/** @param {BatchState} state @param {Deed} deed @param {number | null} step @param {Ground} ground */
function pick(state, deed, step, ground) {
  state.picked += deed.count || 0;
  state.pickedG += deed.weightG || 0;
  if (step === null || (state.steps[step].every ?? null) !== null) return;
  const whole = deed.count === null && deed.job !== null;
  if (state.counted && deed.count !== null) takeAway(state, deed.count, deed.place, ground, false);
  else if (whole) takeAway(state, null, deed.place, ground, false);
}

/** @param {BatchState} state @param {number} on */
function noteStays(state, on) {
  const here = state.places();
  for (const stay of state.stays) if (stay.until === null && !here.includes(stay.place)) stay.until = on;
  const standing = state.stays.filter((stay) => stay.until === null).map((stay) => stay.place);
  for (const place of here) if (!standing.includes(place)) state.stays.push({ place, since: on, until: null });
}

/**
 * A reading at or under what kills a crop, in the house where it is planted, ends it.
 * @param {Map<string, BatchState>} states
 * @param {Deed[]} deeds
 * @param {Ground} ground
 */
function noteFrosts(states, deeds, ground) {
  const frosts = deeds.filter((deed) => deed.did === "measure" && deed.tmin !== null && deed.place !== null);
  if (!frosts.length) return;
  let coldest = Infinity;
  for (const deed of frosts) coldest = Math.min(coldest, /** @type {number} */ (deed.tmin));
  for (const state of states.values()) {
    const killsC = state.know.frost_kills_c ?? null;
    if (killsC === null || coldest > killsC || !state.moving.length || state.overOn !== null) continue;
    const final = state.finalStep;
    /** @type {Set<string>} */
    const houses = new Set();
    for (const cell of state.cells.values()) {
      const house = cell.step === final && cell.count > 0 ? ground.house(cell.where) : null;
      if (house !== null) houses.add(house);
    }
    const since = state.first[final];
    for (const deed of frosts) {
      const cold = /** @type {number} */ (deed.tmin) <= killsC;
      const house = ground.house(deed.place);
      if (cold && since !== null && deed.on >= since && house !== null && houses.has(house)) {
        state.frostedOn = deed.on;
        break;
      }
    }
  }
}

/** The household's own day for the first step. @param {BatchState} state @returns {number | null} */
export function sowOn(state) {
  return state.fields.sow_on ? parse(state.fields.sow_on) : null;
}
