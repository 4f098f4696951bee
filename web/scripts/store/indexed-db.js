// @ts-check
/**
 * The phone's store over IndexedDB. A write is on the disk when its promise has resolved: records, outbox and clock in
 * one strict transaction.
 */
import { mergeRecord } from "../kernel/read/merge.js";
import { Connection, done } from "./connection.js";
import { asProblem } from "./problems.js";
import { EMPTY, digestWords, moved } from "../kernel/read/digest.js";
import { CLOCK, CURSOR, DIGEST, EPOCH, HEARD, OFFSET, PAGE, REPAIRED, asChanges, clockAfter, hearAll, isToBeRepaired, latestHeard, offsetFrom, restamp, stampAll, stampsOf, without } from "./stamping.js";

/**
 * @typedef {import("../types.js").RecordForm} RecordForm
 * @typedef {import("../types.js").Wish} Wish
 * @typedef {{id: string, resting: number, record: RecordForm}} Row
 */

/** Everything the phone keeps. Make it with `openStore`. */
export class IndexedDbStore {
  /** What is written outlasts the window. */
  keeps = true;
  /** @type {Connection} */
  #connection;

  /**
   * @param {{device: string, now: () => number, makeRoom?: () => Promise<boolean>, onBlocked?: () => void,
   *   onOld?: () => void}} given makeRoom: lets go of something that can be had again, on a full phone; whether there was any
   */
  constructor({ device, now, makeRoom, onBlocked, onOld }) {
    this.device = device;
    this.now = now;
    this.#connection = new Connection({ makeRoom, onBlocked, onOld });
  }

  /** Open, and find out whether the store can be used at all. */
  async open() {
    await this.#connection.open();
  }

