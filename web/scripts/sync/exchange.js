// @ts-check
/**
 * One exchange with the server: read the outbox, close, send, apply. No transaction is held while the network is waited
 * for. Fetch and clock are handed in.
 */
import { CURSOR, EPOCH, HEARD, PAGE } from "../store/stamping.js";
import { MOST_CHANGES, SyncProblem, packed, pushBody, readAnswer } from "./messages.js";

/** What a good line does at once is not waited for longer, so that a dead one is found out; a slow one is given time the next time. */
export const SOON_MS = 10_000;
export const PATIENT_MS = 60_000;
const FEW_CHANGES = 20;
const MOST_ROUNDS = 2000;

/**
 * Send all that is kept and take all that is new.
 * @param {{store: any, fetch: typeof fetch, now: () => number, onRecords: (records: any[]) => void,
 *   onTime?: (houseMs: number) => void, patient?: boolean}} given patient: after an exchange that failed
 * @returns {Promise<{sent: number, received: any[], refused: number, differs: boolean, unread: string[]}>} differs: from the server,
 *   though all was sent and fetched anew; unread: records that the server has and cannot read
 */
export async function shareAll({ store, fetch, now, onRecords, onTime, patient = false }) {
  let sentCount = 0;
  let refused = 0;
  let size = MOST_CHANGES;
  /** @type {any[]} */
  const received = [];
  /** @type {string[]} */
  const unread = [];
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const sent = await store.outbox(size);
    const [since, epoch, page, heard] = await Promise.all([CURSOR, EPOCH, PAGE, HEARD].map((name) => store.meta(name)));
    /** @type {any} */
    let reply;
    try {
      reply = await ask(fetch, {
        since: since ?? 0,
        epoch,
        page,
        heard,
        device: store.device,
        now: now(),
        changes: sent.map((/** @type {any} */ row) => row.change),
      }, patient || !since || sent.length > FEW_CHANGES ? PATIENT_MS : SOON_MS);
    } catch (error) {
      if (error instanceof SyncProblem && sent.length > 1 && (error.status >= 500 || error.status === 413)) {
        size = Math.max(1, Math.floor(sent.length / 2));
        continue;
      }
      throw error;
    }
    onTime?.(reply.house ?? reply.now); // an older server tells its own
    const changed = await store.applyReply(reply, sent);
    sentCount += reply.taken.length;
    refused += reply.refused.length;
    received.push(...changed);
    unread.push(...(reply.unread || []));
    if (changed.length) onRecords(changed);
    if (reply.restamped.length) onRecords(await store.live());
    if (reply.reset) continue;
    const left = await store.outboxCount();
    if (reply.more || (left > 0 && sent.length)) continue;
    const held = left > 0 ? "unfinished" : await compare(store, reply);
    if (held !== "repairs") return { sent: sentCount, received, refused, differs: held === "differs", unread };
  }
  throw new SyncProblem("Sharing does not come to an end; it will be tried again.", `${MOST_ROUNDS} rounds`, 0);
}

/**
 * Whether phone and server hold the same now that both call it done. The digest is of one moment: where another phone has written since,
 * the next exchange tells. An older server tells none.
 * @param {any} store @param {any} reply
 */
async function compare(store, { digest, upto }) {
  if (!digest || digest[0] !== upto) return "unfinished";
  const found = await store.compare(digest[1]);
  if (found === "repairs" || found === "differs") console.error(`this phone and the server differ (server ${digest[1]} at ${upto}): ${found}`);
  return found;
}

/**
 * @param {typeof fetch} fetch
 * @param {any} given
 * @param {number} withinMs
 * @returns {Promise<any>}
 */
async function ask(fetch, given, withinMs) {
  /** @type {Response} */
  let response;
  try {
    response = await fetch("/api/sync", {
      method: "POST",
      ...(await packed(pushBody(given))),
      signal: AbortSignal.timeout(withinMs),
      cache: "no-store",
    });
  } catch (error) {
    throw new SyncProblem("The server does not answer.", String(error), 0);
  }
  return readAnswer(response);
}

/**
 * The rulebook if it is not the one held.
 * @param {{fetch: typeof fetch, version: string | null}} given
 * @returns {Promise<any | null>}
 */
export async function fetchRulebook({ fetch, version }) {
  /** @type {Response} */
  let response;
  try {
    response = await fetch("/api/rulebook", {
      headers: version ? { "if-none-match": `"${version}"` } : {},
      signal: AbortSignal.timeout(PATIENT_MS),
      cache: "no-store",
    });
  } catch (error) {
    throw new SyncProblem("The server does not answer.", String(error), 0);
  }
  if (response.status === 304) return null;
  return readAnswer(response);
}
