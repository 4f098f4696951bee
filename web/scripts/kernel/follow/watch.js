// @ts-check
/** Watch: after a sighting, the steps to take and the looks that follow until it is clear. */
import { iso, spoken } from "../read/days.js";
import { levelRank } from "../read/deeds.js";
import { daysWords, plantsWords } from "../read/words.js";
import { Work } from "../when/work.js";

/**
 * @typedef {import("../read/deeds.js").Deed} Deed
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {{id: string, found: string, batch: string | null, place: string | null, opened: number, lastFound: number,
 *   lastLook: number, level: string, rung: number, finds: number, looks: number, clear: number[],
 *   treated: number | null}} Watch One trouble on one batch (or in one place), until it is clear.
 */

/** Plants that stood in the same house within so many days before a sighting get one look of their own. */
const SHARED_DAYS = 30;
const SHARE_BY_DAYS = 3;
/** Rank of the level from which all mild steps are taken at once. */
const MANY = 2;

/** Every watch that is open today, in order of opening. @param {Knowledge} know @returns {Watch[]} */
export function watches(know) {
  const care = know.rulebook.care || {};
  /** @type {Map<string, Watch>} */
  const open = new Map();
  for (const deed of know.diary.found) {
    if (deed.found === null || !(deed.found in care)) continue;
    const subject = deed.batch || deed.place;
    if (subject === null) continue;
    const key = `${subject} ${deed.found}`;
    closeIfOver(open, key, deed.on, care[deed.found]);
    const watch = open.get(key);
    if (deed.did === "treat") {
      if (watch) watch.treated = deed.on;
    } else if (levelRank(deed.level) > 0) {
      open.set(key, seen(watch, deed));
    } else if (watch) {
      watch.looks += 1;
      watch.lastLook = deed.on;
      watch.clear.push(deed.on);
    }
  }
  for (const [key, watch] of [...open]) closeIfOver(open, key, know.today, care[watch.found]);
  return [...open.values()]
    .filter((watch) => alive(watch, know))
    .sort((a, b) => a.opened - b.opened || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
}

/** @param {Watch | undefined} watch @param {Deed} deed @returns {Watch} */
function seen(watch, deed) {
  const level = deed.level || "few";
  if (!watch) {
    return {
      id: deed.ids[0],
      found: deed.found || "",
      batch: deed.batch,
      place: deed.batch === null ? deed.place : null,
      opened: deed.on,
      lastFound: deed.on,
      lastLook: deed.on,
      level,
      rung: 0,
      finds: 1,
      looks: 1,
      clear: [],
      treated: null,
    };
  }
  watch.finds += 1;
  watch.looks += 1;
  if (levelRank(level) >= levelRank(watch.level)) watch.rung += 1;
  watch.level = level;
  watch.lastFound = deed.on;
  watch.lastLook = deed.on;
  watch.clear = [];
  return watch;
}

/** The last day of the watch if nothing more is seen. @param {Watch} watch @param {any} care @returns {number} */
export function endsOn(watch, care) {
  return watch.lastFound + care.watch_days;
}

/** @param {Watch} watch @param {any} care @returns {boolean} */
function clearEnough(watch, care) {
  const clear = watch.clear;
  return clear.length >= care.clear_looks && clear[clear.length - 1] - clear[0] >= care.clear_gap;
}

/** @param {Map<string, Watch>} open @param {string} key @param {number} day @param {any} care */
function closeIfOver(open, key, day, care) {
  const watch = open.get(key);
  if (watch && (clearEnough(watch, care) || day > endsOn(watch, care))) open.delete(key);
}

/** @param {Watch} watch @param {Knowledge} know @returns {boolean} */
function alive(watch, know) {
  if (watch.batch === null) return know.ground.path(watch.place).length > 0;
  const state = know.states.get(watch.batch);
  return state !== undefined && state.overOn === null;
}

/**
 * First steps, next looks, and one look at each of the other batches that shared the house.
 * @param {Watch} watch
 * @param {string[]} others
 * @param {Knowledge} know
 * @returns {Work[]}
 */
export function watchWork(watch, others, know) {
  const care = know.rulebook.care[watch.found];
  /** @type {Work[]} */
  const work = [];
  if (care.steps.length && (watch.treated === null || watch.treated < watch.lastFound)) work.push(treat(watch, care, know));
  work.push(look(watch, care, know), ...others.map((other) => share(watch, care, other, know)));
  return work;
}

/**
 * For each watch the batches that shared its house and were not looked at since, each with the first watch it is due to.
 * @param {Watch[]} openWatches
 * @param {Knowledge} know
 * @returns {Map<string, string[]>}
 */
export function sharers(openWatches, know) {
  /** @type {Set<string>} */
  const due = new Set();
  /** @type {Map<string, string[]>} */
  const found = new Map();
  for (const watch of openWatches) {
    /** @type {string[]} */
    const here = [];
    found.set(watch.id, here);
    for (const other of sharersOf(watch, know.rulebook.care[watch.found], know)) {
      const state = /** @type {import("../read/batch-state.js").BatchState} */ (know.states.get(other));
      const looked = state.deeds.some(({ deed }) => deed.did === "look" && deed.found === watch.found && deed.on >= watch.opened);
      const key = `${other} ${watch.found}`;
      if (looked || due.has(key)) continue;
      due.add(key);
      here.push(other);
    }
  }
  return found;
}

/**
 * Words for the plants or the place, the subject's name, and where.
 * @param {Watch} watch
 * @param {Knowledge} know
 * @returns {{words: string, subject: string, place: string | null}}
 */
function subjectOf(watch, know) {
  if (watch.batch !== null) {
    const state = /** @type {import("../read/batch-state.js").BatchState} */ (know.states.get(watch.batch));
    return { words: plantsWords(state.know, null), subject: state.varietyName, place: state.mainPlace() || state.final };
  }
  const name = know.ground.name(watch.place) || "";
  return { words: name, subject: name, place: watch.place };
}

/** @param {Watch} watch @param {string} did @param {string | null} place */
function writesOf(watch, did, place) {
  /** @type {any} */
  const writes = { did, found: watch.found };
  if (watch.batch !== null) writes.batch = watch.batch;
  if (place !== null) writes.place = place;
  return writes;
}

/** @param {Watch} watch @param {any} care @param {Knowledge} know @returns {Work} */
function treat(watch, care, know) {
  const { words, subject, place } = subjectOf(watch, know);
  const steps = stepsNow(watch, care.steps);
  const says = steps.map((step, at) => (steps.length > 1 ? `${at + 1}. ${step.say}` : step.say));
  const job = `${watch.id}.treat.${watch.finds}`;
  const work = new Work({
    id: job,
    verb: "treat",
    title: `Treat ${words} for ${care.name}`,
    lead: "Treat".length,
    subject,
    writes: writesOf(watch, "treat", place),
    batch: watch.batch,
    place,
    minutes: steps.reduce((sum, step) => sum + (step.minutes || 10), 0),
    cautions: [...new Set(steps.flatMap((step) => step.cautions || []))],
    hint: says.join(". ") || null,
  });
  const why = `${watch.level} seen ${spoken(watch.lastFound)}`;
  work.lower.push([watch.lastFound, why]);
  work.aims.push([watch.lastFound, why]);
  work.upper.push([watch.lastFound + 1, why]);
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/**
 * What to do now: the mildest step, the next each time a look says no better; of many, all mild ones in order at once.
 * @param {Watch} watch
 * @param {any[]} steps
 * @returns {any[]}
 */
function stepsNow(watch, steps) {
  const at = Math.min(watch.rung, steps.length - 1);
  if (levelRank(watch.level) < MANY) return steps.slice(at, at + 1);
  let mild = 0;
  steps.forEach((step, index) => {
    if (!(step.cautions || []).includes("spray")) mild = index;
  });
  return steps.slice(0, Math.max(watch.rung > 0 ? at : 0, mild) + 1);
}

/** @param {Watch} watch @param {any} care @param {Knowledge} know @returns {Work} */
function look(watch, care, know) {
  const { words, subject, place } = subjectOf(watch, know);
  const [first, last] = care.recheck;
  const job = `${watch.id}.look.${iso(watch.lastLook)}`;
  let start = watch.lastLook + first;
  if (watch.clear.length && watch.clear.length + 1 >= care.clear_looks) {
    start = Math.max(start, watch.clear[0] + care.clear_gap);
  }
  const work = new Work({
    id: job,
    verb: "look",
    title: watch.batch ? `Look for ${care.name} on ${words}` : `Look for ${care.name}, ${words}`,
    lead: "Look".length,
    subject,
    writes: { ...writesOf(watch, "look", place), level: "none" },
    batch: watch.batch,
    place,
    minutes: know.minutes("watch"),
    hint: `look ${watch.looks + 1}, last seen ${spoken(watch.lastFound)}`,
  });
  const why = `looked ${spoken(watch.lastLook)}, look again after ${daysWords(first)}`;
  work.lower.push([start, why]);
  work.aims.push([start, why]);
  work.upper.push([start + last - first, why]);
  work.notes.push(
    `watched until ${spoken(endsOn(watch, care))}, or ${care.clear_looks} clear looks ${daysWords(care.clear_gap)} apart`,
  );
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/** @param {Watch} watch @param {any} care @param {Knowledge} know @returns {string[]} */
function sharersOf(watch, care, know) {
  if (watch.batch === null) return [];
  const houses = housesOf(watch.batch, watch.opened, know);
  /** @type {string[]} */
  const found = [];
  for (const state of know.states.values()) {
    if (state.id === watch.batch || state.overOn !== null || !care.hosts.includes(state.crop)) continue;
    for (const house of housesOf(state.id, watch.opened, know)) {
      if (houses.has(house)) {
        found.push(state.id);
        break;
      }
    }
  }
  return found;
}

/** @param {string} batch @param {number} day @param {Knowledge} know @returns {Set<string>} */
function housesOf(batch, day, know) {
  /** @type {Set<string>} */
  const houses = new Set();
  for (const stay of /** @type {import("../read/batch-state.js").BatchState} */ (know.states.get(batch)).stays) {
    const house = know.ground.house(stay.place);
    const over = stay.until !== null && stay.until < day - SHARED_DAYS;
    if (house !== null && stay.since <= day && !over) houses.add(house);
  }
  return houses;
}

/** `in the Lean-to`, `in Top beds`: where both stood. @param {Watch} watch @param {string} other @param {Knowledge} know @returns {string} */
function sharedWhere(watch, other, know) {
  const mine = housesOf(watch.batch || "", watch.opened, know);
  const both = [...housesOf(other, watch.opened, know)].filter((house) => mine.has(house));
  both.sort((a, b) => know.ground.walk(a) - know.ground.walk(b) || (a < b ? -1 : 1));
  return both.length ? `in ${know.ground.name(both[0]) || both[0]}` : "beside them";
}

/** @param {Watch} watch @param {any} care @param {string} other @param {Knowledge} know @returns {Work} */
function share(watch, care, other, know) {
  const state = /** @type {import("../read/batch-state.js").BatchState} */ (know.states.get(other));
  const firstWords = subjectOf(watch, know).words;
  const place = state.mainPlace() || state.final;
  const job = `${watch.id}.share.${other}`;
  /** @type {any} */
  const writes = { did: "look", found: watch.found, batch: other, level: "none" };
  if (place !== null) writes.place = place;
  const work = new Work({
    id: job,
    verb: "look",
    title: `Look for ${care.name} on ${plantsWords(state.know, null)}`,
    lead: "Look".length,
    subject: state.varietyName,
    writes,
    batch: other,
    place,
    minutes: know.minutes("watch"),
    hint: `they stood with ${firstWords} ${sharedWhere(watch, other, know)} in the last month`,
  });
  const why = `${care.name} on ${firstWords} ${spoken(watch.opened)}`;
  work.lower.push([watch.opened, why]);
  work.aims.push([watch.opened, why]);
  work.upper.push([watch.opened + SHARE_BY_DAYS, why]);
  work.letGo = know.letGoOn(job) !== null;
  return work;
}
