// @ts-check
/**
 * Photos on this phone, by the hash of what they hold, in a database of their own: a store that is full of pictures must not
 * get in the way of what is written down.
 */
import { asProblem } from "./problems.js";

const NAME = "mudproof-photos";

/**
 * @typedef {{sha256: string, bytes: ArrayBuffer, waiting: number, small: number, refused?: string}} Kept a JPEG's bytes (some
 *   browsers lose Blobs that are kept), `waiting` 1 until the server has it, `small` 1 for a thumbnail
 */

/** @type {Promise<IDBDatabase> | null} */
let opening = null;

function connection() {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      const store = request.result.createObjectStore("photos", { keyPath: "sha256" });
      store.createIndex("waiting", "waiting");
    };
    request.onerror = () => {
      opening = null;
      reject(request.error);
    };
    request.onsuccess = () => {
      request.result.onclose = () => (opening = null);
      request.result.onversionchange = () => {
        request.result.close();
        opening = null;
      };
      resolve(request.result);
    };
  });
  return opening;
}

/**
 * @template T
 * @param {IDBTransactionMode} mode
 * @param {(store: IDBObjectStore) => IDBRequest<T>} ask
 * @returns {Promise<T>}
 */
async function transact(mode, ask) {
  try {
    const db = await connection();
    return await new Promise((resolve, reject) => {
      const transaction = db.transaction("photos", mode, { durability: mode === "readwrite" ? "strict" : "default" });
      const request = ask(transaction.objectStore("photos"));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onabort = () => reject(transaction.error);
      request.onerror = () => {}; // told by the transaction
    });
  } catch (error) {
    throw asProblem(error);
  }
}

/** Keep a picture; once is as good as twice. @param {Kept} photo */
export async function keepPhoto(photo) {
  const held = await photoKept(photo.sha256);
  if (held && !(photo.waiting && !held.waiting && held.refused)) return;
  try {
    await transact("readwrite", (store) => store.put(photo));
  } catch (error) {
    if (!(await makeRoom())) throw error;
    await transact("readwrite", (store) => store.put(photo));
  }
}

/** Let go of large pictures that the server has; whether there were any. */
export async function makeRoom() {
  const sent = await transact("readonly", (store) => store.index("waiting").getAll(0));
  const large = sent.filter((/** @type {Kept} */ one) => !one.small && !one.refused);
  for (const one of large) await transact("readwrite", (store) => store.delete(one.sha256));
  return large.length > 0;
}

/** @param {string} sha256 @returns {Promise<Kept | undefined>} */
export function photoKept(sha256) {
  return transact("readonly", (store) => store.get(sha256));
}

/** What the server has not yet, thumbnails first. @returns {Promise<Kept[]>} */
export async function photosWaiting() {
  const waiting = await transact("readonly", (store) => store.index("waiting").getAll(1));
  return waiting.sort((/** @type {Kept} */ a, /** @type {Kept} */ b) => b.small - a.small);
}

/** The server has it, or refused it for good. @param {string} sha256 @param {string} [refused] why */
export async function photoDone(sha256, refused) {
  const held = await photoKept(sha256);
  if (held) await transact("readwrite", (store) => store.put({ ...held, waiting: 0, ...(refused ? { refused } : {}) }));
}

/** Take a picture away from this phone: the deed it belonged to was never written. @param {string} sha256 */
export async function forgetPhoto(sha256) {
  await transact("readwrite", (store) => store.delete(sha256));
}
