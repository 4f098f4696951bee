// @ts-check
/** What is to be seen of one crop's numbers: the calendar's, and the household's own beside them. Pure. */
import { inGroups, ownId, ownNumbers, paceOf, valueWords } from "../../../household/crop-numbers.js";
import { capital, counted, kept } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../household/crop-numbers.js").CalendarNumber} CalendarNumber
 * @typedef {{crop: string, variety: string | null}} Whose
 * @typedef {ReturnType<typeof seeNumber>} SeenNumber
 */

/** The record of a crop the household made, if it is one. @param {Book} book @param {string} crop */
export function madeCrop(book, crop) {
  return book.ofKind("crop").find((one) => one.fields.crop === crop && (one.fields.like || one.fields.calendar));
}

/** @param {Book} book @param {Whose} whose @param {any} calendar the server's answer, null before it came @returns {string} */
export function nameOf(book, { crop, variety }, calendar) {
  return book.fields(variety).name || madeCrop(book, crop)?.fields.many || book.rulebook.crops?.[crop]?.many || calendar?.many || "Crop";
}

/**
 * @param {Book} book
 * @param {Whose} whose
 * @param {any} calendar
 */
export function seeCrop(book, whose, calendar) {
  const { crop, variety } = whose;
  const own = variety ? ownNumbers(book, "variety", variety) : ownNumbers(book, "crop", crop);
  const below = variety ? ownNumbers(book, "crop", crop) : new Map();
  const name = nameOf(book, whose, calendar);
  const made = Boolean(madeCrop(book, crop));
  return {
    crop,
    title: capital(name),
    intro: kept(introWords(book, whose, own.size)),
    whole: !variety,
    file: !variety && calendar !== null && !made,
    made: made && !variety,
    groups: calendar ? inGroups(calendar.numbers).map(([group, numbers]) => seeGroup(group, numbers.map((number) => seeNumber(book, whose, number, { own: own.get(number.path) ?? null, below: below.get(number.path) })))) : [],
  };
}

/** @param {string} group @param {SeenNumber[]} numbers */
function seeGroup(group, numbers) {
  const changed = numbers.filter(({ own }) => own !== null).length;
  return { group, title: kept(changed ? `${group}: ${changed} of your own` : group), numbers };
}

/** @param {Book} book @param {Whose} whose @param {CalendarNumber} number @param {{own: number | null, below: number | undefined}} given below: the crop's own number, for a variety */
function seeNumber(book, { crop, variety }, number, { own, below }) {
  const usual = below ?? number.value;
  const range = number.usual ? `usual from ${valueWords(number, number.usual[0])} to ${valueWords(number, number.usual[1])}; ` : "";
  const left = own === null ? null : book.rulebook.left_out?.[ownId(variety || crop, number.path)];
  return {
    number,
    own,
    usual,
    pace: paceOf(number),
    wrong: left ? kept(left) : "",
    ownWords: own === null ? "" : `yours ${valueWords(number, own)}`,
    usualWords: valueWords(number, usual),
    whose: variety ? "crop" : "calendar",
    source: kept(`${range}source: ${number.source}`),
  };
}

/** @param {Book} book @param {Whose} whose @param {number} own how many numbers of its own */
function introWords(book, { crop, variety }, own) {
  const many = (/** @type {string} */ id) => book.rulebook.crops?.[id]?.many;
  if (variety) return `${own ? counted(own, "number") + " of its own. " : ""}What is changed here holds for this variety alone; the rest is as for ${many(crop) || "its crop"}.`;
  const like = madeCrop(book, crop)?.fields.like;
  const words = like ? `A crop of your own, like ${many(like) || like}. ` : "";
  return `${words}${own ? counted(own, "number") + " of your own. " : ""}Tap one to change it; the calendar's own stays beside it.`;
}
