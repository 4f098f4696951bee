// @ts-check
/** Days read by a thermometer: out of the book, and into it month by month. Pure. */

/** @typedef {[number, number]} Pair minimum and maximum, °C */

/** @param {string} place @param {string} month @returns {string} */
export function monthId(place, month) {
  return `readings.${place}.${month}`;
}

/**
 * Every day read in a place, the file's before what was typed, oldest first.
 * @param {any} book
 * @param {string} place
 * @returns {Map<string, Pair>}
 */
export function daysRead(book, place) {
  /** @type {Map<string, Pair>} */
  const days = new Map();
  for (const { fields } of book.ofKind("diary")) {
    if (fields.did === "measure" && fields.place === place && (fields.tmin ?? null) !== null && (fields.tmax ?? null) !== null) days.set(fields.on, [fields.tmin, fields.tmax]);
  }
  for (const { fields } of book.ofKind("readings")) {
    if (fields.place !== place) continue;
    for (const [name, pair] of Object.entries(fields)) if (/^d\d\d$/.test(name) && pair) days.set(`${fields.month}-${name.slice(1)}`, /** @type {Pair} */ (pair));
  }
  return new Map([...days].sort(([a], [b]) => (a < b ? -1 : 1)));
}

/**
 * What has to be written so that these days are in the book: one record a month, only days that are new or differ.
 * @param {any} book
 * @param {string} place
 * @param {Record<string, Pair>} days
 * @returns {{id: string, kind: string, fields: Record<string, any>}[]}
 */
export function importWishes(book, place, days) {
  /** @type {Map<string, Record<string, any>>} */
  const months = new Map();
  for (const [day, pair] of Object.entries(days)) {
    const month = day.slice(0, 7);
    const held = book.fields(monthId(place, month));
    const name = `d${day.slice(8)}`;
    if (JSON.stringify(held[name] ?? null) === JSON.stringify(pair)) continue;
    months.set(month, { ...(months.get(month) || { place, month }), [name]: pair });
  }
  return [...months].map(([month, fields]) => ({ id: monthId(place, month), kind: "readings", fields }));
}

/** What brings back the days as they were. @param {any} book @param {{id: string, kind: string, fields: Record<string, any>}[]} wishes */
export function undoOf(book, wishes) {
  return wishes.map(({ id, kind, fields }) => {
    const held = book.fields(id);
    return { id, kind, fields: Object.fromEntries(Object.keys(fields).filter((name) => /^d\d\d$/.test(name)).map((name) => [name, held[name] ?? null])) };
  });
}

/** @param {Record<string, Pair>} days @returns {{coldest: {day: string, c: number}, warmest: {day: string, c: number}}} */
export function extremes(days) {
  const coldest = { day: "", c: Infinity };
  const warmest = { day: "", c: -Infinity };
  for (const [day, [low, high]] of Object.entries(days)) {
    if (low < coldest.c) Object.assign(coldest, { day, c: low });
    if (high > warmest.c) Object.assign(warmest, { day, c: high });
  }
  return { coldest, warmest };
}
