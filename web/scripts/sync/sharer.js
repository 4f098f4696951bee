// @ts-check
/**
 * The sharer: when to exchange with the server. At the start, after each write, on return, on news, and every minute
 * while the page is looked at; with growing pauses while nobody answers. Only a reply proves that there is a network.
 */
import { fetchRulebook, shareAll } from "./exchange.js";
import { SyncProblem } from "./messages.js";
import { CURSOR } from "../store/stamping.js";

const NOT_JOINED = 401;
const SOON_MS = 300;
const EACH_MS = 60_000;
const FIRST_PAUSE_MS = 1000;
const LONGEST_PAUSE_MS = 120_000;

const KNOWLEDGE = ["site", "place", "crop", "variety", "lesson", "readings"];

/** Whether the rulebook is made of such a record, among others. @param {any} record */
function bearsOnKnowledge(record) {
  return KNOWLEDGE.includes(record.kind) || (record.kind === "diary" && record.fields.did === "measure");
}

/** Runs exchanges one at a time, in one window at a time. */
export class Sharer {
  /** @type {Promise<void> | null} The exchange under way. */
  #underWay = null;
  #again = false;
  /** @type {Promise<any> | null} The rulebook that is asked for. */
  #fetching = null;
  #failures = 0;
  /** @type {any} */
  #timer = null;
  /** @type {number | null} */
  #rulebookFor = null;

  /**
   * @param {{book: any, store: any, fetch: typeof fetch, now: () => number, random: () => number,
   *   onTime?: (houseMs: number) => void, setTimer?: (work: () => void, ms: number) => any, clearTimer?: (timer: any) => void, locks?: LockManager | null}} given
   */
  constructor({ book, store, fetch, now, random, onTime = () => {}, setTimer, clearTimer, locks = null }) {
    this.book = book;
    this.store = store;
    this.fetch = fetch;
    this.now = now;
    this.random = random;
    this.onTime = onTime;
    this.setTimer = setTimer || ((work, ms) => setTimeout(work, ms));
    this.clearTimer = clearTimer || ((timer) => clearTimeout(timer));
    this.locks = locks;
  }

  /** A write was made, or something else calls for an exchange soon. */
  soon() {
    this.#plan(SOON_MS);
  }

