// @ts-check
/** What is asked for a crop of the household's own, and what is written for it. Pure. */

const LONGEST = 30;

/** @type {import("../../parts/form.js").Shape[]} */
export const SHAPES = [
  { name: "like", label: "It grows like", sort: "crop", required: true },
  { name: "one", label: "One of them is a", sort: "line", required: true, help: "as in a sentence: oca tuber" },
  { name: "many", label: "Many are", sort: "line", required: true, help: "as in a sentence: oca" },
  { name: "family", label: "Its family", sort: "line", help: "left empty: the same; beds are rested by it" },
];

/** @param {import("../../../store/book.js").Book} book @param {Record<string, any>} answers @returns {import("../../../types.js").Wish} */
export function cropWish(book, answers) {
  const crop = freeName(book, answers.one);
  return { id: `crop.${crop}`, kind: "crop", fields: { crop, ...answers } };
}

/** A whole calendar that came as a file. @param {any} calendar @returns {import("../../../types.js").Wish} */
export function calendarWish(calendar) {
  return { id: `crop.${calendar.id}`, kind: "crop", fields: { crop: calendar.id, calendar, gone: false } };
}

/** A word that no crop has yet. @param {import("../../../store/book.js").Book} book @param {string} one */
function freeName(book, one) {
  const plain = one.toLowerCase().normalize("NFKD").replace(/[^a-z0-9]+/g, "_").replace(/^[^a-z]+|_+$/g, "").slice(0, LONGEST) || "own";
  const taken = (/** @type {string} */ name) => name in (book.rulebook.crops || {}) || book.get(`crop.${name}`) !== null;
  let name = plain;
  for (let number = 2; taken(name); number += 1) name = `${plain}_${number}`;
  return name;
}
