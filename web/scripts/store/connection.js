// @ts-check
/**
 * The connection to the phone's database: opened when it is needed, and anew where it was lost behind our back (a phone drops it in
 * the background, a browser while it clears its store). A transaction is whole or it never was, so it can be tried once more.
 */
import { EMPTY } from "../kernel/read/digest.js";
import { StoreProblem, asProblem } from "./problems.js";
import { DIGEST } from "./stamping.js";

const NAME = "mudproof";
const VERSION = 1;
const OPEN_MS = 3000;
const STORES = ["records", "outbox", "meta", "refused"];
/** What a transaction ends with whose connection went away. */
const LOST = ["InvalidStateError", "UnknownError", "AbortError"];
/** So long after it was lost it is tried again, each time; whoever takes it away may be at it for a moment. [ms] */
const AGAIN_MS = [0, 50, 250, 1000];

/** One database, and its transactions. */
export class Connection {
  /** @type {IDBDatabase | null} */
  #db = null;
  /** @type {Promise<IDBDatabase> | null} */
  #opening = null;

  /** @param {{makeRoom?: () => Promise<boolean>, onBlocked?: () => void, onOld?: () => void}} given makeRoom: lets go of something that can be had again, on a full phone; whether there was any */
  constructor({ makeRoom, onBlocked, onOld }) {
    this.makeRoom = makeRoom || (async () => false);
    this.onBlocked = onBlocked || (() => {});
    this.onOld = onOld || (() => {});
  }

  /** Open it, and find out whether it can be used at all. */
  async open() {
    await this.#connection();
  }

  /** Let go of it. */
  close() {
    this.#db?.close();
    this.#db = null;
  }

  /** @returns {Promise<IDBDatabase>} */
  async #connection() {
    if (this.#db) return this.#db;
    if (!this.#opening) this.#opening = this.#connect();
    try {
      this.#db = await this.#opening;
      return this.#db;
    } finally {
      this.#opening = null;
    }
  }

  /** @returns {Promise<IDBDatabase>} */
  #connect() {
    return new Promise((resolve, reject) => {
      const request = indexedDB.open(NAME, VERSION);
      const slow = setTimeout(
        () => reject(new StoreProblem("The phone's store does not open. Close other Mudproof windows, then try again.", "open took over 3 s", "slow")),
        OPEN_MS,
      );
      request.onupgradeneeded = () => upgrade(request.result);
      request.onblocked = () => this.onBlocked();
      request.onerror = () => {
        clearTimeout(slow);
        reject(request.error);
      };
      request.onsuccess = () => {
        clearTimeout(slow);
        const db = request.result;
        db.onclose = () => this.#forget(db);
        db.onversionchange = () => {
          this.#forget(db);
          db.close();
          this.onOld();
        };
        resolve(db);
      };
    });
  }

  /** @param {IDBDatabase} db */
  #forget(db) {
    if (this.#db === db) this.#db = null;
  }

  /**
   * One transaction. `work` may only wait for requests of this very transaction. Rejects with a StoreProblem, and nothing is kept then.
   * @template T
   * @param {IDBTransactionMode} mode
   * @param {(stores: Record<string, IDBObjectStore>) => Promise<T> | T} work
   * @returns {Promise<T>}
   */
  async transact(mode, work) {
    let roomWasMade = false;
    for (let turn = 0; ; ) {
      try {
        return await this.#once(mode, work);
      } catch (error) {
        const name = /** @type {any} */ (error)?.name;
        if (name === "QuotaExceededError" && !roomWasMade && (await this.makeRoom().catch(() => false))) {
          roomWasMade = true;
          continue;
        }
        if (!LOST.includes(name) || turn === AGAIN_MS.length) throw asProblem(error);
        this.#db = null;
        if (AGAIN_MS[turn]) await new Promise((resolve) => setTimeout(resolve, AGAIN_MS[turn]));
        turn += 1;
      }
    }
  }

  /**
   * @template T
   * @param {IDBTransactionMode} mode
   * @param {(stores: Record<string, IDBObjectStore>) => Promise<T> | T} work
   * @returns {Promise<T>}
   */
  async #once(mode, work) {
    const db = await this.#connection();
    const transaction = db.transaction(STORES, mode, { durability: mode === "readwrite" ? "strict" : "default" });
    const ended = new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve(null);
      transaction.onabort = () => reject(transaction.error || new DOMException("the transaction was broken off", "AbortError"));
    });
    const stores = Object.fromEntries(STORES.map((name) => [name, transaction.objectStore(name)]));
    try {
      const result = await work(stores);
      await ended;
      return result;
    } catch (error) {
      ended.catch(() => {});
      try {
        transaction.abort();
      } catch {
        // it has ended already
      }
      throw error;
    }
  }
}

/** @param {IDBDatabase} db */
function upgrade(db) {
  const records = db.createObjectStore("records", { keyPath: "id" });
  records.createIndex("resting", "resting");
  db.createObjectStore("outbox", { autoIncrement: true });
  db.createObjectStore("meta").put(EMPTY, DIGEST);
  db.createObjectStore("refused", { keyPath: "key" });
}

/** @param {IDBRequest} request @returns {Promise<any>} */
export function done(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}
