// @ts-check
/** Merging records field by field: the later stamp wins, and no order of arrival matters. */

/** @typedef {import("../../types.js").RecordForm} RecordForm */

/**
 * Compares as Python does, by code point; JavaScript's own order is by UTF-16 unit.
 * @param {string} a
 * @param {string} b
 * @returns {number}
 */
export function compareText(a, b) {
  if (a === b) return 0;
  const length = Math.min(a.length, b.length);
  for (let at = 0; at < length; at += 1) {
    const left = a.charCodeAt(at);
    const right = b.charCodeAt(at);
    if (left !== right) {
      const surrogates = (left >= 0xd800 && left <= 0xdfff) !== (right >= 0xd800 && right <= 0xdfff);
      if (!surrogates) return left < right ? -1 : 1;
      const leftPoint = /** @type {number} */ (a.codePointAt(at));
      const rightPoint = /** @type {number} */ (b.codePointAt(at));
      return leftPoint < rightPoint ? -1 : 1;
    }
  }
  return a.length < b.length ? -1 : 1;
}

/**
 * Field name to its stamp, exceptions laid over the record's own.
 * @param {RecordForm} record
 * @returns {Record<string, string>}
 */
export function fieldStamps(record) {
  const named = record.stamps || {};
  /** @type {Record<string, string>} */
  const stamps = Object.create(null);
  for (const name of Object.keys(record.fields)) stamps[name] = Object.hasOwn(named, name) ? named[name] : record.stamp;
  return stamps;
}

/** @type {WeakMap<object, any>} */
const bared = new WeakMap();

/**
 * A table as it came, without what every object is born with: asked for `constructor`, which a household may well call a trouble or a
 * kind, it has none. Done once for each table.
 * @template T
 * @param {T} table
 * @returns {T}
 */
export function bare(table) {
  if (table === null || typeof table !== "object") return table;
  const known = bared.get(table);
  if (known) return known;
  const made = Array.isArray(table) ? table.map(bare) : Object.create(null);
  if (!Array.isArray(table)) for (const [name, value] of Object.entries(table)) made[name] = bare(value);
  bared.set(table, made);
  bared.set(made, made);
  return made;
}

/**
 * The record after a change, in canonical form. `mine` is null for a record not met before.
 * @param {RecordForm | null | undefined} mine
 * @param {RecordForm} change
 * @returns {RecordForm}
 */
export function mergeRecord(mine, change) {
  /** @type {Record<string, any>} */
  const fields = Object.assign(Object.create(null), mine?.fields);
  const stamps = mine ? fieldStamps(mine) : Object.create(null);
  for (const [name, stamp] of Object.entries(fieldStamps(change))) {
    const value = change.fields[name];
    const held = stamps[name];
    if (held === undefined || stamp > held || (stamp === held && compareText(text(value), text(fields[name])) > 0)) {
      fields[name] = value;
      stamps[name] = stamp;
    }
  }
  const kind = mine && mine.kind < change.kind ? mine.kind : change.kind;
  const bare = mine && mine.stamp < change.stamp ? mine.stamp : change.stamp;
  return canonical(change.id, kind, fields, stamps, bare);
}

/**
 * The one form of a state: smallest field stamp as the record's own, only the others named.
 * @param {string} id
 * @param {string} kind
 * @param {Record<string, any>} fields
 * @param {Record<string, string>} stamps
 * @param {string} bareStamp what to carry when there is no field at all
 * @returns {RecordForm}
 */
export function canonical(id, kind, fields, stamps, bareStamp) {
  const names = Object.keys(fields).sort(compareText);
  let own = names.length ? stamps[names[0]] : bareStamp;
  for (const name of names) if (stamps[name] < own) own = stamps[name];
  /** @type {Record<string, any>} */
  const sorted = Object.create(null);
  /** @type {Record<string, string>} */
  const others = Object.create(null);
  let differ = false;
  for (const name of names) {
    sorted[name] = fields[name];
    if (stamps[name] !== own) {
      others[name] = stamps[name];
      differ = true;
    }
  }
  /** @type {RecordForm} */
  const record = { id, kind, stamp: own, fields: sorted };
  if (differ) record.stamps = others;
  return record;
}

/**
 * Not deleted, or edited since: an edit newer than `gone` brings the record back.
 * @param {RecordForm} record
 * @returns {boolean}
 */
export function visible(record) {
  if (record.fields.gone !== true) return true;
  const stamps = fieldStamps(record);
  for (const [name, stamp] of Object.entries(stamps)) if (name !== "gone" && stamp > stamps.gone) return true;
  return false;
}

/**
 * A value in the canonical form of RFC 8785, keys by code points. Written here, because an object gives keys that look like numbers
 * before all others, however it was made.
 * @param {any} value
 * @returns {string}
 */
export function text(value) {
  if (Array.isArray(value)) return `[${value.map(text).join(",")}]`;
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  return `{${Object.keys(value).sort(compareText).map((key) => JSON.stringify(key) + ":" + text(value[key])).join(",")}}`;
}
