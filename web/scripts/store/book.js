// @ts-check
/**
 * The book: the live records in memory, what the kernel makes of them, and one way to write. Rooms talk to this and to
 * nothing below it. Store and kernel may be brought to it after the first screen is drawn.
 */
import { bare, visible } from "../kernel/read/merge.js";

/**
 * @typedef {import("../types.js").RecordForm} RecordForm
 * @typedef {import("../types.js").Wish} Wish
 * @typedef {import("../types.js").Job} Job
 * @typedef {import("../types.js").Sharing} Sharing
 * @typedef {{Settled: typeof import("../kernel/settle.js").Settled, standOf: typeof import("../kernel/stand.js").standOf}} Kernel
 */

const EMPTY_RULEBOOK = { crops: {}, varieties: {}, seeds: {}, heat: {}, warmth: {}, care: {}, standing: {}, cautions: {}, slack: {}, dusk: null };

/** Live records, the rulebook, and the list worked out from them. */
export class Book {
  /** @type {Map<string, RecordForm>} */
  #records = new Map();
  /** @type {Set<(what: string) => void>} */
  #listeners = new Set();
  /** @type {Map<string, any>} */
  #worked = new Map();
  /** @type {{today: string, rulebook: any, list: import("../kernel/settle.js").Settled, behind: RecordForm[]} | null} The list that is kept, and what it has not taken in yet. */
  #settled = null;
  /** Fulfilled once what was taken in last is on the screen. */
  #shown = Promise.resolve();
  #version = 0;
  #allAwake = false;
  /** @type {RecordForm[]} What came while the store is being read: newer than what is read. */
  #meanwhile = [];
  #readings = { begun: 0, ended: 0, shown: 0 };
  #rulebooks = 0;
  #counting = 0;

