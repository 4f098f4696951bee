// @ts-check
/** Questions that only the server can answer; some answers are kept on the phone for when it cannot be asked. */

const ASK_MS = 15_000;

/**
 * What only the server knows. An error that the server put in words has them as `say`.
 * @param {string} path
 * @param {RequestInit} [more]
 * @returns {Promise<any>}
 */
export async function askServer(path, more = {}) {
  const answer = await fetch(path, { signal: AbortSignal.timeout(ASK_MS), ...more });
  if (answer.ok) return answer.json();
  const told = await answer.json().catch(() => null);
  throw Object.assign(new Error(`${path}: ${answer.status}`), { say: told?.error?.say, status: answer.status });
}

/** @param {string} path @param {Blob} body */
export function sendServer(path, body) {
  return askServer(path, { method: "POST", body, headers: { "content-type": "application/octet-stream" } });
}

/**
 * The answer kept from last time at once, and the server's own as soon as it comes, if it says anything else. Rejects only
 * where there is neither.
 * @param {any} store
 * @param {string} path
 * @param {(answer: any) => void} show
 */
export async function askKept(store, path, show) {
  const held = await store.meta(`answer ${path}`);
  if (held) show(held);
  try {
    const fresh = await askServer(path);
    if (held && JSON.stringify(held) === JSON.stringify(fresh)) return; // drawn anew it would only take keys from under a finger
    await store.setMeta(`answer ${path}`, fresh);
    show(fresh);
  } catch (error) {
    if (!held) throw error;
  }
}
