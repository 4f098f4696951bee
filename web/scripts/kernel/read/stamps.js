// @ts-check
/**
 * Hybrid logical clock readings as text that sorts: 12 hex digits of milliseconds, 4 of a counter, the device.
 * The wall clock is always handed in. Source of the rules: Kulkarni et al. 2014, "Logical Physical Clocks".
 */

/** @typedef {{ms: number, counter: number}} Reading A clock's state. */

const STAMP = /^[0-9a-f]{12}-[0-9a-f]{4}-[a-z2-7]{8}$/;
/** How far a stamp may run ahead of the clock of whoever receives it. [ms] */
export const MOST_AHEAD_MS = 5 * 60 * 1000;
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

/** The device id inside a valid stamp. @param {string} stamp @returns {string} */
export function deviceOf(stamp) {
  return stamp.slice(18);
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
 * The reading after a stamp came from elsewhere. A stamp far ahead does not pull the clock with it.
 * @param {Reading} last
 * @param {Reading} heard
 * @param {number} nowMs
 * @returns {Reading}
 */
export function hear(last, heard, nowMs) {
  const heardMs = Math.min(heard.ms, nowMs + MOST_AHEAD_MS);
  const heardCounter = heardMs === heard.ms ? heard.counter : 0;
  const ms = Math.max(last.ms, heardMs, nowMs);
  if (ms === last.ms && ms === heardMs) return next({ ms, counter: Math.max(last.counter, heardCounter) });
  if (ms === last.ms) return next(last);
  if (ms === heardMs) return next({ ms, counter: heardCounter });
  return { ms, counter: 0 };
}

/** @param {Reading} reading @returns {Reading} */
function next(reading) {
  return reading.counter >= MOST_COUNTER
    ? { ms: reading.ms + 1, counter: 0 }
    : { ms: reading.ms, counter: reading.counter + 1 };
}
