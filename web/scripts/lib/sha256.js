// @ts-check
/** SHA-256 (FIPS 180-4), for pages over plain http, where browsers keep their own to themselves. */

/** The browser's own where there is one. @param {ArrayBuffer} data @returns {Promise<string>} */
export async function sha256(data) {
  if (globalThis.crypto?.subtle) return hex(new Uint8Array(await crypto.subtle.digest("SHA-256", data)));
  return hex(digest(new Uint8Array(data)));
}

/** @param {Uint8Array} bytes */
function hex(bytes) {
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Fractions of the roots of the first primes, as the standard defines its constants. @param {number} power @param {number} many */
function fractions(power, many) {
  const found = [];
  for (let n = 2; found.length < many; n += 1) {
    let prime = true;
    for (let k = 2; k * k <= n; k += 1) if (n % k === 0) prime = false;
    if (prime) found.push(((n ** power) % 1) * 2 ** 32);
  }
  return Uint32Array.from(found);
}

const K = fractions(1 / 3, 64);
const H = fractions(1 / 2, 8);

/** @param {Uint8Array} data @returns {Uint8Array} */
export function digest(data) {
  const length = data.length;
  const padded = new Uint8Array(((length + 8) >> 6) * 64 + 64);
  padded.set(data);
  padded[length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(length / 2 ** 29));
  view.setUint32(padded.length - 4, (length << 3) >>> 0);
  const hash = Uint32Array.from(H);
  const w = new Uint32Array(64);
  const turn = (/** @type {number} */ x, /** @type {number} */ n) => (x >>> n) | (x << (32 - n));
  for (let at = 0; at < padded.length; at += 64) {
    for (let t = 0; t < 16; t += 1) w[t] = view.getUint32(at + 4 * t);
    for (let t = 16; t < 64; t += 1) {
      const [a, b] = [w[t - 15], w[t - 2]];
      w[t] = w[t - 16] + (turn(a, 7) ^ turn(a, 18) ^ (a >>> 3)) + w[t - 7] + (turn(b, 17) ^ turn(b, 19) ^ (b >>> 10));
    }
    let [a, b, c, d, e, f, g, h] = hash;
    for (let t = 0; t < 64; t += 1) {
      const one = (h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + K[t] + w[t]) | 0;
      const two = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
    }
    [a, b, c, d, e, f, g, h].forEach((value, i) => (hash[i] += value));
  }
  const out = new Uint8Array(32);
  hash.forEach((value, i) => new DataView(out.buffer).setUint32(4 * i, value));
  return out;
}
