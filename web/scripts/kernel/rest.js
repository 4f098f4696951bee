// @ts-check
/**
 * Rest: records of old seasons that no list needs any more, so that ten seasons weigh no more than one. The list without
 * resting records is the same list.
 */
import { parse, yearOf } from "./read/days.js";
import { letSlip } from "./follow/lay-out.js";
import { lotsOf } from "./follow/store.js";
import { stem } from "./read/diary.js";
import { visible } from "./read/merge.js";
import { readDeeds } from "./read/deeds.js";
import { Reading } from "./read/reading.js";
import { Knowledge } from "./follow/knowledge.js";

/**
 * @typedef {import("../types.js").RecordForm} RecordForm
 */

const REST_AFTER_DAYS = 120;
/** A thermometer's older months are looked at only by who asks for them. */
const READINGS_REST_AFTER_DAYS = 730;
/** A reading at or under this may have ended something that still stands. [°C] */
const COLD_C = 5;
/** How the ids of work that a household chose begin: the last time of each is needed, however long ago. */
const UPKEEP = "upkeep.";

/**
 * Ids of records that may rest, sorted: batches long over with all they hold, old place entries and old readings.
 * @param {any} rulebook
 * @param {RecordForm[]} records
 * @param {string} today
 * @returns {string[]}
 */
export function resting(rulebook, records, today) {
  const know = new Knowledge(new Reading(rulebook, records, today));
  const diary = records.filter((record) => record.kind === "diary" && visible(record));
  const old = know.today - REST_AFTER_DAYS;
  const asleep = asleepBatches(know, old);
  /** @type {Map<string, string>} */
  const newest = new Map();
  /** @type {{key: string, id: string, on: number}[]} */
  const placeDeeds = [];
  const ids = new Set(asleep);
  for (const deed of readDeeds(diary, know.today)) {
    if (alwaysNeeded(deed, know)) continue;
    if (deed.batch !== null) {
      if (asleep.has(deed.batch)) for (const id of deed.ids) ids.add(id);
      continue;
    }
    const key = JSON.stringify([deed.did, deed.found, deed.place, deed.job !== null && deed.job.startsWith(UPKEEP) ? stem(deed.job) : null]);
    for (const id of deed.ids) {
      newest.set(key, id);
      placeDeeds.push({ key, id, on: deed.on });
    }
  }
  for (const { key, id, on } of placeDeeds) if (on < old && newest.get(key) !== id) ids.add(id);
  for (const record of records) {
    if (record.kind === "readings" && visible(record) && record.fields.month) {
      if (parse(`${record.fields.month}-01`) < know.today - READINGS_REST_AFTER_DAYS) ids.add(record.id);
      continue;
    }
    if (record.kind !== "job" || !visible(record) || record.fields.hand === true) continue;
    const parts = record.id.split(".");
    for (let end = 1; end < parts.length; end += 1) {
      if (asleep.has(parts.slice(0, end).join("."))) ids.add(record.id);
    }
  }
  return [...ids].sort();
}

/** Batches long over that nothing awake still names. @param {Knowledge} know @param {number} old @returns {Set<string>} */
function asleepBatches(know, old) {
  /** @type {Set<string>} */
  const asleep = new Set();
  for (const state of know.states.values()) if (longOver(state, know, old)) asleep.add(state.id);
  /** @type {string[]} */
  const named = [];
  for (const fields of know.changes.values()) if (fields.hand === true && fields.batch) named.push(fields.batch);
  for (const state of know.states.values()) {
    if (!asleep.has(state.id)) named.push(state.fields.follows || "", state.fields.near || "");
  }
  while (named.length) {
    const id = /** @type {string} */ (named.pop());
    if (!asleep.delete(id)) continue;
    const fields = /** @type {import("./read/batch-state.js").BatchState} */ (know.states.get(id)).fields;
    named.push(fields.follows || "", fields.near || "");
  }
  return asleep;
}

/**
 * Deeds whose effect has no end: what stands up, jobs by hand that were done, and killing cold.
 * @param {import("./read/deeds.js").Deed} deed
 * @param {Knowledge} know
 * @returns {boolean}
 */
function alwaysNeeded(deed, know) {
  if (deed.fixture !== null || (deed.tmin !== null && deed.tmin <= COLD_C)) return true;
  return deed.job !== null && (know.changes.has(deed.job) || know.changes.has(deed.job.slice(0, -11)));
}

/** @param {import("./read/batch-state.js").BatchState} state @param {Knowledge} know @param {number} old @returns {boolean} */
function longOver(state, know, old) {
  if (lotsOf(state, know).length) return false;
  if (state.deeds.some(({ deed }) => deed.on >= old)) return false;
  if (state.overOn !== null) return state.overOn < old;
  // without a path (its crop is not in the rulebook) it asks for nothing, whatever its dates
  return !state.begun && (!state.steps.length || letSlip(state, know)) && state.year < yearOf(know.today) - 1;
}
