// @ts-check
/** What is to be seen of the household's phones: who has joined, who waits, a code that is out. Pure. */
import { houses, personName } from "../../../household/names.js";
import { plainDay } from "../../../lib/dates.js";
import { momentWords } from "../../../lib/words.js";

/**
 * @typedef {{id: string, name: string, person: string | null, seen: number, guest?: {until: string} | null}} Phone
 * @typedef {{this: string, phones: Phone[], waiting: {id: string, name: string, guest?: any}[]}} Found the server's answer
 * @typedef {{code: string, address: string, until: number, squares: string[]}} Code
 * @typedef {{book: import("../../../store/book.js").Book, today: string, now: number, zone: string | null}} Given
 * @typedef {ReturnType<typeof seePhone>} SeenPhone
 */

/** @param {Given} given @param {Found} found */
export function seePhones(given, found) {
  return {
    waiting: found.waiting.map(({ id, name, guest }) => ({
      id,
      name,
      words: `${guest ? "It would be a guest." : "It would see and write everything, as this phone does."} Let it in only if you have it before you.`,
    })),
    phones: found.phones.map((phone) => seePhone(given, phone, phone.id === found.this)),
  };
}

/** @param {Given} given @param {Phone} phone @param {boolean} mine */
function seePhone({ book, today, now, zone }, { id, name, person, seen, guest }, mine) {
  const here = mine ? "this phone" : `last here ${momentWords(seen, now, zone)}`;
  return { id, name, mine, words: [guest ? `a guest until ${plainDay(guest.until, today)}` : "", personName(book, person), here].filter(Boolean).join(", ") };
}

/** @param {Given} given @param {Code} code */
export function seeCode({ now, zone }, { code, address, until, squares }) {
  return { code, squares, address: address.split("/#")[0], until: `Good until ${momentWords(until, now, zone)}, for one phone. Or hold its camera over this:` };
}

/** The places a guest may be given. @param {Given} given @param {Set<string>} chosen */
export function seeGuestPlaces({ book }, chosen) {
  return houses(book).map(({ id, fields }) => ({ id, name: fields.name || "?", chosen: chosen.has(id) }));
}
