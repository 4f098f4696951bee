// @ts-check
/**
 * Deeds: what the diary says was done, once each, in the order it was done. Two diary records with the same job and part
 * are one deed told twice: the larger count and weight stand, the worse level too, and both tellers are kept.
 */
import { parse } from "./days.js";

/**
 * @typedef {{ids: string[], tellers: string[], on: number, at: string, did: string, batch: string | null,
 *   place: string | null, toPlace: string | null, fixture: string | null, count: number | null, potL: number | null,
 *   job: string | null, part: number | null, found: string | null, level: string | null, weightG: number | null,
 *   tmin: number | null, condition: string | null}} Deed
 */

/** Tellings further apart are two deeds, though their job and part are the same: a shelf comes down every year. */
const TOLD_TWICE_DAYS = 60;
export const LEVELS = ["none", "few", "many", "severe"];

/**
 * Deeds up to and including today from visible diary records, sorted by day, time, stamp and id.
 * @param {any[]} diary
 * @param {number} today
 * @returns {Deed[]}
 */
export function readDeeds(diary, today) {
  /** @type {{on: number, at: string, record: any}[]} */
  const told = [];
  for (const record of diary) {
    const fields = record.fields;
    if ((fields.did ?? null) === null || (fields.on ?? null) === null) continue;
    const on = parse(fields.on);
    if (on <= today) told.push({ on, at: fields.at || "", record });
  }
  told.sort(
    (a, b) =>
      a.on - b.on ||
      before(a.at, b.at) ||
      before(a.record.stamp, b.record.stamp) ||
      before(a.record.id, b.record.id),
  );
  /** @type {Deed[]} */
  const deeds = [];
  /** @type {Map<string, Deed>} */
  const byPart = new Map();
  for (const { on, at, record } of told) {
    const fields = record.fields;
    const job = fields.job ?? null;
    const part = fields.part ?? null;
    const key = job !== null && part !== null ? `${part} ${job}` : null;
    if (key !== null) {
      const same = byPart.get(key);
      if (same && same.did === fields.did && on - same.on <= TOLD_TWICE_DAYS) {
        toldAgain(same, record.id, fields);
        continue;
      }
    }
    /** @type {Deed} */
    const deed = {
      ids: [record.id],
      tellers: fields.by ? [fields.by] : [],
      on,
      at,
      did: fields.did,
      batch: fields.batch ?? null,
      place: fields.place ?? null,
      toPlace: fields.to_place ?? null,
      fixture: fields.fixture ?? null,
      count: fields.count ?? null,
      potL: fields.pot_l ?? null,
      job,
      part,
      found: fields.found ?? null,
      level: fields.level ?? null,
      weightG: fields.weight_g ?? null,
      tmin: fields.tmin ?? null,
      condition: fields.condition ?? null,
    };
    deeds.push(deed);
    if (key !== null) byPart.set(key, deed);
  }
  return deeds;
}

/** @param {string} a @param {string} b @returns {number} */
function before(a, b) {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** @param {Deed} deed @param {string} id @param {any} fields */
function toldAgain(deed, id, fields) {
  deed.ids.push(id);
  const teller = fields.by;
  if (teller && !deed.tellers.includes(teller)) deed.tellers.push(teller);
  const count = fields.count ?? null;
  const weight = fields.weight_g ?? null;
  if (count !== null && (deed.count === null || count > deed.count)) deed.count = count;
  if (weight !== null && (deed.weightG === null || weight > deed.weightG)) deed.weightG = weight;
  if (levelRank(fields.level ?? null) > levelRank(deed.level)) {
    deed.level = fields.level;
    deed.found = fields.found || deed.found;
  }
}

/** 0 for none seen or nothing said, up to 3 for severe. @param {string | null} level @returns {number} */
export function levelRank(level) {
  const rank = level === null ? -1 : LEVELS.indexOf(level);
  return rank < 0 ? 0 : rank;
}
