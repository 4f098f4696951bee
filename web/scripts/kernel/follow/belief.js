// @ts-check
/**
 * Belief: steps that nobody told of are taken as done once they are of no use to ask for any more. A step is told (a deed), shown (a
 * later step was told), believed (its time is past, and nothing speaks against it) or not yet. What is believed carries the path on
 * by calendar and climate, and is said as such. Believed steps are laid over the batch like deeds of their own, one after another,
 * so that all that follows is worked out as ever.
 */
import { iso, parse, seasonAt } from "../read/days.js";
import { Work } from "../when/work.js";
import { endedByFrost } from "./after-frost.js";
import { comingUp } from "./coming-up.js";
import { layOut } from "./lay-out.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("../read/deeds.js").Deed} Deed
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {{step: number, on: number, askedUntil: number, becomes: string, turn: boolean}} Missed A step nobody told of: which, the
 *   day it is taken for, the last day on which it was asked for, and whether it is a turn of what repeats
 * @typedef {{missed: Missed[], work: Work[]}} Belief What is believed of a batch, in the order of its path, and the open work left
 */

/** What is done only to plants that stand where they are to end. */
const SHOWS_PLANTED = ["string", "pick"];
/** After a frost that kills it is asked for so long what is dead. */
const FROST_ASKED_DAYS = 14;
/** What somebody says is still to be done is asked for so long at least. */
const STILL_DAYS = 28;
/** No path has more steps to believe at once. */
const MOST_STEPS = 120;

/**
 * Lay over a batch, in place, what is believed of it. patient: while a step is asked for, it is not yet believed.
 * @param {string} id
 * @param {Knowledge} know
 * @param {boolean} [patient]
 * @returns {Belief}
 */
export function believe(id, know, patient = true) {
  /** @type {Deed[]} */
  const deeds = [];
  /** @type {Missed[]} */
  const found = [];
  for (let round = 0; round < MOST_STEPS; round += 1) {
    const state = /** @type {BatchState} */ (know.states.get(id));
    const work = layOut(state, know);
    const missed = firstMissed(state, work, know, patient);
    if (missed === null) return { missed: found, work };
    found.push(missed.missed);
    deeds.push(missed.deed);
    know.reading.layOver(id, deeds);
  }
  return { missed: found, work: layOut(/** @type {BatchState} */ (know.states.get(id)), know) };
}

/**
 * @param {BatchState} state
 * @param {Work[]} work
 * @param {Knowledge} know
 * @param {boolean} patient
 * @returns {{missed: Missed, deed: Deed} | null}
 */
function firstMissed(state, work, know, patient) {
  if (!state.begun || state.overOn !== null || state.noneUp()) return null;
  if (endedByFrost(state) && state.frostedOn !== null) return overByFrost(state, state.frostedOn, know, patient);
  for (const job of work) {
    if (job.step === null || job.letGo || job.links.some((link) => link.path) || !inSeasonNow(job, know.today)) continue;
    const [becomes, days] = job.missed;
    const changed = know.changes.get(job.id) || {};
    if (becomes === "stays" || changed.put_off_until) continue;
    const { start, aim, by } = ownDays(job);
    let on = Math.max(start, Math.min(aim, by ?? aim));
    let until = patient ? askedUntil(job, aim, by, days) : on;
    if (becomes === "lapses") on = Math.min(on, until);
    const shown = shownOn(state, job.step);
    if (changed.still === true) until = Math.max(until, changed.still_on ? parse(changed.still_on) + STILL_DAYS : know.today);
    if (shown !== null) {
      on = Math.min(on, shown);
      until = Math.min(until, know.today - 1);
    }
    if (until >= know.today || (job.verb === "clear" && begunSince(state, on))) continue;
    if (job.repeat !== null && state.last[job.step] !== null) on = lastTurn(job, on, patient ? days : 0, know.today);
    return { missed: { step: job.step, on, askedUntil: until, becomes, turn: job.repeat !== null }, deed: deedOf(state, job, { step: job.step, on, know }) };
  }
  return null;
}

/**
 * Whether its first step was told on that day or later: what ended before says nothing about what was begun after it.
 * @param {import("../read/batch-state.js").BatchState} state
 * @param {number} day
 */
function begunSince(state, day) {
  const begun = state.moving.length ? state.last[state.moving[0]] : null;
  return begun !== null && begun >= day;
}

/**
 * What frost ends is asked about for a while; then it is taken as over.
 * @param {BatchState} state
 * @param {number} frosted
 * @param {Knowledge} know
 * @param {boolean} patient
 */