  /** @type {(store: any) => void} */
  #brought = () => {};
  /** @type {Promise<any>} */
  #storeToCome = new Promise((resolve) => (this.#brought = resolve));
  /** @type {Kernel | null} */
  #kernel = null;
  /** @type {() => void} */
  #read = () => {};
  /** Resolves once the whole book is read. @type {Promise<void>} */
  whenRead = new Promise((resolve) => (this.#read = resolve));
  isRead = false;
  /** Whether this phone held records once and holds none now: the browser has cleared them. */
  wiped = false;

  /** @param {{channel?: BroadcastChannel | null, afterWrite?: (records: RecordForm[]) => void, painted?: () => Promise<void>}} [given] painted: when what changed last is on the screen */
  constructor({ channel = null, afterWrite, painted = async () => {} } = {}) {
    /** @type {any} Null until it is brought. */
    this.store = null;
    this.channel = channel;
    this.afterWrite = afterWrite || (() => {});
    this.painted = painted;
    /** @type {any} */
    this.rulebook = EMPTY_RULEBOOK;
    /** @type {number[]} Years of batches that rest, not in memory. */
    this.restingYears = [];
    /** @type {Sharing} */
    this.sharing = { kept: 0, oldest: null, lastShared: null, refused: 0, reachable: null, problem: null, clockAheadMs: 0, joined: null, keeps: true, differs: false, unread: [] };
    if (channel) channel.onmessage = () => this.store && void this.reload();
  }

  /** Bring what the book needs beyond its first screen. @param {any} store @param {Kernel} kernel */
  bring(store, kernel) {
    this.store = store;
    this.#kernel = kernel;
    this.#brought(store);
  }

  /** @returns {Kernel} */
  get #working() {
    if (!this.#kernel) throw new Error("the book was asked to work something out before its kernel was brought");
    return this.#kernel;
  }

  /** What is believed of each batch after a time without a word; the kernel's part for it is fetched when it is first asked. @param {string} today */
  async catchUp(today) {
    const { catchUpOf } = await import("../kernel/catch-up.js");
    return catchUpOf(this.#upTo(today));
  }

  /** Show what was kept of the last list until the book is read. @param {import("./opening.js").Opening} opening */
  begin({ today, jobs, records, rulebook, lastShared }) {
    this.#records = new Map(records.map((/** @type {RecordForm} */ record) => [record.id, record]));
    this.rulebook = bare({ ...EMPTY_RULEBOOK, ...rulebook });
    this.sharing.lastShared = lastShared;
    this.#worked.set(`jobs ${today}`, jobs);
  }

  /** Read what the phone holds. Of two readings at once the one begun last stands. */
  async load() {
    const mine = (this.#readings.begun += 1);
    const held = this.#rulebooks;
    try {
      const [records, rulebook, lastShared, restingYears] = await Promise.all([
        this.#allAwake ? this.store.all() : this.store.live(),
        this.store.meta("rulebook"),
        this.store.meta("lastShared"),
        this.store.meta("restingYears"),
        this.countKept(),
      ]);
      if (mine < this.#readings.shown) return;
      this.#readings.shown = mine;
      this.#records = new Map([...records, ...this.#meanwhile].map((/** @type {RecordForm} */ record) => [record.id, record]));
      this.#settled = null;
      if (held === this.#rulebooks) this.rulebook = bare(rulebook || EMPTY_RULEBOOK);
      this.sharing.lastShared = lastShared;
      this.restingYears = this.#allAwake ? [] : restingYears || [];
    } finally {
      this.#readings.ended += 1;
      if (this.#readings.ended === this.#readings.begun) this.#meanwhile = [];
    }
    this.isRead = true;
    this.#read();
    this.#changed("records");
  }

  /** Another window wrote: read again. */
  async reload() {
    await this.load();
  }

  /** Live records as they are, deleted ones too. @returns {RecordForm[]} */
  get records() {
    return [...this.#records.values()];
  }

  /** Visible records of a kind, in order of id. @param {string} kind @returns {RecordForm[]} */
  ofKind(kind) {
    return this.#once(`kind ${kind}`, () =>
      this.records.filter((record) => record.kind === kind && visible(record)).sort((a, b) => (a.id < b.id ? -1 : 1)),
    );
  }

  /** A record, visible or not. @param {string | null | undefined} id @returns {RecordForm | null} */
  get(id) {
    return (id && this.#records.get(id)) || null;
  }

  /** The fields of a visible record; empty for none. @param {string | null | undefined} id @returns {Record<string, any>} */
  fields(id) {
    const record = this.get(id);
    return record && visible(record) ? record.fields : {};
  }

  /** The list for a day; after a change only what that altered is worked out. @param {string} today @returns {Job[]} */
  jobs(today) {
    return this.#once(`jobs ${today}`, () => this.#upTo(today).jobs());
  }

  /** What stands where on a day. @param {string} today */
  stand(today) {
    return this.#once(`stand ${today}`, () => this.#working.standOf(this.#upTo(today)));
  }

  /** How full each place is, week by week from a day's week on, and what stands where when. @param {string} today @param {string | null} [since] */
  async room(today, since = null) {
    const { roomOf } = await import("../kernel/room.js"); // with the first look at a bed, and not before the list stands
    await this.whenRead;
    return this.#once(`room ${today} ${since}`, () => roomOf(this.#upTo(today), this.records, since));
  }

  /** The kept list, with all taken in that was written since. @param {string} today @returns {import("../kernel/settle.js").Settled} */
  #upTo(today) {
    if (this.#settled?.today !== today || this.#settled.rulebook !== this.rulebook) {
      this.#settled = { today, rulebook: this.rulebook, list: new this.#working.Settled(this.rulebook, this.records, today), behind: [] };
    }
    const { list, behind } = this.#settled;
    if (behind.length) list.take(behind.splice(0));
    return list;
  }

  /**
   * @template T
   * @param {string} key
   * @param {() => T} work
   * @returns {T}
   */
  #once(key, work) {
    if (!this.#worked.has(key)) this.#worked.set(key, work());
    return this.#worked.get(key);
  }

  /**
   * Write changes down. Resolves when they are on the disk; rejects with words for the grower, and nothing changed.
   * @param {Wish[]} wishes
   * @returns {Promise<RecordForm[]>}
   */
  async write(wishes) {
    const records = await (await this.#storeToCome).write(wishes);
    this.take(records);
    this.sharing.kept += wishes.length;
    this.#changed("sharing");
    this.channel?.postMessage("records");
    this.afterWrite(records);
    void this.countKept();
    return records;
  }

  /** Records changed in the store (by sync, or a write). @param {RecordForm[]} records */
  take(records) {
    if (!records.length) return;
    if (this.#readings.ended < this.#readings.begun || !this.isRead) this.#meanwhile.push(...records);
    if (!this.isRead) return;
    for (const record of records) this.#records.set(record.id, record);
    this.#settled?.behind.push(...records);
    this.#shown = this.painted();
    this.#changed("records");
  }

  /**
   * Once what was taken in last is on the screen. Whatever asks for the list of itself (a figure on the app's picture, the
   * list kept for the next opening) waits for this: a tick is painted before the list is worked out for anybody.
   */
  async calm() {
    for (let last = null; last !== this.#shown; ) {
      last = this.#shown;
      await last;
    }
  }

  /** After a sync brought something. @param {RecordForm[]} records */
  tookFromServer(records) {
    this.take(records);
    if (records.length) this.channel?.postMessage("records");
  }

  /** @param {any} rulebook */
  async setRulebook(rulebook) {
    this.#rulebooks += 1;
    await this.store.setMeta("rulebook", rulebook);
    this.rulebook = bare(rulebook);
    this.#changed("records");
    this.channel?.postMessage("rulebook");
  }

  /** Count what is kept on this phone only. */
  async countKept() {
    this.#counting += 1;
    const mine = this.#counting;
    const [kept, first, refused] = await Promise.all([this.store.outboxCount(), this.store.outbox(1), this.store.refused()]);
    if (mine !== this.#counting) return; // a later count has begun: this one may be from before what it tells
    this.sharing.kept = kept;
    this.sharing.oldest = first.length ? parseInt(first[0].change.stamp.slice(0, 12), 16) : null;
    this.sharing.refused = refused.length;
    this.#changed("sharing");
  }

  /** @param {Partial<Sharing>} facts */
  setSharing(facts) {
    Object.assign(this.sharing, facts);
    this.#changed("sharing");
  }

  /** Let old seasons rest, so that the phone opens this one and not the decade. @param {string} today */
  async restOldSeasons(today) {
    const all = await this.store.all();
    const { resting } = await import("../kernel/rest.js"); // once a day, and not before the list stands
    const asleep = new Set(resting(this.rulebook, all, today));
    await this.store.rest([...asleep]);
    const years = all.filter((/** @type {RecordForm} */ one) => one.kind === "batch" && asleep.has(one.id)).map((/** @type {RecordForm} */ one) => one.fields.year);
    await this.store.setMeta("restingYears", [...new Set(years)].filter(Number.isInteger).sort());
  }

  /** Bring what rests into memory too, until the app is opened anew: somebody asks for an old season. */
  async wakeAll() {
    if (this.#allAwake) return;
    this.#allAwake = true;
    await this.load();
  }

  /** @param {(what: string) => void} listener @returns {() => void} */
  subscribe(listener) {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** @param {string} what */
  #changed(what) {
    if (what === "records") {
      this.#version += 1;
      this.#worked.clear();
    }
    for (const listener of [...this.#listeners]) listener(what);
  }

  /** The date has changed: what was worked out for yesterday is not for today. */
  newDay() {
    this.#changed("records");
  }

  /** Goes up whenever records or the rulebook changed. */
  get version() {
    return this.#version;
  }
}
