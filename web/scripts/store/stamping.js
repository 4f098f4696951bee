// @ts-check
/** What a store does with wishes and replies, apart from where it keeps things: used by both implementations. */
import { fieldStamps, mergeRecord } from "../kernel/merge.js";
import { hear, read, tick, write } from "../kernel/stamps.js";

/**
 * @typedef {import("../types.js").RecordForm} RecordForm
 * @typedef {import("../types.js").Wish} Wish
 * @typedef {import("../kernel/stamps.js").Reading} Reading
 */

/** The meta entries that a store reads and writes by itself. */
export const CLOCK = "clock";
export const CURSOR = "cursor";
export const EPOCH = "epoch";
export const PAGE = "page";

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
  for (const record of records) {
    for (const stamp of [record.stamp, ...Object.values(record.stamps || {})]) if (stamp > latest) latest = stamp;
  }
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
 * A whole record as one change, to be given to a server that lacks it.
 * @param {RecordForm} record
 * @returns {RecordForm}
 */
export function asChange(record) {
  return { ...record, fields: { ...record.fields } };
}
