// @ts-check
/** The shape of what is sent to the server, and of its failures. */

export const SCHEMA = 1;
export const MOST_CHANGES = 200;
const WORTH_ZIPPING = 1000;

/** A request that did not come through, or an answer that says no. `status` is 0 where there was no answer. */
export class SyncProblem extends Error {
  /** @param {string} say @param {string} detail @param {number} status */
  constructor(say, detail, status) {
    super(detail);
    this.name = "SyncProblem";
    this.say = say;
    this.status = status;
  }
}

/**
 * @param {{since: number, epoch: string | null, page: number[] | null, heard: string | null, device: string, now: number, changes: any[]}} given
 * @returns {string}
 */
export function pushBody(given) {
  return JSON.stringify({ schema: SCHEMA, ...given });
}

/**
 * The same zipped where that is worth it and this browser can. A line out in the beds is slow both ways.
 * @param {string} text
 * @returns {Promise<{body: BodyInit, headers: Record<string, string>}>}
 */
export async function packed(text) {
  const headers = { "content-type": "application/json" };
  if (text.length < WORTH_ZIPPING || typeof CompressionStream === "undefined") return { body: text, headers };
  const zipped = new Blob([text]).stream().pipeThrough(new CompressionStream("gzip"));
  return { body: await new Response(zipped).arrayBuffer(), headers: { ...headers, "content-encoding": "gzip" } };
}

/**
 * The answer, or a SyncProblem.
 * @param {Response} response
 * @returns {Promise<any>}
 */
export async function readAnswer(response) {
  /** @type {any} */
  let body = null;
  try {
    body = await response.json();
  } catch {
    throw new SyncProblem("The server's answer could not be read.", `status ${response.status}, not JSON`, response.status);
  }
  if (!response.ok) {
    const error = body?.error || {};
    throw new SyncProblem(error.say || "The server could not take it.", error.detail || "", response.status);
  }
  return body;
}
