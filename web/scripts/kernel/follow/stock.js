// @ts-check
/** Stock: what the shed holds, as it was counted, with what was bought and less what was used since. */
import { parse } from "../read/days.js";
import { compareText, fieldStamps, visible } from "../read/merge.js";
import { usedOf } from "./used.js";

/**
 * @typedef {import("../../types.js").RecordForm} RecordForm
 * @typedef {{on: number, stamp: string}} Moment a day, and the stamp of what was told of it: of two on one day the later told is the later
 * @typedef {Moment & {amount: number}} Change so much came or went
 * @typedef {{what: string, unit: string, since: Moment | null, held: number, came: Change[], went: Change[]}} Item since: when it was counted,
 *   null where nobody said
 */

/**
 * All that was ever counted or bought, to a tenth, in order of what and unit; never below nought. What lasts (pots, tools) is
 * not used up.
 * @param {import("./knowledge.js").Knowledge} know
 * @param {RecordForm[]} records those of kind `supply` and `bought` among others
 * @returns {{what: string, unit: string, held: number}[]}
 */
export function stockOf(know, records) {
  const items = toldItems(records, know.today);
  const vessels = know.rulebook.vessels || {};
  const lasting = /** @type {string[]} */ ([...(vessels.lasts || []), ...(vessels.tools || [])]);
  for (const { on, stamp, what, unit, amount } of usedOf(know)) {
    const item = items.get(keyOf(what, unit));
    if (item && !lasting.some((word) => what.includes(word))) item.went.push({ on, stamp, amount });
  }
  return [...items.values()].sort((a, b) => compareText(a.what, b.what) || compareText(a.unit, b.unit)).map((item) => ({ what: item.what, unit: item.unit, held: heldOf(item) }));
}

/** What was counted and bought. @param {RecordForm[]} records @param {number} today @returns {Map<string, Item>} */
function toldItems(records, today) {
  /** @type {Map<string, Item>} */
  const items = new Map();
  const told = records.filter((one) => (one.kind === "supply" || one.kind === "bought") && visible(one)).sort((a, b) => compareText(a.id, b.id));
  for (const record of told) {
    const { fields, kind } = record;
    const on = (fields.on ?? null) === null ? null : parse(fields.on);
    if (kind === "bought" && (on === null || on > today)) continue;
    const [what, unit] = [fields.what || "", fields.unit || ""];
    /** @type {Item} */
    const item = items.get(keyOf(what, unit)) || { what, unit, since: null, held: 0, came: [], went: [] };
    items.set(keyOf(what, unit), item);
    if (kind === "bought") item.came.push({ on: /** @type {number} */ (on), stamp: record.stamp, amount: fields.amount || 0 });
    else Object.assign(item, { held: fields.held || 0, since: on === null ? null : { on, stamp: fieldStamps(record).held ?? record.stamp } });
  }
  return items;
}

/** From its count on; of what nobody counted from the day on which some was first bought. @param {Item} item @returns {number} */
function heldOf({ since, held, came, went }) {
  const first = since ?? came.reduce((/** @type {Moment | null} */ least, one) => (least && !isLater(least, one) ? least : one), null);
  let now = held;
  for (const one of came) if (since === null || isLater(one, since)) now += one.amount;
  for (const one of went) if (first !== null && isLater(one, first)) now -= one.amount;
  return Math.max(0, Math.floor(now * 10 + 0.5) / 10);
}

/** @param {Moment} one @param {Moment} other */
function isLater(one, other) {
  return one.on > other.on || (one.on === other.on && one.stamp > other.stamp);
}

/** @param {string} what @param {string} unit */
function keyOf(what, unit) {
  return `${what}\n${unit}`;
}
