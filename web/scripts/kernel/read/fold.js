// @ts-check
/** Fold: the diary laid over the batches, giving what stands where and how far along its path it has come. */
import { NOWHERE } from "./batch-state.js";
import { seasonAt, yearOf } from "./days.js";
import { WATER_LINES } from "./ground.js";

/** Verbs beside the moving steps after which plants may stand elsewhere, or no more. */
const CHANGES_CELLS = ["move", "lose", "clear", "pick"];

/**
 * @typedef {import("./batch-state.js").BatchState} BatchState
 * @typedef {import("./batch-state.js").Cell} Cell
 * @typedef {import("./deeds.js").Deed} Deed
 * @typedef {import("./ground.js").Ground} Ground
 */

/**
 * Lay a batch's own deeds over it, in place.
 * @param {BatchState} state
 * @param {Deed[]} deeds in order
 * @param {Ground} ground
 * @param {number} today
 */
export function fold(state, deeds, ground, today) {
  for (const deed of deeds) doBatch(state, deed, ground);
  if (state.year < 0) state.year = yearOf(state.deeds.length ? state.deeds[0].deed.on : today);
}

/** Lay a fixture's own deeds over it, in place. @param {import("./ground.js").Fixture} fixture @param {Deed[]} deeds in order */
export function foldFixture(fixture, deeds) {
  fixture.up = fixture.firstUp;
  fixture.connected = false;
  fixture.since = null;
  fixture.drained = null;
  for (const deed of deeds) {
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
      fixture.drained = null;
    } else if (deed.did === "drain") {
      fixture.connected = false;
      fixture.drained = deed.on;
    }
  }
}

/** @param {BatchState} state @param {Deed} deed @param {Ground} ground */
function doBatch(state, deed, ground) {
  const step = stepOf(state, deed);
  state.deeds.push({ deed, step });
  state.begun = state.begun || !BEFORE_IT.includes(deed.did);
  if (deed.job !== null && deed.job.startsWith(`${state.id}.frost.`)) state.survived = deed.on;
  if (step !== null && step === firstOf(state) && state.overOn !== null) beginAgain(state);
  if (deed.believed && step !== null) {
    if (state.first[step] !== null && (state.steps[step].every ?? null) === null) {
      state.closed.add(step);
      return;
    }
    if (!state.believed.has(step)) state.believed.set(step, deed.on);
  } else if (step !== null && step === firstOf(state) && state.noneUp()) giveUpSeed(state);
  if (deed.did === "decide") {
    decided(state, deed, step);
    return;
  }
  if (step !== null) {
    if (state.first[step] === null) state.first[step] = deed.on;
    state.last[step] = deed.on;
    state.doneCount[step] += deed.count || 0;
    if (deed.count === null && (deed.job !== null || deed.did !== "pick")) state.tickedWhole[step] = true;
  }
  let plantsWent = true;
  if (deed.did === "pot_up") state.potL = deed.potL !== null ? deed.potL : step !== null ? (state.steps[step].pot_l ?? null) : null;
  if (step !== null && state.steps[step].stage) moveOn(state, deed, step);
  else if (!CHANGES_CELLS.includes(deed.did)) return;
  else if (deed.did === "move") movePlace(state, deed, ground);
  else if (deed.did === "lose") {
    const taken = takeAway(state, deed.count, deed.place, ground, true);
    state.lost += taken;
    if (deed.answer === FROST && state.finalStep >= 0) state.moved[state.finalStep] = Math.max(0, state.moved[state.finalStep] - taken);
  }
  else if (deed.did === "clear") takeAway(state, deed.count, deed.place, ground, false);
  else if (deed.did === "pick") plantsWent = pick(state, deed, step, ground);
  if (plantsWent) noteStays(state, deed.on);
  let standing = false;
  let growing = false;
  for (const cell of state.cells.values()) {
    if (cell.count <= 0) continue;
    standing = true;
    growing = growing || !state.isSeed(cell.step);
  }
  const onlySeed = standing && !growing;
  let nothingLeft = !standing || (onlySeed && state.lost + state.picked > 0 && up(state));
  if (deed.did === "clear" && state.finalStep >= 0 && state.moved[state.finalStep] > 0) {
    nothingLeft = state.live({ atLeast: state.finalStep }) === 0; // what was left over goes with the last plants
  }
  if ((deed.did === "clear" || deed.did === "lose" || deed.did === "pick") && nothingLeft) {
    state.cells.clear();
    noteStays(state, deed.on);
    state.overOn = deed.on;
    state.frostLost = deed.answer === FROST;
  } else if (standing && !onlySeed) state.overOn = null;
}

/** The answer by which plants are lost to frost: others may be planted in their place. */
export const FROST = "frost";
/** The answer by which plants are bought in place of what was to be raised. */
const BOUGHT = "buy";
/** What is done before there are plants. */
const BEFORE_IT = ["order", "divide"];

