// @ts-check
/** What a store does with wishes and replies, apart from where it keeps things: used by both implementations. */
import { canonical, fieldStamps, mergeRecord } from "../kernel/read/merge.js";
import { hear, later, read, tick, write } from "../kernel/read/stamps.js";

/**
 * @typedef {import("../types.js").RecordForm} RecordForm
 * @typedef {import("../types.js").Wish} Wish
 * @typedef {import("../kernel/read/stamps.js").Reading} Reading
 */

/** The meta entries that a store reads and writes by itself. */
export const CLOCK = "clock";
export const CURSOR = "cursor";
export const EPOCH = "epoch";
export const PAGE = "page";
export const OFFSET = "clockOffset";
/** The latest reading the server ever told: what it may have forgotten if it was put back from an older copy. */
export const HEARD = "heard";
/** Of all records of this phone, to be compared with the server's. */
export const DIGEST = "digest";
/** When everything was last sent and fetched anew because the two differed, and what they were. */
export const REPAIRED = "repaired";
const REPAIR_EACH_MS = 6 * 3600_000;
/** A phone's clock is put right by the server's only when it is further off than this. [ms] */
const NEAR_ENOUGH_MS = 120_000;
const MOST_FIELDS_A_CHANGE = 60;
const MOST_LETTERS_A_CHANGE = 8000;

/**
 * How far this phone's clock is behind the server's, as far as that matters. [ms]
 * @param {number} serverMs
 * @param {number} nowMs
 * @returns {number}
 */
export function offsetFrom(serverMs, nowMs) {
  const behind = serverMs - nowMs;
  return Math.abs(behind) > NEAR_ENOUGH_MS ? behind : 0;
}

/**
 * The clock after an exchange: never behind anything that was heard or that waits. Only where nothing of this phone's own is ahead any
 * more, because all of it was brought down, does a clock that ran ahead come back.
 * @param {Reading} clock
 * @param {any} reply
 * @param {string[]} waiting stamps of what is still to be sent, or was refused
 * @returns {Reading}
 */
export function clockAfter(clock, reply, waiting) {
  const made = reply.restamped.map((/** @type {any} */ row) => row.to);
  const taken = reply.clock ? read(reply.clock) : { ms: made.length ? reply.now : 0, counter: 0 }; // an older server tells none
  const heard = [...made, ...waiting].map(read).reduce(later, taken);
  return made.length && !reply.reset ? heard : later(clock, heard);
}

/** @param {string | null | undefined} before @param {any} reply @returns {string | null} */
export function latestHeard(before, reply) {
  return reply.clock && (!before || reply.clock > before) ? reply.clock : (before ?? null);
}

/** Every stamp of a record or change. @param {RecordForm} record @returns {string[]} */
export function stampsOf(record) {
  return [record.stamp, ...Object.values(record.stamps || {})];
}

/**
 * Wishes with stamps, and the clock after them.
 * @param {Wish[]} wishes
 * @param {Reading} clock
 * @param {number} nowMs
 * @param {string} device
 * @returns {{changes: RecordForm[], clock: Reading}}
 */
export function stampAll(wishes, clock, nowMs, device) {
  let last = clock;
  const changes = wishes.map(({ id, kind, fields }) => {
    last = tick(last, nowMs);
    return { id, kind, stamp: write(last, device), fields: { ...fields } };
  });
  return { changes, clock: last };
}

/**
 * The clock after records came from elsewhere.
 * @param {Reading} clock
 * @param {RecordForm[]} records
 * @param {number} nowMs
 * @returns {Reading}
 */
export function hearAll(clock, records, nowMs) {
  let latest = "";
  for (const record of records) for (const stamp of stampsOf(record)) if (stamp > latest) latest = stamp;
  return latest ? hear(clock, read(latest), nowMs) : clock;
}

/**
 * A record with some of its stamps brought down, as the server told.
 * @param {RecordForm} record
 * @param {Map<string, string>} made
 * @returns {RecordForm}
 */
export function restamp(record, made) {
  const stamps = fieldStamps(record);
  if (!Object.values(stamps).some((stamp) => made.has(stamp))) return record;
  /** @type {RecordForm | null} */
  let after = null;
  for (const [name, stamp] of Object.entries(stamps)) {
    const change = { id: record.id, kind: record.kind, stamp: made.get(stamp) || stamp, fields: { [name]: record.fields[name] } };
    after = mergeRecord(after, change);
  }
  return after || record;
}

/**
 * A record without what a change said, where that still stands; null where nothing is left of it.
 * @param {RecordForm} record
 * @param {RecordForm} change
 * @returns {RecordForm | null}
 */
export function without(record, change) {
  const stamps = fieldStamps(record);
  const said = fieldStamps(change);
  const left = Object.keys(record.fields).filter((name) => stamps[name] !== said[name]);
  if (!left.length) return null;
  return canonical(record.id, record.kind, Object.fromEntries(left.map((name) => [name, record.fields[name]])), stamps, record.stamp);
}

/**
 * Whether everything is to be sent and fetched anew: not twice for the same difference, nor again within hours.
 * @param {{mine: string, theirs: string, at: number} | null | undefined} last
 * @param {{mine: string, theirs: string, at: number}} now
 */
export function isToBeRepaired(last, now) {
  if (!last) return true;
  return Math.abs(now.at - last.at) > REPAIR_EACH_MS && (last.mine !== now.mine || last.theirs !== now.theirs);
}

/**
 * A whole record as changes, each small enough, to be given to a server that lacks it.
 * @param {RecordForm} record
 * @returns {RecordForm[]}
 */
export function asChanges(record) {
  const stamps = fieldStamps(record);
  /** @type {RecordForm[]} */
  const parts = [];
  let letters = MOST_LETTERS_A_CHANGE;
  let fields = 0;
  for (const name of Object.keys(record.fields).sort()) {
    const size = JSON.stringify(record.fields[name] ?? null).length;
    if (letters + size > MOST_LETTERS_A_CHANGE || fields >= MOST_FIELDS_A_CHANGE) {
      parts.push({ id: record.id, kind: record.kind, stamp: record.stamp, fields: {} });
      letters = 0;
      fields = 0;
    }
    const part = parts[parts.length - 1];
    part.fields[name] = record.fields[name];
    if (stamps[name] !== part.stamp) (part.stamps ||= {})[name] = stamps[name];
    letters += size;
    fields += 1;
  }
  return parts;
}