  /**
   * The server has told the number of its newest change. What a running exchange brings may be that very one; after
   * exchanges that failed, hearing anything at all is a reason to try again.
   * @param {number} seq
   */
  async heard(seq) {
    await this.#underWay?.catch(() => {});
    if (this.#failures || (await this.store.meta(CURSOR)) !== seq) this.soon();
  }

  /** Exchange now. @returns {Promise<boolean>} whether it came through */
  async atOnce() {
    this.#failures = 0;
    return this.run();
  }

  /** @param {number} ms */
  #plan(ms) {
    this.#unplan();
    this.#timer = this.setTimer(() => {
      this.#timer = null;
      void this.run();
    }, ms);
  }

  #unplan() {
    if (this.#timer !== null) this.clearTimer(this.#timer);
    this.#timer = null;
  }

  /** One exchange; a second call while one runs makes it go round once more. @returns {Promise<boolean>} */
  async run() {
    if (this.#underWay) {
      this.#again = true;
      return false;
    }
    this.#unplan();
    const wrote = this.rulebookStale; // what a first rulebook is asked for beside the records may not be in it yet
    const first = this.book.rulebook?.version || this.withoutKnowledge ? null : this.#fetched(null);
    try {
      const { received, ...told } = await this.#rounds();
      this.#failures = 0;
      await (first ? this.book.countKept() : this.#tellShared(told));
      const trouble = (await first) ?? (await this.#rulebook(received, first !== null && wrote));
      if (first) await this.#tellShared(told);
      if (trouble) throw Object.assign(trouble, { hasShared: true });
      if (this.#timer === null) this.#plan(EACH_MS); // what was called for meanwhile is not put off
      return true;
    } catch (error) {
      this.#failed(error);
      return false;
    }
  }

  /** Exchanges, one after the other, until nothing more is called for. @returns {Promise<{received: any[], differs: boolean, unread: string[]}>} */
  async #rounds() {
    /** @type {any[]} */
    const received = [];
    const told = { differs: false, unread: /** @type {string[]} */ ([]) };
    const exchange = async () => {
      const result = await shareAll({
        store: this.store,
        fetch: this.fetch,
        now: this.now,
        onRecords: (records) => this.book.tookFromServer(records),
        onTime: (houseMs) => {
          this.book.setSharing({ clockAheadMs: this.now() - houseMs });
          this.onTime(houseMs);
        },
        patient: this.#failures > 0,
      });
      received.push(...result.received);
      told.differs = result.differs;
      told.unread.push(...result.unread);
    };
    try {
      do {
        this.#again = false;
        this.#underWay = this.#alone(exchange);
        await this.#underWay;
      } while (this.#again);
    } finally {
      this.#underWay = null; // what is written from here on does not wait for the rulebook
    }
    return { received, ...told };
  }

  /** Two windows of one browser share one outbox: one of them sends. @param {() => Promise<void>} work */
  async #alone(work) {
    if (this.locks) await this.locks.request("mudproof-share", work);
    else await work();
  }

  /** @param {{differs: boolean, unread: string[]}} told */
  async #tellShared(told) {
    const at = this.now();
    await this.store.setMeta("lastShared", at);
    this.book.setSharing({ lastShared: at, reachable: true, problem: null, joined: true, ...told });
    await this.book.countKept();
  }

  /**
   * The rulebook follows the records it is made of. They never wait for it: whatever ails it, they are shared, and it is asked for again.
   * @param {any[]} received
   * @param {boolean} wrote whether something was written here before a first rulebook was asked for
   * @returns {Promise<any>} what went wrong; null for nothing
   */
  async #rulebook(received, wrote) {
    if (this.withoutKnowledge) return null;
    if (wrote || received.some(bearsOnKnowledge)) this.rulebookStale = true; // kept as such until it has come
    await this.#fetching;
    const held = this.book.rulebook?.version ?? null;
    const old = this.#rulebookFor === null || this.now() - this.#rulebookFor > 6 * 3600_000;
    return held && !old && !this.rulebookStale ? null : this.#fetched(held);
  }

  /** One rulebook at a time. @param {string | null} held @returns {Promise<any>} what went wrong; null for nothing */
  #fetched(held) {
    this.#fetching ??= this.#freshRulebook(held)
      .then(() => null, (error) => error)
      .finally(() => (this.#fetching = null));
    return this.#fetching;
  }

  /** @param {string | null} held */
  async #freshRulebook(held) {
    const asked = this.now();
    this.rulebookStale = false; // before the wait: what is written meanwhile is not in what comes
    try {
      const fresh = await fetchRulebook({ fetch: this.fetch, version: held });
      if (fresh) await this.book.setRulebook(fresh);
    } catch (error) {
      this.rulebookStale = true;
      throw error;
    }
    this.#rulebookFor = asked;
  }

  /** What this phone itself wrote. @param {any[]} records */
  wrote(records) {
    if (records.some(bearsOnKnowledge)) this.rulebookStale = true;
    this.soon();
  }

  /** A guest's phone works nothing out: its list comes from the server. */
  withoutKnowledge = false;

  /** Set when something the rulebook is made of was written here or came from the server. */
  rulebookStale = false;

  /** @param {any} error */
  #failed(error) {
    const problem = error instanceof SyncProblem ? error.say : (error?.say ?? "Sharing did not go through; it will be tried again.");
    if (error instanceof SyncProblem && error.status === NOT_JOINED) {
      this.book.setSharing({ reachable: true, problem, joined: false }); // nothing is tried again until it has joined
      return;
    }
    const reachable = Boolean(error?.hasShared) && error.status > 0;
    this.book.setSharing({ reachable, problem: error instanceof SyncProblem && error.status === 0 ? null : problem });
    if (!(error instanceof SyncProblem)) console.error("sharing failed", error);
    const pause = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** this.#failures);
    this.#failures += 1;
    this.#plan(pause * (0.5 + this.random() / 2));
  }
}
