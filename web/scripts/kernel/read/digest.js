// @ts-check
/**
 * A digest of many records: the same in both halves for the same records, however each came by them. Kept up to date record by
 * record. No proof against whoever would deceive: it finds what our own mistakes, and damaged disks, would leave different.
 */
import { compareText, fieldStamps, text } from "./merge.js";

/**
 * @typedef {import("../../types.js").RecordForm} RecordForm
 * @typedef {{count: number, sum: number}} Digest How many records, and the sum of their marks, modulo 2^32
 */

/** @type {Digest} */
export const EMPTY = { count: 0, sum: 0 };
const encoder = new TextEncoder();

/** CRC-32 by the byte (ISO 3309). */
const CRC = Uint32Array.from({ length: 256 }, (_, byte) => {
  let bits = byte;
  for (let at = 0; at < 8; at += 1) bits = bits & 1 ? (bits >>> 1) ^ 0xedb88320 : bits >>> 1;
  return bits;
});

/** @param {string} words @returns {number} */
export function crc32(words) {
  let bits = 0xffffffff;
  for (const byte of encoder.encode(words)) bits = CRC[(bits ^ byte) & 255] ^ (bits >>> 8);
  return (bits ^ 0xffffffff) >>> 0;
}

/**
 * One record's part; its bits are mixed so that two like changes do not cancel: the finishing step of MurmurHash3 by Austin Appleby,
 * which is in the public domain.
 * @param {RecordForm} record
 * @returns {number}
 */
export function mark(record) {
  const stamps = fieldStamps(record);
  let said = `${record.id}\n${record.kind}\n`;
  for (const name of Object.keys(stamps).sort(compareText)) said += `${name}\t${stamps[name]}\t${text(record.fields[name])}\n`;
  let bits = crc32(said);
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return (bits ^ (bits >>> 16)) >>> 0;
}

/**
 * The digest once a record is another; null for one that is not there.
 * @param {Digest} digest
 * @param {RecordForm | null | undefined} before
 * @param {RecordForm | null} after
 * @returns {Digest}
 */
export function moved({ count, sum }, before, after) {
  if (after) return moved({ count: count + 1, sum: (sum + mark(after)) >>> 0 }, before, null);
  return before ? { count: count - 1, sum: (sum - mark(before)) >>> 0 } : { count, sum };
}

/** As it travels. @param {Digest} digest @returns {string} */
export function digestWords({ count, sum }) {
  return `${count}-${sum.toString(16).padStart(8, "0")}`;
}
