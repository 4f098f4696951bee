// @ts-check
/** The store's interface in memory: for tests, and for a window that cannot keep anything. */
import { EMPTY, digestWords, moved } from "../kernel/read/digest.js";
import { mergeRecord } from "../kernel/read/merge.js";
import { CLOCK, CURSOR, EPOCH, HEARD, OFFSET, PAGE, REPAIRED, asChanges, clockAfter, hearAll, isToBeRepaired, latestHeard, offsetFrom, restamp, stampAll, stampsOf, without } from "./stamping.js";

/**
 * @typedef {import("../types.js").RecordForm} RecordForm
 * @typedef {import("../types.js").Wish} Wish
 */

/** Keeps everything until the page is closed. */
export class MemoryStore {
  keeps = false;
  /** @type {Map<string, {record: RecordForm, resting: number}>} */
  #records = new Map();
  /** @type {Map<number, RecordForm>} */
  #outbox = new Map();
  /** @type {Map<string, any>} */
  #meta = new Map();
  /** @type {Map<string, any>} */
  #refused = new Map();
  #next = 1;

  /** @param {{device: string, now: () => number}} given */
  constructor({ device, now }) {
    this.device = device;
    this.now = now;
  }

  /** The time as the server tells it, as far as that is known. */
  #nowMs() {
    return this.now() + (this.#meta.get(OFFSET) || 0);
  }

  /** @param {RecordForm} record */
  #keep(record) {
    for (const part of asChanges(record)) {
      this.#outbox.set(this.#next, part);
      this.#next += 1;
    }
  }

  /** @param {Wish[]} wishes @returns {Promise<RecordForm[]>} */
  async write(wishes) {
    const clock = this.#meta.get(CLOCK) || { ms: 0, counter: 0 };
    const stamped = stampAll(wishes, clock, this.#nowMs(), this.device);
    this.#meta.set(CLOCK, stamped.clock);
    return stamped.changes.map((change) => {
      const merged = mergeRecord(this.#records.get(change.id)?.record, change);
      this.#records.set(change.id, { record: merged, resting: 0 });
      this.#outbox.set(this.#next, change);
      this.#next += 1;
      return merged;
    });
  }

  /** @returns {Promise<RecordForm[]>} */
  async live() {
    return [...this.#records.values()].filter((row) => !row.resting).map((row) => row.record);
  }

  /** @returns {Promise<RecordForm[]>} */
  async all() {
    return [...this.#records.values()].map((row) => row.record);
  }

  /** @param {number} limit */
  async outbox(limit) {
    return [...this.#outbox].slice(0, limit).map(([key, change]) => ({ key, change }));
  }

  /** @returns {Promise<number>} */
  async outboxCount() {
    return this.#outbox.size;
  }

  /** @param {any} reply @param {{key: number, change: RecordForm}[]} sent @returns {Promise<RecordForm[]>} */
  async applyReply(reply, sent) {
    const made = new Map(reply.restamped.map((/** @type {any} */ row) => [row.from, row.to]));
    const refusedStamps = new Map(reply.refused.map((/** @type {any} */ row) => [`${row.id} ${row.stamp}`, row]));
    const takenStamps = new Set(reply.taken.map((/** @type {any} */ row) => `${row.id} ${row.stamp}`));
    for (const { key, change } of sent) {
      const mark = `${change.id} ${change.stamp}`;
      const refusal = refusedStamps.get(mark);
      if (refusal) this.#refused.set(mark, { key: mark, change, field: refusal.field, why: refusal.why });
      if (refusal || takenStamps.has(mark)) this.#outbox.delete(key);
    }
    if (made.size) for (const row of this.#records.values()) row.record = restamp(row.record, made);
    const unwanted = [...this.#refused.values()].map((one) => one.change);
    const waiting = [...this.#outbox.values(), ...unwanted].flatMap(stampsOf);
    this.#meta.set(CLOCK, clockAfter(this.#meta.get(CLOCK) || { ms: 0, counter: 0 }, reply, waiting));
    const changed = [];
    for (const record of reply.records) {
      const held = this.#records.get(record.id);
      const merged = mergeRecord(held?.record, record);
      this.#records.set(record.id, { record: merged, resting: 0 });
      changed.push(merged);
    }
    this.#meta.set(OFFSET, offsetFrom(reply.now, this.now()));
    this.#meta.set(CLOCK, hearAll(this.#meta.get(CLOCK) || { ms: 0, counter: 0 }, reply.records, this.#nowMs()));
    this.#meta.set(HEARD, latestHeard(this.#meta.get(HEARD), reply));
    this.#meta.set(EPOCH, reply.epoch);
    if (reply.reset) for (const { record } of this.#records.values()) this.#keep(record);
    this.#meta.set(PAGE, reply.reset ? null : reply.page);
    if (reply.reset) this.#meta.set(CURSOR, 0);
    else if (!reply.page) this.#meta.set(CURSOR, reply.upto);
    return changed;
  }

  /** @param {string} name @returns {Promise<any>} */
  async meta(name) {
    return this.#meta.get(name) ?? null;
  }

  /** @param {string} name @param {any} value */
  async setMeta(name, value) {
    this.#meta.set(name, value);
  }

  /** @returns {Promise<any[]>} */
  async refused() {
    return [...this.#refused.values()];
  }

  /** @param {string} key @param {boolean} [stands] */
  async dropRefused(key, stands = false) {
    const change = this.#refused.get(key)?.change;
    this.#refused.delete(key);
    const row = change && this.#records.get(change.id);
    if (!row || stands) return;
    const record = without(row.record, change);
    if (record) row.record = record;
    else this.#records.delete(change.id);
    this.#beginAnew();
  }

  #beginAnew() {
    this.#meta.set(CURSOR, 0);
    this.#meta.set(PAGE, null);
  }

  /** @param {string} theirs @returns {Promise<"same" | "unfinished" | "repairs" | "differs">} */
  async compare(theirs) {
    if (this.#outbox.size || this.#refused.size) return "unfinished";
    const held = [...this.#records.values()].map(({ record }) => record);
    const now = { mine: digestWords(held.reduce((sum, record) => moved(sum, null, record), EMPTY)), theirs, at: this.now() };
    if (now.mine === theirs) return "same";
    if (!isToBeRepaired(this.#meta.get(REPAIRED), now)) return "differs";
    this.#meta.set(REPAIRED, now);
    for (const record of held) this.#keep(record);
    this.#beginAnew();
    return "repairs";
  }

  /** @param {string[]} ids */
  async rest(ids) {
    const asleep = new Set(ids);
    for (const [id, row] of this.#records) row.resting = asleep.has(id) ? 1 : 0;
  }

  /** Records of other phones or a saved copy, merged in and kept for sharing. @param {RecordForm[]} changes */
  async bringIn(changes) {
    const merged = [];
    for (const change of changes) {
      const held = this.#records.get(change.id)?.record;
      const after = mergeRecord(held, change);
      if (held && JSON.stringify(after) === JSON.stringify(held)) continue;
      this.#records.set(change.id, { record: after, resting: 0 });
      this.#keep(change);
      merged.push(after);
    }
    this.#meta.set(CLOCK, hearAll(this.#meta.get(CLOCK) || { ms: 0, counter: 0 }, changes, this.#nowMs()));
    return merged;
  }

  /** Nothing to close. */
  async close() {}
}
