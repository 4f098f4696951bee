// @ts-check
/** Lay out: the open steps of a batch as work, with the bounds and links its path gives them. */
import { iso, spoken, yearOf } from "../read/days.js";
import { endedByFrost, frostWork, inPlaceOfLost } from "./after-frost.js";
import { isBought } from "../read/bought.js";
import { occurrence } from "./knowledge.js";
import { comingUp, seedsFor, sowingDay } from "./coming-up.js";
import { askedFor, lastDayToBegin, lastSowingDay, lookBy, resowDates, resowId, spareWork, tooFew, tooLate } from "./left-over.js";
import { needsOf } from "./needs.js";
import { orderWork } from "./order.js";
import { endsBefore, ownDates, pathDates } from "./path-dates.js";
import { progress, spare } from "./progress.js";
import { seedWork } from "./saved-seed.js";
import { makeWay } from "./ways.js";
import { daysWords, fill, litres, past } from "../read/words.js";
import { Work } from "../when/work.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {import("./progress.js").Progress} Progress
 */

/** What still gives is asked about again after so long. */
const ASK_AGAIN_DAYS = 7;
/** And what gives in its weeks of each year after this. */
const NEXT_YEAR_DAYS = 330;

/**
 * Whether a batch was never begun, and its day is so long gone that nobody is asked for it any more.
 * @param {BatchState} state @param {Knowledge} know @returns {boolean}
 */
export function letSlip(state, know) {
  if (state.begun) return false;
  const last = lastDayToBegin(state, know);
  if (last === null) return state.year < yearOf(know.today) - 1;
  return last + askedFor(state) < know.today && know.changes.get(`${state.id}.${state.steps[0].id}`)?.still !== true;
}

/** The open work of a batch, and one quiet job for plants left over. @param {BatchState} state @param {Knowledge} know @returns {Work[]} */
export function layOut(state, know) {
  if (!state.steps.length || letSlip(state, know)) return [];
  if (state.overOn !== null) return inPlace(state, know);
  const standings = state.steps.map((_, index) => progress(state, index));
  const ends = state.steps.map((_, index) => state.endsOn(index));
  const late = tooLate(state, know);
  if (late !== null) return [late];
  const frost = frostWork(state, know);
  const ended = endedByFrost(state);
  if (ended && frost !== null) return [frost];
  /** @type {Work[]} */
  const work = [];
  const noneUp = state.noneUp();
  state.steps.forEach((step, index) => {
    if (noneUp && step.verb !== "emerge") return;
    if (ended && step.verb !== "pick" && step.verb !== "clear") return;
    const job = stepWork(state, index, standings, ends, know);
    if (job !== null) work.push(job);
  });
  if (frost !== null) work.push(frost);
  if (isBought(state.fields) && !state.begun && work.length) work.push(...orderWork(state, work[0], know));
  work.push(...seedWork(state, work, know));
  const leftOver = spare(state);
  if (leftOver > 0) work.push(spareWork(state, leftOver, know));
  const missing = tooFew(state, know);
  if (missing > 0) {
    const count = state.counted && state.want !== null ? missing : null;
    const again = bare(state, state.moving[0], resowId(state), count, know);
    resowDates(again, state, know);
    again.letGo = know.letGoOn(again.id) !== null;
    work.push(again);
  }
  return work;
}

/** What is asked of a batch that is over: nothing, but for a while after a frost what comes in its place. @param {BatchState} state @param {Knowledge} know @returns {Work[]} */
function inPlace(state, know) {
  if (!state.frostLost || state.overOn === null || !state.moving.length) return [];
  const again = bare(state, state.moving[0], `${state.id}.again.${iso(state.overOn)}`, state.want, know);
  again.step = null;
  const found = inPlaceOfLost(state, again, know);
  return found === null ? [] : [found];
}

/** The work that begins a batch, whether or not it is still asked for; null where it is begun. @param {BatchState} state @param {Knowledge} know @returns {Work | null} */
export function firstWork(state, know) {
  if (state.begun || !state.steps.length) return null;
  const standings = state.steps.map((_, index) => progress(state, index));
  return stepWork(state, 0, standings, state.steps.map((_, index) => state.endsOn(index)), know);
}

