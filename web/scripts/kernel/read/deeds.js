// @ts-check
/**
 * Deeds: what the diary says was done, once each, in the order it was done. Two diary records with the same job and part
 * are one deed told twice: the larger count and weight stand, the worse level too, and both tellers are kept.
 */
import { parse } from "./days.js";

/**
 * @typedef {{stamp: string, ids: string[], tellers: string[], on: number, at: string, did: string, batch: string | null,
 *   place: string | null, toPlace: string | null, fixture: string | null, count: number | null, potL: number | null,
 *   job: string | null, part: number | null, found: string | null, level: string | null, weightG: number | null,
 *   tmin: number | null, condition: string | null, answer: string | null, about: number | null, believed: boolean}} Deed believed:
 *   nobody told of it, its time is past, and nothing speaks against it; about: the day on which it was told, where `on` is only about
 *   when it was done
 */

/** Tellings further apart are two deeds, though their job and part are the same: a shelf comes down every year. */
const TOLD_TWICE_DAYS = 60;
export const LEVELS = ["none", "few", "many", "severe"];

/** Sorts by day, time, stamp and id of the first telling. @param {Deed} a @param {Deed} b @returns {number} */
export function inOrderOfTelling(a, b) {
  return a.on - b.on || before(a.at, b.at) || before(a.stamp, b.stamp) || before(a.ids[0], b.ids[0]);
}

/**
 * Deeds up to and including today from visible diary records, sorted by day, time, stamp and id.
 * @param {any[]} diary
 * @param {number} today
 * @returns {Deed[]}
 */
export function readDeeds(diary, today) {
  /** @type {Deed[]} */
  const told = [];
  for (const record of diary) {
    const deed = deedOf(record, today);
    if (deed !== null) told.push(deed);
  }
  told.sort(inOrderOfTelling);
  /** @type {Deed[]} */
  const deeds = [];
  /** @type {Map<string, Deed>} */
  const byPart = new Map();
  for (const deed of told) {
    if (deed.job === null || deed.part === null) {
      deeds.push(deed);
      continue;
    }
    const key = `${deed.part} ${deed.job}`;
    const same = byPart.get(key);
    if (same !== undefined && same.did === deed.did && deed.on - same.on <= TOLD_TWICE_DAYS) {
      toldAgain(same, deed);
    } else {
      deeds.push(deed);
      byPart.set(key, deed);
    }
  }
  return deeds;
}

/**
 * What one diary record by itself says; null where it tells of nothing done by today.
 * @param {any} record
 * @param {number} today
 * @returns {Deed | null}
 */
export function deedOf(record, today) {
  const fields = record.fields;
  if ((fields.did ?? null) === null || (fields.on ?? null) === null) return null;
  const on = parse(fields.on);
  if (on > today) return null;
  return {
    stamp: record.stamp,
    ids: [record.id],
    tellers: fields.by ? [fields.by] : [],
    on,
    at: fields.at || "",
    did: fields.did,
    batch: fields.batch ?? null,
    place: fields.place ?? null,
    toPlace: fields.to_place ?? null,
    fixture: fields.fixture ?? null,
    count: fields.count ?? null,
    potL: fields.pot_l ?? null,
    job: fields.job ?? null,
    part: fields.part ?? null,
    found: fields.found ?? null,
    level: fields.level ?? null,
    weightG: fields.weight_g ?? null,
    tmin: fields.tmin ?? null,
    condition: fields.condition ?? null,
    answer: fields.answer ?? null,
    about: fields.about ? parse(fields.about) : null,
    believed: false,
  };
}

/** @param {string} a @param {string} b @returns {number} */
function before(a, b) {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** @param {Deed} deed @param {Deed} other */
function toldAgain(deed, other) {
  deed.ids.push(...other.ids);
  for (const teller of other.tellers) if (!deed.tellers.includes(teller)) deed.tellers.push(teller);
  if (other.count !== null && (deed.count === null || other.count > deed.count)) deed.count = other.count;
  if (other.weightG !== null && (deed.weightG === null || other.weightG > deed.weightG)) deed.weightG = other.weightG;
  if (levelRank(other.level) > levelRank(deed.level)) {
    deed.level = other.level;
    deed.found = other.found || deed.found;
  }
}

/** 0 for none seen or nothing said, up to 3 for severe. @param {string | null} level @returns {number} */
export function levelRank(level) {
  const rank = level === null ? -1 : LEVELS.indexOf(level);
  return rank < 0 ? 0 : rank;
}
