// @ts-check
/**
 * Hybrid logical clock readings as text that sorts: 12 hex digits of milliseconds, 4 of a counter, the device.
 * The wall clock is always handed in. Source of the rules: Kulkarni et al. 2014, "Logical Physical Clocks".
 */

/** @typedef {{ms: number, counter: number}} Reading A clock's state. */

const STAMP = /^[0-9a-f]{12}-[0-9a-f]{4}-[a-z2-7]{8}$/;
const MOST_COUNTER = 0xffff;

/** Whether this is a stamp at all. @param {unknown} stamp @returns {boolean} */
export function valid(stamp) {
  return typeof stamp === "string" && STAMP.test(stamp);
}

/** The reading as text. @param {Reading} reading @param {string} device @returns {string} */
export function write(reading, device) {
  return `${reading.ms.toString(16).padStart(12, "0")}-${reading.counter.toString(16).padStart(4, "0")}-${device}`;
}

/** The reading inside a valid stamp. @param {string} stamp @returns {Reading} */
export function read(stamp) {
  return { ms: parseInt(stamp.slice(0, 12), 16), counter: parseInt(stamp.slice(13, 17), 16) };
}

/**
 * The reading for a new change made here. Never repeats, even when the wall clock goes back.
 * @param {Reading} last
 * @param {number} nowMs
 * @returns {Reading}
 */
export function tick(last, nowMs) {
  return nowMs > last.ms ? { ms: nowMs, counter: 0 } : next(last);
}

/**
 * The reading after a stamp came from elsewhere: after it, whatever the wall clock here says.
 * @param {Reading} last
 * @param {Reading} heard
 * @param {number} nowMs
 * @returns {Reading}
 */
export function hear(last, heard, nowMs) {
  if (nowMs > Math.max(last.ms, heard.ms)) return { ms: nowMs, counter: 0 };
  return next(later(last, heard));
}

/** @param {Reading} one @param {Reading} other @returns {Reading} */
export function later(one, other) {
  return one.ms > other.ms || (one.ms === other.ms && one.counter >= other.counter) ? one : other;
}

/** @param {Reading} reading @returns {Reading} */
function next(reading) {
  return reading.counter >= MOST_COUNTER
    ? { ms: reading.ms + 1, counter: 0 }
    : { ms: reading.ms, counter: reading.counter + 1 };
}
