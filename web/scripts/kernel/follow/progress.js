// @ts-check
/** Progress: which steps of a batch's path are done, which are open, and for how many plants. */

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {{open: boolean, since: number | null, count: number | null}} Progress How one step stands. `since` is the
 *   day it was done or passed; `count` is what is still to do, null for all.
 */

/** Verbs whose tick is for the whole batch: nobody counts how many were looked at. */
export const UNCOUNTED = ["emerge", "install", "look", "clear", "water", "note", "connect", "harden_off", "decide"];

/** How a step of a batch stands. @param {BatchState} state @param {number} index @returns {Progress} */
export function progress(state, index) {
  if (state.closed.has(index)) return { open: false, since: state.last[index], count: null };
  return state.steps[index].stage ? moving(state, index) : notMoving(state, index);
}

/** The first day on which a later step was done. @param {BatchState} state @param {number} index */
export function passedOn(state, index) {
  /** @type {number | null} */
  let first = null;
  for (let later = index + 1; later < state.first.length; later += 1) {
    const day = state.first[later];
    if (day !== null && (first === null || day < first)) first = day;
  }
  return first;
}

/** @param {BatchState} state @param {number} index @returns {Progress} */
function moving(state, index) {
  const step = state.steps[index];
  const moved = state.moved[index];
  const since = state.last[index] !== null ? state.last[index] : passedOn(state, index);
  const laterBegun = state.moving.some((later) => later > index && state.moved[later] > 0);
  const begun = moved > 0 || state.first[index] !== null;
  const enough = state.want !== null && moved >= state.want;
  if (index === state.moving[0]) {
    const done = begun && (laterBegun || !state.counted || state.want === null || enough);
    return { open: !done, since: begun ? since : null, count: firstCount(state, moved) };
  }
  if (step.verb === "emerge") {
    const done = begun && (laterBegun || !state.counted || state.want === null || enough || state.seeds() === 0);
    return { open: !done, since: begun ? since : null, count: null };
  }
  const below = state.live({ below: index });
  const done = begun && (!state.counted || enough || below === 0);
  const count = UNCOUNTED.includes(step.verb) ? null : toMove(state, index, moved, below);
  return { open: !done, since: begun ? since : null, count };
}

/** @param {BatchState} state @param {number} moved @returns {number | null} */
function firstCount(state, moved) {
  if (!state.counted || state.want === null) return null;
  return Math.max(state.want - moved, 0);
}

/**
 * How many plants a moving step is open for: those wanted, and until they are planted a reserve of those there are.
 * @param {BatchState} state
 * @param {number} index
 * @param {number} moved
 * @param {number} below
 * @returns {number | null}
 */
function toMove(state, index, moved, below) {
  if (!state.counted) return null;
  const { want } = state;
  const wanted = want === null ? null : (index === state.finalStep ? want : withReserve(state, want)) - moved;
  const ready = state.live({ atLeast: state.path.before[index] ?? 0, below: index });
  if (ready > 0 || below > 0) {
    const there = ready || below;
    return wanted === null ? there : Math.min(wanted, there);
  }
  const sown = state.seeds();
  if (want === null) return sown || null;
  return sown > 0 ? Math.min(want - moved, sown) : want - moved;
}

/** @param {BatchState} state @param {number} index @returns {Progress} */
function notMoving(state, index) {
  const step = state.steps[index];
  const since = state.last[index];
  const before = state.path.before[index];
  const reached = before !== null ? state.live({ atLeast: before }) : 0;
  const count = UNCOUNTED.includes(step.verb) || !state.counted ? null : reached || toCome(state);
  if ((step.every ?? null) !== null) return { open: true, since, count };
  if (since !== null) {
    const left = step.verb === "pick" ? reached : reached - state.doneCount[index];
    if (state.tickedWhole[index] || UNCOUNTED.includes(step.verb) || !state.counted || left <= 0) {
      return { open: false, since, count: null };
    }
    return { open: true, since, count: left };
  }
  if (step.verb === "decide" && (step.before ?? null) !== null) {
    const bound = state.path.byId.get(step.before);
    if (bound !== undefined && state.first[bound] !== null) return { open: false, since: state.first[bound], count: null }; // what it was to be decided for is done
  }
  const laterMoved = state.moving.some((later) => later > index && state.moved[later] > 0);
  const laterDone = passedOn(state, index);
  if (laterMoved || (step.verb === "look" && laterDone !== null)) return { open: false, since: laterDone, count: null };
  return { open: true, since: null, count };
}

/** Plants that something will be done to once they have come so far. @param {BatchState} state @returns {number | null} */
function toCome(state) {
  const there = state.live();
  return there > 0 && state.want !== null ? Math.min(there, state.want) : state.want;
}

/**
 * Plants left over once a step after coming up has the wanted number. 0 where nobody counts or wants a number.
 * @param {BatchState} state
 * @returns {number}
 */
export function spare(state) {
  const want = state.want;
  if (want === null || !state.counted || state.overOn !== null) return 0;
  const enough = state.moving
    .slice(1)
    .filter((index) => state.steps[index].verb !== "emerge" && state.moved[index] >= want);
  if (!enough.length || state.moving.some((index) => state.believed.has(index))) return 0;
  const furthest = enough[enough.length - 1];
  const below = state.live({ below: furthest });
  if (furthest === state.finalStep) return Math.max(0, state.picked > 0 ? 0 : state.live() - want, below);
  const broughtOn = state.live({ atLeast: furthest });
  return below + (broughtOn > withReserve(state, want) ? broughtOn - want : 0);
}

/**
 * Plants to bring on for so many wanted: some more against losses, until they are planted.
 * @param {BatchState} state
 * @param {number} want
 * @returns {number}
 */
export function withReserve(state, want) {
  return want + Math.ceil((want * (state.know.reserve_pct || 0)) / 100);
}