/**
 * @param {BatchState} state
 * @param {number} index
 * @param {Progress[]} standings
 * @param {(number | null)[]} ends
 * @param {Knowledge} know
 * @returns {Work | null}
 */
function stepWork(state, index, standings, ends, know) {
  const step = state.steps[index];
  const stands = standings[index];
  const every = step.every ?? null;
  const prefix = `${state.id}.${step.id}`;
  if (!stands.open) return null;
  let job = prefix;
  /** @type {number | null} */
  let last = null;
  if (every !== null) {
    const end = ends[index];
    if (end !== null && know.today > end) return null;
    [job, last] = occurrence(prefix, state.last[index], know);
  }
  if (step.verb === "emerge" && pastHope(state, index, know)) return null;
  const work = bare(state, index, job, stands.count, know);
  work.letGo = know.letGoOn(job) !== null;
  work.still = know.changes.get(job)?.still === true;
  work.repeat = every;
  work.notAfter = every !== null ? ends[index] : null;
  work.firstPicking = step.verb === "pick" && last === null;
  work.season = step.season ?? null;
  if (last !== null && every !== null) {
    const again = `${past(step.verb)} ${spoken(last)}, every ${daysWords(every)}`;
    work.lower.push([last + every - Math.floor(every / 3), again]);
    work.aims.push([last + every, again]);
    work.upper.push([last + every + Math.floor(every / 2), again]);
  } else {
    if (step.verb === "emerge") resowNote(work, state, know);
    ownDates(work, state, index, know);
    pathDates(work, state, index, { standings, ends }, know);
    endsBefore(work, state, index, ends);
  }
  if (step.verb === "clear" && !endedByFrost(state) && stillGives(state, index, ends, know)) {
    const forYears = state.steps.some((/** @type {any} */ other) => other.verb === "pick" && other.season);
    work.ways = askBeforeClearing(work, forYears ? NEXT_YEAR_DAYS : ASK_AGAIN_DAYS, know);
  }
  if (endedByFrost(state) && state.frostedOn !== null) {
    const frost = `frost on ${spoken(state.frostedOn)}: pick what is left and clear`;
    work.lower = [[state.frostedOn, frost]];
    work.aims = [[state.frostedOn + (step.verb === "clear" ? 1 : 0), frost]];
    work.upper = [[state.frostedOn + 3, frost]];
    work.gate = null;
    work.season = null;
  }
  return work;
}

/**
 * Whether what is to be cleared is being picked, and its picking not over.
 * @param {BatchState} state
 * @param {number} index
 * @param {(number | null)[]} ends
 * @param {Knowledge} know
 */
function stillGives(state, index, ends, know) {
  for (let at = 0; at < index; at += 1) {
    const step = state.steps[at];
    const end = ends[at];
    if (step.verb !== "pick" || (step.every ?? null) === null || (state.first[at] === null && !step.season)) continue;
    if (end === null || know.today <= end) return true;
  }
  return false;
}

/** What still gives is not ended by a tick unasked. @param {Work} work @param {number} again days until it is asked anew @param {Knowledge} know */
function askBeforeClearing(work, again, know) {
  const later = { put_off_until: iso(know.today + again), put_off_on: iso(know.today) };
  return [
    makeWay("over", "Clear all of it", [{ ...work.writes }]),
    makeWay("gives", "It still gives", [], { changes: [{ kind: "job", id: work.id, fields: later }] }),
  ];
}

/** Somebody looked, and the time for more to come up is over. @param {BatchState} state @param {number} index @param {Knowledge} know */
function pastHope(state, index, know) {
  const by = lookBy(state, know);
  return state.first[index] !== null && by !== null && know.today > by;
}

/** @param {Work} work @param {BatchState} state @param {Knowledge} know */
function resowNote(work, state, know) {
  const by = lookBy(state, know);
  const lastUseful = lastSowingDay(state);
  if (by !== null && lastUseful !== null && lastUseful >= know.today) {
    work.notes.push(`if none are up by ${spoken(by)}, sow again: the last useful day is ${spoken(lastUseful)}`);
  }
  if (!state.counted) return;
  const told = { did: "emerge", batch: state.id };
  work.ways = [
    makeWay("all", "All up", [{ ...told, count: state.seeds() }]),
    makeWay("some", "Some", [told], { asks: "count" }),
    makeWay("none", "None", [{ ...told, count: 0 }]),
  ];
}