function overByFrost(state, frosted, know, patient) {
  const until = frosted + (patient ? FROST_ASKED_DAYS : 0);
  if (until >= know.today) return null;
  const id = `${state.id}.frost.${iso(frosted)}`;
  const work = new Work({ id, verb: "clear", title: "", lead: 0, subject: "", writes: {} });
  const deed = { ...deedOf(state, work, { step: state.finalStep, on: frosted, know }), job: id };
  const clear = state.path.byVerb.get("clear") || [state.finalStep];
  return { missed: { step: clear[0], on: frosted, askedUntil: until, becomes: "over", turn: false }, deed };
}

/**
 * The last day on which it is asked for: so long past its own last day, and no longer than it pays.
 * @param {Work} job
 * @param {number} aim
 * @param {number | null} by
 * @param {number} days
 * @returns {number}
 */
function askedUntil(job, aim, by, days) {
  const last = by ?? aim + days;
  if (job.lastUseful === null) return last + days;
  if (job.missed[0] === "lapses") return Math.min(job.lastUseful, last + 2 * days); // with what it was for, and not asked for months on end
  return Math.max(last, Math.min(last + days, job.lastUseful + Math.floor(days / 2)));
}

/**
 * The first day on which something was told that cannot be done to plants before a moving step; null where nothing was.
 * @param {BatchState} state
 * @param {number} step
 * @returns {number | null}
 */
function shownOn(state, step) {
  if (!state.steps[step].stage) return null;
  /** @type {number | null} */
  let first = null;
  for (const { deed, step: index } of state.deeds) {
    const shows = index !== null && index > step && !deed.believed && SHOWS_PLANTED.includes(state.steps[index].verb);
    if (shows && (first === null || deed.on < first)) first = deed.on;
  }
  return first;
}

/** Whether silence may be read as done: what comes once in a season stays; what repeats in it, while it lasts. @param {Work} job @param {number} today */
function inSeasonNow(job, today) {
  if (job.season === null) return true;
  return job.repeat !== null && job.lower.length > 0 && seasonAt(job.season, today)[0] <= Math.min(today, ...job.lower.map(([day]) => day));
}

/**
 * First, best and last day of work that waits on nothing, by its own bounds; the last is never before the first, so that what
 * nights or the calendar still hold back is not taken as done on a day to come.
 * @param {Work} job
 * @returns {{start: number, aim: number, by: number | null}}
 */
export function ownDays(job) {
  const day = (/** @type {import("../when/work.js").Bound} */ bound) => bound[0];
  const lower = job.lower.map(day);
  if (job.gate !== null) lower.push(job.gate[0]);
  const aims = job.aims.map(day);
  const upper = job.upper.map(day);
  const others = [...aims, ...upper];
  const start = lower.length ? Math.max(...lower) : others.length ? Math.min(...others) : 0;
  return { start, aim: Math.max(start, ...aims), by: upper.length ? Math.max(start, Math.min(...upper)) : null };
}

/**
 * The last day on which something that repeats is taken to have been done, had it been done in time each turn.
 * @param {Work} job
 * @param {number} first
 * @param {number} days
 * @param {number} today
 * @returns {number}
 */
function lastTurn(job, first, days, today) {
  const every = job.repeat || 1;
  const longest = every + Math.floor(every / 2) + days;
  const turns = Math.max(0, Math.ceil((today - longest - first) / every));
  const on = first + turns * every;
  return job.notAfter === null ? on : Math.max(first, Math.min(on, job.notAfter));
}

/**
 * @param {BatchState} state
 * @param {Work} job
 * @param {{step: number, on: number, know: Knowledge}} given
 * @returns {Deed}
 */
function deedOf(state, job, { step, on, know }) {
  const id = `${state.id}.${state.steps[step].id}`;
  let count = job.count;
  if (job.verb === "emerge") count = expected(state, know);
  else if (!state.steps[step].stage) count = null;
  return {
    stamp: "",
    ids: [],
    tellers: [],
    on,
    at: "",
    did: job.verb,
    batch: state.id,
    place: job.writes.place ?? null,
    toPlace: job.writes.to_place ?? null,
    fixture: null,
    count,
    potL: job.writes.pot_l ?? null,
    job: id,
    part: null,
    found: null,
    level: null,
    weightG: null,
    tmin: null,
    condition: null,
    answer: null,
    about: null,
    believed: true,
  };
}

/** Seedlings that seed of its kind usually gives; as many as are wanted at least, as far as there is seed. @param {BatchState} state @param {Knowledge} know @returns {number | null} */
function expected(state, know) {
  if (!state.counted) return null;
  const seeds = state.seeds();
  const sown = state.last[state.moving[0]];
  const { pct } = comingUp(state, state.mainPlace(), sown === null ? know.today : sown, know);
  const usual = Math.floor((seeds * pct) / 100);
  return Math.min(seeds, Math.max(usual, state.want || 0, 1));
}
