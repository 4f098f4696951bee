// @ts-check
/** What is to be seen of all crops: those the household grows first, then the rest. Pure. */
import { ownNumbers } from "../../../household/crop-numbers.js";
import { familyName } from "../../../household/names.js";
import { counted } from "../../../lib/words.js";

/** @typedef {import("../../../store/book.js").Book} Book */

/** @param {Book} book @param {string} asked part of a name or family */
export function seeCrops(book, asked) {
  const all = Object.entries(book.rulebook.crops || {}).map(([id, crop]) => ({ id, many: /** @type {any} */ (crop).many, family: familyName(/** @type {any} */ (crop).family) }));
  const wanted = asked.trim().toLowerCase();
  const found = all.filter(({ many, family }) => `${many} ${family}`.toLowerCase().includes(wanted)).sort((a, b) => a.many.localeCompare(b.many));
  const grown = new Set(book.ofKind("variety").map((one) => one.fields.crop));
  const lines = (/** @type {typeof found} */ crops) => crops.map((crop) => ({ id: crop.id, name: crop.many, says: ownWords(book, crop.id) || crop.family }));
  let none = "";
  if (!all.length) none = "What is known of crops has not come from the server yet. Open the app once where it answers.";
  else if (!found.length) none = `No crop is called “${asked.trim()}”. It may go by another name; or make it a crop of your own.`;
  return {
    none,
    parts: [
      { title: "Grown here", crops: lines(found.filter((crop) => grown.has(crop.id))) },
      { title: grown.size ? "Known too" : "Known", crops: lines(found.filter((crop) => !grown.has(crop.id))) },
    ],
  };
}

/** @param {Book} book @param {string} crop */
function ownWords(book, crop) {
  const own = ownNumbers(book, "crop", crop).size;
  const made = book.ofKind("crop").some((one) => one.fields.crop === crop && (one.fields.like || one.fields.calendar));
  return [made && "your own crop", own > 0 && `${counted(own, "number")} of your own`].filter(Boolean).join(", ");
}
