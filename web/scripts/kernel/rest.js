// @ts-check
/**
 * Rest: records of old seasons that no list needs any more, so that ten seasons weigh no more than one. The list without
 * resting records is the same list.
 */
import { yearOf } from "./days.js";
import { visible } from "./merge.js";
import { read } from "./settle.js";

/** @typedef {import("../types.js").RecordForm} RecordForm */

const REST_AFTER_DAYS = 400;

/**
 * Ids of records that may rest, sorted: batches long over with all they hold, and old place entries.
 * @param {any} rulebook
 * @param {RecordForm[]} records
 * @param {string} today
 * @returns {string[]}
 */
export function resting(rulebook, records, today) {
  const { know, deeds } = read(rulebook, records, today);
  const old = know.today - REST_AFTER_DAYS;
  /** @type {Set<string>} */
  const asleep = new Set();
  for (const state of know.states.values()) if (longOver(state, know.today, old)) asleep.add(state.id);
  /** @type {Map<string, string>} */
  const newest = new Map();
  /** @type {{key: string, id: string, on: number, fixture: string | null}[]} */
  const placeDeeds = [];
  const ids = new Set(asleep);
  for (const deed of deeds) {
    if (deed.batch !== null) {
      if (asleep.has(deed.batch)) for (const id of deed.ids) ids.add(id);
      continue;
    }
    if (deed.job !== null && deed.did === "note") continue;
    const key = JSON.stringify([deed.did, deed.found, deed.place, deed.fixture]);
    for (const id of deed.ids) {
      newest.set(key, id);
      placeDeeds.push({ key, id, on: deed.on, fixture: deed.fixture });
    }
  }
  for (const { key, id, on, fixture } of placeDeeds) {
    if (on < old && newest.get(key) !== id && fixture === null) ids.add(id);
  }
  for (const record of records) {
    if (record.kind !== "job" || !visible(record) || record.fields.hand === true) continue;
    const parts = record.id.split(".");
    for (let end = 1; end < parts.length; end += 1) {
      if (asleep.has(parts.slice(0, end).join("."))) ids.add(record.id);
    }
  }
  return [...ids].sort();
}

/** @param {import("./fold.js").BatchState} state @param {number} today @param {number} old @returns {boolean} */
function longOver(state, today, old) {
  if (state.deeds.some(({ deed }) => deed.on >= old)) return false;
  if (state.overOn !== null) return state.overOn < old;
  return !state.begun && state.year < yearOf(today) - 1;
}