  /** Stamp, merge and keep changes. @param {Wish[]} wishes @returns {Promise<RecordForm[]>} the records after them */
  write(wishes) {
    return this.#connection.transact("readwrite", async ({ records, outbox, meta }) => {
      const [clock, offset, digest, ...held] = await Promise.all([
        done(meta.get(CLOCK)),
        done(meta.get(OFFSET)),
        done(meta.get(DIGEST)),
        ...wishes.map((wish) => done(records.get(wish.id))),
      ]);
      const stamped = stampAll(wishes, clock || { ms: 0, counter: 0 }, this.now() + (offset || 0), this.device);
      /** @type {Map<string, RecordForm>} */
      const merged = new Map();
      stamped.changes.forEach((change, at) => {
        const mine = merged.get(change.id) || held[at]?.record;
        merged.set(change.id, mergeRecord(mine, change));
        outbox.add(change);
      });
      const before = new Map(held.map((row) => [row?.id, row?.record]));
      keepAll(records, meta, digest, [...merged.values()].map((after) => ({ before: before.get(after.id), after })));
      meta.put(stamped.clock, CLOCK);
      return [...merged.values()];
    });
  }

  /** Records that a list may still need. @returns {Promise<RecordForm[]>} */
  async live() {
    const rows = await this.#connection.transact("readonly", async ({ records }) => {
      // an index is far slower to read than the store itself: in a first season nothing rests yet
      const resting = await done(records.index("resting").count(1));
      return done(resting ? records.index("resting").getAll(0) : records.getAll());
    });
    return rows.map((/** @type {Row} */ row) => row.record);
  }

  /** Every record. @returns {Promise<RecordForm[]>} */
  async all() {
    const rows = await this.#connection.transact("readonly", ({ records }) => done(records.getAll()));
    return rows.map((/** @type {Row} */ row) => row.record);
  }

  /** Changes not yet acknowledged, oldest first. @param {number} limit @returns {Promise<{key: number, change: RecordForm}[]>} */
  async outbox(limit) {
    return this.#connection.transact("readonly", async ({ outbox }) => {
      const [keys, changes] = await Promise.all([done(outbox.getAllKeys(null, limit)), done(outbox.getAll(null, limit))]);
      return keys.map((/** @type {any} */ key, /** @type {number} */ at) => ({ key: Number(key), change: changes[at] }));
    });
  }

  /** @returns {Promise<number>} */
  outboxCount() {
    return this.#connection.transact("readonly", ({ outbox }) => done(outbox.count()));
  }

  /**
   * Take in the server's answer: acknowledged and refused changes leave the outbox, records are merged, the cursor moves.
   * Where the server lost something (`reset`), every record goes back into the outbox and the cursor begins anew.
   * @param {any} reply
   * @param {{key: number, change: RecordForm}[]} sent
   * @returns {Promise<RecordForm[]>} records as they are now
   */
  applyReply(reply, sent) {
    return this.#connection.transact("readwrite", async ({ records, outbox, meta, refused }) => {
      const made = new Map(reply.restamped.map((/** @type {any} */ row) => [row.from, row.to]));
      const refusals = new Map(reply.refused.map((/** @type {any} */ row) => [`${row.id} ${row.stamp}`, row]));
      const taken = new Set(reply.taken.map((/** @type {any} */ row) => `${row.id} ${row.stamp}`));
      for (const { key, change } of sent) {
        const mark = `${change.id} ${change.stamp}`;
        const refusal = refusals.get(mark);
        if (refusal) refused.put({ key: mark, change, field: refusal.field, why: refusal.why });
        if (refusal || taken.has(mark)) outbox.delete(key);
      }
      if (made.size) {
        const own = await heldRows(records, sent.map(({ change }) => change));
        const rows = new Map(own.flatMap((row) => (row ? [[row.id, row]] : [])));
        keepAll(records, meta, await done(meta.get(DIGEST)), [...rows.values()].map((row) => ({ before: row.record, after: restamp(row.record, made), resting: row.resting })));
      }
      const [left, unwanted] = made.size ? await Promise.all([done(outbox.getAll()), done(refused.getAll())]) : [[], []];
      const waiting = [...left, ...unwanted.map((/** @type {any} */ one) => one.change)].flatMap(stampsOf);
      const clock = clockAfter((await done(meta.get(CLOCK))) || { ms: 0, counter: 0 }, reply, waiting);
      const held = await heldRows(records, reply.records);
      const merged = reply.records.map((/** @type {RecordForm} */ record, /** @type {number} */ at) => {
        const before = held[at]?.record;
        return { before, after: before ? mergeRecord(before, record) : record };
      });
      keepAll(records, meta, await done(meta.get(DIGEST)), merged.filter(isNews));
      const offset = offsetFrom(reply.now, this.now());
      meta.put(offset, OFFSET);
      meta.put(hearAll(clock, reply.records, this.now() + offset), CLOCK);
      meta.put(latestHeard(await done(meta.get(HEARD)), reply), HEARD);
      meta.put(reply.epoch, EPOCH);
      if (reply.reset) {
        for (const row of await done(records.getAll())) for (const part of asChanges(row.record)) outbox.add(part);
      }
      meta.put(reply.reset ? null : reply.page, PAGE);
      if (reply.reset) meta.put(0, CURSOR);
      else if (!reply.page) meta.put(reply.upto, CURSOR);
      return merged.map((/** @type {Change} */ { after }) => after);
    });
  }

  /** Records of a saved copy, merged in and kept for sharing. @param {RecordForm[]} changes @returns {Promise<RecordForm[]>} */
  bringIn(changes) {
    return this.#connection.transact("readwrite", async ({ records, outbox, meta }) => {
      const clock = (await done(meta.get(CLOCK))) || { ms: 0, counter: 0 };
      const held = await heldRows(records, changes);
      const news = changes.map((change, at) => ({ before: held[at]?.record, after: mergeRecord(held[at]?.record, change), change })).filter(isNews);
      keepAll(records, meta, await done(meta.get(DIGEST)), news);
      for (const { change } of news) for (const part of asChanges(change)) outbox.add(part);
      meta.put(hearAll(clock, changes, this.now() + ((await done(meta.get(OFFSET))) || 0)), CLOCK);
      return news.map(({ after }) => after);
    });
  }

  /** A fact of this phone's own. @param {string} name @returns {Promise<any>} */
  async meta(name) {
    return (await this.#connection.transact("readonly", ({ meta }) => done(meta.get(name)))) ?? null;
  }

  /** @param {string} name @param {any} value @returns {Promise<void>} */
  setMeta(name, value) {
    return this.#connection.transact("readwrite", ({ meta }) => void meta.put(value, name));
  }

  /** What the server refused, with why; kept until the grower deals with it. @returns {Promise<any[]>} */
  refused() {
    return this.#connection.transact("readonly", ({ refused }) => done(refused.getAll()));
  }

  /**
   * Let go of a refused change: what it said no longer stands here, and what the server holds comes back.
   * @param {string} key
   * @param {boolean} [stands] its words stay for now: somebody mends them
   * @returns {Promise<void>}
   */
  dropRefused(key, stands = false) {
    return this.#connection.transact("readwrite", async ({ records, meta, refused }) => {
      const change = (await done(refused.get(key)))?.change;
      refused.delete(key);
      const row = change && (await done(records.get(change.id)));
      if (!row || stands) return;
      const after = without(row.record, change);
      keepAll(records, meta, await done(meta.get(DIGEST)), [{ before: row.record, after, resting: row.resting }]);
      meta.put(0, CURSOR);
      meta.put(null, PAGE);
    });
  }

  /**
   * After an exchange that both sides call done: whether this phone holds just what the server does. Where it does not, everything is
   * sent and fetched anew: the outbox holds all of it then, and the cursor begins at nothing.
   * @param {string} theirs the server's digest
   * @returns {Promise<"same" | "unfinished" | "repairs" | "differs">} unfinished: something waits still, or was refused
   */
  async compare(theirs) {
    // nearly always they agree; a look that only reads holds no write up
    const agree = await this.#connection.transact("readonly", async ({ outbox, meta, refused }) => {
      const [waiting, unwanted, kept] = await Promise.all([done(outbox.count()), done(refused.count()), done(meta.get(DIGEST))]);
      return !waiting && !unwanted && kept && digestWords(kept) === theirs;
    });
    return agree ? "same" : this.#compareWhole(theirs);
  }

  /** @param {string} theirs @returns {Promise<"same" | "unfinished" | "repairs" | "differs">} */
  #compareWhole(theirs) {
    return this.#connection.transact("readwrite", async ({ records, outbox, meta, refused }) => {
      const [waiting, unwanted] = await Promise.all([done(outbox.count()), done(refused.count())]);
      if (waiting || unwanted) return "unfinished";
      const rows = /** @type {Row[]} */ (await done(records.getAll()));
      const digest = rows.reduce((sum, { record }) => moved(sum, null, record), EMPTY);
      meta.put(digest, DIGEST);
      const now = { mine: digestWords(digest), theirs, at: this.now() };
      if (now.mine === theirs) return "same";
      if (!isToBeRepaired(await done(meta.get(REPAIRED)), now)) return "differs";
      meta.put(now, REPAIRED);
      for (const { record } of rows) for (const part of asChanges(record)) outbox.add(part);
      meta.put(0, CURSOR);
      meta.put(null, PAGE);
      return "repairs";
    });
  }

  /**
   * Mark what may rest; all else is awake. Every record is read for it: so the digest is made anew from what is really here.
   * @param {string[]} ids
   * @returns {Promise<void>}
   */
  rest(ids) {
    const asleep = new Set(ids);
    return this.#connection.transact("readwrite", async ({ records, meta }) => {
      let digest = EMPTY;
      for (const row of await done(records.getAll())) {
        const resting = asleep.has(row.id) ? 1 : 0;
        if (row.resting !== resting) records.put({ ...row, resting });
        digest = moved(digest, null, row.record);
      }
      meta.put(digest, DIGEST);
    });
  }

  /** Let go of the connection. */
  async close() {
    this.#connection.close();
  }
}

