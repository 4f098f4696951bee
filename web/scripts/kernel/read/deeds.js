// @ts-check
/**
 * Deeds: what the diary says was done, once each, in the order it was done. Two diary records with the same job and part
 * are one deed told twice: the larger count and weight stand, the worse level too, and both tellers are kept.
 */
import { parse } from "./days.js";

/**
 * @typedef {{on: number, at: string, stamp: string, id: string}} Order Day, time, stamp and id of a telling: what deeds are sorted by.
 * @typedef {{order: Order, ids: string[], tellers: string[], on: number, at: string, did: string, batch: string | null,
 *   place: string | null, toPlace: string | null, fixture: string | null, count: number | null, potL: number | null,
 *   job: string | null, part: number | null, found: string | null, level: string | null, weightG: number | null,
 *   tmin: number | null, condition: string | null}} Deed
 */

/** Tellings further apart are two deeds, though their job and part are the same: a shelf comes down every year. */
const TOLD_TWICE_DAYS = 60;
export const LEVELS = ["none", "few", "many", "severe"];

/**
 * Where a diary record stands among all that was told by today; null for what tells of nothing done by then.
 * @param {any} record
 * @param {number} today
 * @returns {Order | null}
 */
export function toldBy(record, today) {
  const { did, on, at } = record.fields;
  if ((did ?? null) === null || (on ?? null) === null) return null;
  const day = parse(on);
  return day <= today ? { on: day, at: at || "", stamp: record.stamp, id: record.id } : null;
}

/** Sorts by day, time, stamp and id. @param {Order} a @param {Order} b @returns {number} */
export function inOrderOfTelling(a, b) {
  return a.on - b.on || before(a.at, b.at) || before(a.stamp, b.stamp) || before(a.id, b.id);
}

/**
 * Deeds up to and including today from visible diary records, sorted by day, time, stamp and id.
 * @param {any[]} diary
 * @param {number} today
 * @returns {Deed[]}
 */
export function readDeeds(diary, today) {
  /** @type {{order: Order, fields: any}[]} */
  const told = [];
  for (const record of diary) {
    const order = toldBy(record, today);
    if (order !== null) told.push({ order, fields: record.fields });
  }
  told.sort((a, b) => inOrderOfTelling(a.order, b.order));
  /** @type {Deed[]} */
  const deeds = [];
  /** @type {Map<string, Deed>} */
  const byPart = new Map();
  for (const { order, fields } of told) {
    const job = fields.job ?? null;
    const part = fields.part ?? null;
    if (job === null || part === null) {
      deeds.push(deedOf(order, fields));
      continue;
    }
    const key = `${part} ${job}`;
    const same = byPart.get(key);
    if (same !== undefined && same.did === fields.did && order.on - same.on <= TOLD_TWICE_DAYS) {
      toldAgain(same, order.id, fields);
      continue;
    }
    const deed = deedOf(order, fields);
    deeds.push(deed);
    byPart.set(key, deed);
  }
  return deeds;
}

/** What one telling by itself says. @param {Order} order @param {any} fields @returns {Deed} */
export function deedOf(order, fields) {
  return {
    order,
    ids: [order.id],
    tellers: fields.by ? [fields.by] : [],
    on: order.on,
    at: order.at,
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
  };
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
