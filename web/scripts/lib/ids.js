// @ts-check
/** Ids made on the device: time-ordered, 128 bits, lower-case base 32. Works where there is no secure context. */

const LETTERS = "abcdefghijklmnopqrstuvwxyz234567";
/** In order of their character codes, so that ids sort by time as text. */
const SORTED = "234567abcdefghijklmnopqrstuvwxyz";

/**
 * 26 letters: 48 bits of milliseconds, then 82 random bits.
 * @param {number} nowMs
 * @param {Uint8Array} random at least 16 bytes
 * @returns {string}
 */
export function newId(nowMs, random) {
  let time = "";
  let rest = nowMs;
  for (let at = 0; at < 10; at += 1) {
    time = SORTED[rest % 32] + time;
    rest = Math.floor(rest / 32);
  }
  let tail = "";
  for (let at = 0; at < 16; at += 1) tail += SORTED[random[at] % 32];
  return time + tail;
}

/** 8 letters that name this device in stamps. @param {Uint8Array} random at least 8 bytes @returns {string} */
export function newDevice(random) {
  let device = "";
  for (let at = 0; at < 8; at += 1) device += LETTERS[random[at] % 32];
  return device;
}

/** @param {number} size @returns {Uint8Array} */
export function randomBytes(size) {
  return crypto.getRandomValues(new Uint8Array(size));
}
