// @ts-check
/** What is to be seen of one entry of the Diary: its words, and which of its fields can be corrected. Pure. */
import { deedWords } from "../../../household/diary-lines.js";
import { personName } from "../../../household/names.js";
import { visible } from "../../../kernel/read/merge.js";
import { longDay } from "../../../lib/dates.js";
import { kept, momentWords } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../parts/form.js").Shape & {when: (fields: Record<string, any>) => boolean}} Sometimes
 * @typedef {{field: string, value: any, ms: number}} Before what a field said before somebody else's later word
 */

/** @type {import("../../parts/form.js").Shape[]} */
const ALWAYS = [
  { name: "on", label: "On", sort: "date" },
  { name: "note", label: "A word", sort: "words" },
  { name: "by", label: "Who", sort: "person" },
];
const MOVING = ["sow", "prick_out", "pot_up", "plant_out", "move"];
/** @type {Sometimes[]} */
const SOMETIMES = [
  { name: "count", label: "How many", sort: "whole", least: 0, most: 100000, when: (fields) => Boolean(fields.batch) && !["look", "treat"].includes(fields.did) },
  { name: "weight_g", label: "Weight", sort: "weight", least: 0, most: 10000000, when: ({ did }) => did === "pick" },
  { name: "pot_l", label: "Pot", sort: "volume", least: 0.01, most: 1000, when: ({ did }) => did === "pot_up" },
  { name: "tmin", label: "Lowest", sort: "degrees", least: -60, most: 70, when: ({ did }) => did === "measure" },
  { name: "tmax", label: "Highest", sort: "degrees", least: -60, most: 70, when: ({ did }) => did === "measure" },
  { name: "level", label: "How much", sort: "choice", choices: [["none", "none"], ["few", "few"], ["many", "many"], ["severe", "severe"]], when: ({ did, found }) => did === "look" && Boolean(found) },
  { name: "place", label: "Where", sort: "place", when: ({ fixture }) => !fixture },
  { name: "to_place", label: "Where to", sort: "place", when: ({ did }) => MOVING.includes(did) },
  { name: "product", label: "Product", sort: "line", when: ({ did }) => did === "treat" },
  { name: "rate", label: "Rate", sort: "line", when: ({ did }) => did === "treat" },
];
const FIELD_WORDS = new Map([...SOMETIMES, ...ALWAYS].map((one) => [one.name, one.label.toLowerCase()]));

/** Fields of a deed that can be corrected, by what was done. @param {Record<string, any>} fields @returns {import("../../parts/form.js").Shape[]} */
export function shapesOf(fields) {
  return [...SOMETIMES.filter((one) => one.when(fields)), ...ALWAYS];
}

/** @param {Book} book @param {import("../../../types.js").RecordForm} record of kind diary */
export function seeDeed(book, record) {
  const { fields } = record;
  const [verb, what] = deedWords(book, fields);
  return { verb, what: kept(what), fields, facts: [longDay(fields.on), fields.at, personName(book, fields.by)].filter(Boolean).join(", "), gone: !visible(record), toldBy: tellers(book, record) };
}

/** Who told of the same deed, where it was more than one. @param {Book} book @param {import("../../../types.js").RecordForm} record */
function tellers(book, { id, fields }) {
  const others = book.ofKind("diary").filter((one) => one.id !== id && fields.job && one.fields.job === fields.job && one.fields.part === fields.part);
  if (!others.length) return "";
  const names = [fields.by, ...others.map((one) => one.fields.by)].map((by) => personName(book, by) || "somebody");
  return `Told by ${names.join(" and ")}: written once, the larger number counts.`;
}

/** @param {Before[]} before @param {number} now @param {string | null} zone */
export function seeBefore(before, now, zone) {
  return before.map(({ field, value, ms }) => ({
    field: FIELD_WORDS.get(field) || field.replaceAll("_", " "),
    words: `${value === null ? "nothing" : String(value)}, ${momentWords(ms, now, zone)}`,
  }));
}