/** An answer stands until another is given. Plants that are bought stand as if raised, to be planted. @param {BatchState} state @param {Deed} deed @param {number | null} step */
function decided(state, deed, step) {
  if (step !== null) {
    state.answers.set(state.steps[step].id, deed.answer || "");
    state.first[step] = state.last[step] = deed.on;
  }
  if (deed.answer !== BOUGHT || state.moving.length < 2) return;
  const raised = state.moving[state.moving.length - 2];
  for (const [key, cell] of state.cells) if (cell.step <= raised) state.cells.delete(key);
  const many = deed.count !== null ? deed.count : state.want;
  if (many === null) state.counted = false;
  advance(state, many !== null ? many : 1, raised, null, deed.toPlace || deed.place || null);
  state.first[raised] = state.last[raised] = deed.on;
}

/** @param {BatchState} state @returns {number | null} */
function firstOf(state) {
  return state.moving.length ? state.moving[0] : null;
}

/** None had come of what was sown before: that seed is given up, and the look was about it and not about what follows. @param {BatchState} state */
function giveUpSeed(state) {
  const look = state.moving[1];
  state.first[look] = state.last[look] = null;
  state.tickedWhole[look] = false;
  for (const [key, cell] of state.cells) if (state.isSeed(cell.step)) state.cells.delete(key);
}

/** What is sown after a batch was over begins it anew; what was picked and lost before stays told. @param {BatchState} state */
function beginAgain(state) {
  for (const counts of [state.moved, state.doneCount]) counts.fill(0);
  state.tickedWhole.fill(false);
  state.first.fill(null);
  state.last.fill(null);
  state.believed.clear();
  state.closed.clear();
  state.overOn = null;
  state.frostLost = false;
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
    const index = state.path.byId.get(name);
    if (index !== undefined) return index;
    if (name !== "resow") return null;
  }
  let verb = deed.did;
  if (verb === "look" || verb === "decide") return null; // a look round and an answer are no steps of the path unless their job says so
  if (verb === "pot_up" && finishes(state, deed)) verb = "plant_out";
  const same = state.path.byVerb.get(verb) || [];
  if (same.length <= 1) return same.length ? same[0] : null;
  if (verb === "pot_up") return potStep(state, deed, same);
  const seasonal = same.filter((index) => state.steps[index].season && (state.endsOn(index) ?? deed.on) >= deed.on);
  if (seasonal.length) return inItsSeason(state, seasonal, deed.on);
  for (const index of same) {
    if ((state.steps[index].every ?? null) !== null || (state.first[index] === null && reached(state, index))) return index;
  }
  return same[same.length - 1];
}

/** Of steps with weeks of the year of their own the one whose weeks they are, else whose come next. @param {BatchState} state @param {number[]} same @param {number} on */
function inItsSeason(state, same, on) {
  const opens = (/** @type {number} */ index) => Math.max(seasonAt(state.steps[index].season, on)[0], on);
  return same.reduce((best, index) => (opens(index) < opens(best) ? index : best));
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
  const before = state.path.before[index];
  return before === null || state.moved[before] > 0;
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

/**
 * Whether plants went with it; a fruit picked leaves its plant standing.
 * @param {BatchState} state
 * @param {Deed} deed
 * @param {number | null} step
 * @param {Ground} ground
 * @returns {boolean}
 */
function pick(state, deed, step, ground) {
  state.picked += deed.count || 0;
  state.pickedG += deed.weightG || 0;
  if (step === null) return false;
  if ((state.steps[step].every ?? null) !== null) return state.steps[step].whole === true && pickWhole(state, deed, ground);
  const whole = deed.count === null && deed.job !== null;
  if (state.counted && deed.count !== null) takeAway(state, deed.count, deed.place, ground, false);
  else if (whole) takeAway(state, null, deed.place, ground, false);
  return true;
}

/**
 * What is taken whole is gone with its number; told on its own without number or weight it is all of it.
 * @param {BatchState} state
 * @param {Deed} deed
 * @param {Ground} ground
 * @returns {boolean}
 */
function pickWhole(state, deed, ground) {
  if (!state.counted || deed.believed) return false;
  const all = deed.count === null && deed.job === null && deed.weightG === null;
  if (deed.count === null && !all) return false;
  takeAway(state, deed.count, deed.place, ground, false);
  return true;
}

/** @param {BatchState} state @param {number} on */
function noteStays(state, on) {
  const here = state.places();
  for (const stay of state.stays) if (stay.until === null && !here.includes(stay.place)) stay.until = on;
  const standing = state.stays.filter((stay) => stay.until === null).map((stay) => stay.place);
  for (const place of here) if (!standing.includes(place)) state.stays.push({ place, since: on, until: null });
}
