// @ts-check
/** Sends photos that wait, thumbnails first, in parts that go on where a broken line left off. */
import { photoDone, photosWaiting } from "../store/photos.js";
import { askServer } from "./ask.js";

const PART_BYTES = 128 * 1024;
const REFUSED = [400, 413];
let sending = false;
/** Asked once more while some were being sent: a photo may have come since they were counted. */
let again = false;
/** @type {Set<string>} */
let wanted = new Set();

/**
 * Send what waits and some record names, one after the other; ends at the first that does not go through.
 * @param {Set<string>} named hashes that records name: what belongs to no record stays here
 * @returns {Promise<number>} how many went
 */
export async function sendPhotos(named) {
  if (sending) {
    again = true;
    wanted = named;
    return 0;
  }
  sending = true;
  wanted = named;
  let sent = 0;
  try {
    do {
      again = false;
      for (const photo of await photosWaiting()) {
        if (!wanted.has(photo.sha256)) continue;
        const problem = await sendOne(photo.sha256, photo.bytes);
        await photoDone(photo.sha256, problem ?? undefined);
        sent += 1;
      }
    } while (again);
  } catch (error) {
    console.info("photos wait for a better line", error);
  } finally {
    sending = false;
  }
  return sent;
}

/** @param {string} sha256 @param {ArrayBuffer} bytes @returns {Promise<string | null>} why it was refused for good */
async function sendOne(sha256, bytes) {
  let { have } = await askServer(`/api/photos/${sha256}/have`);
  while (have < bytes.byteLength) {
    try {
      const part = bytes.slice(have, have + PART_BYTES);
      ({ have } = await askServer(`/api/photos/${sha256}?from=${have}&size=${bytes.byteLength}`, { method: "POST", body: part, headers: { "content-type": "application/octet-stream" } }));
    } catch (/** @type {any} */ error) {
      if (REFUSED.includes(error.status)) return error.say || "The server does not take this photo.";
      throw error;
    }
  }
  return null;
}