/** @typedef {{before: RecordForm | null | undefined, after: RecordForm | null, resting?: number}} Change A record as it was and as it is; null for none */

/** @param {{before: RecordForm | null | undefined, after: RecordForm}} change */
function isNews({ before, after }) {
  return !before || JSON.stringify(after) !== JSON.stringify(before);
}

/**
 * Put changed records where they stand, and the digest with them.
 * @param {IDBObjectStore} records
 * @param {IDBObjectStore} meta
 * @param {import("../kernel/read/digest.js").Digest | undefined} digest none in a store from before there was one: it is made when it is first compared
 * @param {Change[]} changes
 */
function keepAll(records, meta, digest, changes) {
  for (const { before, after, resting = 0 } of changes) {
    if (after) records.put({ id: after.id, resting, record: after });
    else if (before) records.delete(before.id);
    if (digest) digest = moved(digest, before, after);
  }
  if (digest && changes.length) meta.put(digest, DIGEST);
}

/** @param {IDBObjectStore} records @param {RecordForm[]} wanted @returns {Promise<(Row | undefined)[]>} */
async function heldRows(records, wanted) {
  if (!wanted.length || (await done(records.count())) === 0) return wanted.map(() => undefined);
  return Promise.all(wanted.map((record) => done(records.get(record.id))));
}

/**
 * The phone's store, ready for use. Rejects with a StoreProblem where this browser cannot keep anything.
 * @param {{device: string, now: () => number, makeRoom?: () => Promise<boolean>, onBlocked?: () => void, onOld?: () => void}} given
 * @returns {Promise<IndexedDbStore>}
 */
export async function openStore(given) {
  const store = new IndexedDbStore(given);
  try {
    await store.open();
  } catch (error) {
    throw asProblem(error);
  }
  return store;
}