/** The deed that a step's work writes. @param {BatchState} state @param {number} index @param {string | null} place @param {number | null} potL @returns {any} */
function writesOf(state, index, place, potL) {
  const step = state.steps[index];
  /** @type {any} */
  const writes = { did: step.verb, batch: state.id };
  if (step.stage) {
    const cameFrom = state.mainPlace({ below: index });
    if (place !== null) {
      writes.to_place = place;
      if (cameFrom !== null && cameFrom !== place) writes.place = cameFrom;
    }
    if (potL !== null) writes.pot_l = potL;
  } else if (place !== null) {
    writes.place = place;
  }
  return writes;
}

/**
 * The work without its dates: what it says, writes, takes and needs.
 * @param {BatchState} state
 * @param {number} index
 * @param {string} job
 * @param {number | null} wanted
 * @param {Knowledge} know
 * @returns {Work}
 */
function bare(state, index, job, wanted, know) {
  const step = state.steps[index];
  const verb = step.verb;
  const place = placeOf(state, index, know);
  let count = wanted;
  /** @type {number | null} */
  let seeds = null;
  /** @type {string | null} */
  let few = null;
  if (verb === "sow" && state.path.comesUp) {
    const coming = comingUp(state, place, sowingDay(state, index, know), know);
    few = coming.few;
    seeds = seedsFor(coming.pct, count, know);
    count = seeds;
  }
  let say = step.say;
  let lead = step.lead;
  let potL = step.pot_l ?? null;
  const finishing = index === state.finalStep ? (state.fields.pot_l ?? null) : null;
  if (finishing !== null) {
    say = `Stand {plants} in ${litres(finishing)}\u00a0L pots`;
    lead = "Stand".length;
    potL = finishing;
  }
  const writes = writesOf(state, index, place, potL);
  const work = new Work({
    id: job,
    verb,
    title: fill(say, state.know, count, know.ground.name(state.final), seeds),
    lead,
    subject: state.varietyName,
    writes,
    batch: state.id,
    place,
    count,
  });
  if (few !== null) work.notes.push(few);
  work.step = index;
  if (step.missed) work.missed = [step.missed[0], step.missed[1]];
  work.raises = Boolean(step.stage) && index > 0 && index < state.finalStep;
  work.goesIn = Boolean(step.stage) && step.where === "final";
  const [fixed, each] = step.minutes || [5, 0];
  work.minutes = fixed + Math.ceil((each * (count !== null ? count : 10)) / 10);
  work.needs = needsOf(step, count, finishing, state.stems());
  work.cautions = [...(step.cautions || [])];
  work.hint = step.hint ?? null;
  if (verb === "prick_out" && count !== null && state.live({ below: index }) > count) {
    work.notes.push(`${state.live({ below: index }) - count} more are up: spare`);
  }
  work.waysOut = step.ways_out ?? null;
  for (const answer of step.answers || []) work.ways.push(makeWay(answer.id, answer.say, [{ ...writes, answer: answer.id }]));
  return work;
}

/**
 * Where the work of a step is: where plants end, where they are raised, or where they stand now.
 * @param {BatchState} state
 * @param {number} index
 * @param {Knowledge} know
 * @returns {string | null}
 */
function placeOf(state, index, know) {
  const step = state.steps[index];
  const before = state.path.before[index];
  let here;
  if (step.stage) {
    if (step.where === "final" && state.final !== null) return state.final;
    here = state.mainPlace({ below: index });
  } else {
    here = before !== null ? state.mainPlace({ atLeast: before }) : null;
  }
  if (here !== null) return here;
  const anywhere = state.mainPlace();
  if (anywhere !== null) return anywhere;
  const afterPlanting = index >= state.finalStep;
  if ((afterPlanting || step.where === "final" || state.steps[0].where === "final") && state.final) return state.final;
  return know.raising || state.final;
}
