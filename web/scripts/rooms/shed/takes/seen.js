// @ts-check
/** What is to be seen of what it takes: what is to be bought, what was bought today, and what the shed holds. Pure. */
import { batchName, fullPlace } from "../../../household/names.js";
import { countedSeeds } from "../../../household/seeds.js";
import { bagWords, stretchOf, supplyId, takesOf } from "../../../household/takes-working.js";
import { daySpan, plainDay } from "../../../lib/dates.js";
import { capital, kept } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../household/takes-working.js").Take} Take
 * @typedef {{days: number, from: string, to: string, batch: string | null, place: string | null}} Choice days: from today on; from, to: days of one's own, empty for
 *   none
 * @typedef {ReturnType<typeof seeTakes>} Seen
 */

/** Stretches to choose from. [days] */
const STRETCHES = /** @type {[number, string][]} */ ([[14, "A fortnight"], [42, "Six weeks"], [182, "Half a year"], [366, "The whole plan"]]);
const MOST_FOR = 3;

/** @param {Book} book @param {import("../../../household/bed-working.js").Room} room @param {Choice} choice @param {string} today */
export function seeTakes(book, room, { days, from, to, batch, place }, today) {
  const own = from && to && from <= to ? { from, to } : null;
  const stretch = { ...(own || stretchOf(today, days)), batch, place };
  const takes = takesOf(book, room, stretch, today);
  const lacking = takes.filter(({ lack }) => lack > 0);
  return {
    words: kept([daySpan(stretch.from, stretch.to, today), batch || place ? `for ${batch ? batchName(book, batch) : fullPlace(book, place)}` : ""].filter(Boolean).join(", ")),
    stretches: STRETCHES.map(([many, words]) => ({ days: many, words, chosen: !own && many === days })),
    own: { from: from || "", to: to || "", wrong: from && to && from > to ? "The last day comes before the first." : "" },
    buy: lacking.map((take) => ({ ...seeTake(book, take), words: kept(countedItem(take.lack, take.unit, itemName(take))), beside: kept([take.unit === "L" && /compost/.test(take.what) ? bagWords(book, take.lack) : "", forWords(book, take)].filter(Boolean).join(", ")) })),
    got: boughtToday(book, today),
    shed: takes.map((take) => ({ ...seeTake(book, take), words: kept(capital(itemName(take))), beside: kept(`${amountWords(take.need, take.unit)} ${take.lasts ? "needed at one time" : "needed"}, ${amountWords(take.held, take.unit)} in the shed`) })),
    empty: takes.length ? "" : "Nothing is needed in that time that the shed could lack.",
  };
}

/** @param {Book} book @param {Take} take */
function seeTake(book, { key, what, unit, need, held, lack, variety }) {
  return { key, what, unit, need, held, lack, variety, before: variety ? { seeds: book.fields(variety).seeds ?? null, seeds_on: book.fields(variety).seeds_on ?? null } : null };
}

/** @param {Take} take */
function itemName({ what, variety }) {
  return variety ? `seeds: ${what}` : what;
}

/** What is told in the plural stands alone where there is one. */
const ONE_OF_THEM = /^(half seed tray|seed tray|tray|pot|string|cane|stake|label|dripper|seed)s\b/;

/** `1 tray of 60`, `28 L compost`. @param {number} amount @param {string} unit @param {string} name */
function countedItem(amount, unit, name) {
  return [amountWords(amount, unit), amount === 1 ? name.replace(ONE_OF_THEM, "$1") : name].join(" ");
}

/** `28 L`, `120`: the unit of seeds is in their name; a litre of millilitres is a litre. @param {number} amount @param {string} unit */
function amountWords(amount, unit) {
  if (unit === "ml" && amount >= 1000) return `${Math.ceil(amount / 100) / 10} L`;
  return unit && unit !== "seeds" ? `${amount} ${unit}` : String(amount);
}

/** @param {Book} book @param {Take} take */
function forWords(book, { of }) {
  const names = [...new Set(of.map((batch) => batchName(book, batch)))];
  const more = names.length - MOST_FOR;
  const some = names.slice(0, MOST_FOR).join(", ");
  if (!names.length) return "";
  return more > 0 ? `for ${some} and ${more} more` : `for ${some}`;
}

/** @param {Book} book @param {string} today */
function boughtToday(book, today) {
  return book.ofKind("bought").filter(({ fields }) => fields.on === today).map(({ id, fields }) => ({ id, words: kept(countedItem(fields.amount, fields.unit || "", fields.what || "")), says: plainDay(fields.on, today) }));
}

/** What a tick of the list writes: so much is in the shed. @param {Seen["buy"][0]} row @param {{id: string, today: string, at: {at: string, by: string | null}}} given @returns {import("../../../types.js").Wish[]} */
export function boughtWishes({ what, unit, need, lack, variety }, { id, today, at }) {
  if (variety) return [{ id: variety, kind: "variety", fields: countedSeeds(need, today) }];
  return [{ id, kind: "bought", fields: { what, unit, amount: lack, on: today, at: at.at, ...(at.by ? { by: at.by } : {}) } }];
}

/** What takes that back. @param {Seen["buy"][0]} row @param {import("../../../types.js").Wish[]} wishes @returns {import("../../../types.js").Wish[]} */
export function backWishes({ before, variety }, wishes) {
  return variety ? [{ id: variety, kind: "variety", fields: { ...before } }] : wishes.map(({ id, kind }) => ({ id, kind, fields: { gone: true } }));
}

/** What is counted in the shed. @param {Seen["shed"][0]} row @param {number} held @param {string} today @returns {import("../../../types.js").Wish} */
export function countedWish({ what, unit, variety }, held, today) {
  if (variety) return { id: variety, kind: "variety", fields: countedSeeds(Math.round(held), today) };
  return { id: supplyId(what, unit), kind: "supply", fields: { what, unit, held, on: today } };
}
