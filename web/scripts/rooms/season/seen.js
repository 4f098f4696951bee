// @ts-check
/** What is to be seen of a season: its batches in the order that was asked for, on one line of time. Pure. */
import { batchName, countedCrop, cropWords, familyWords, fullPlace, houseOf, nameBeside, placeName } from "../../household/names.js";
import { walkNumber } from "../../household/walk.js";
import { daySpan, monthName } from "../../lib/dates.js";
import { holds } from "../../lib/finding.js";
import { capital, kept } from "../../lib/words.js";

/**
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {"place" | "when" | "name" | "family"} Order
 * @typedef {{year: number | null, order: Order, words: string}} Asked words: what was typed to find a batch
 * @typedef {{id: string, says: string, soft: string, told: string, stages: {stage: string, from: string, to: string, real: boolean}[]}} BatchLine
 */

const MOST_YEARS = 4;
/** @type {{id: Order, words: string}[]} */
const ORDERS = [
  { id: "place", words: "Place" },
  { id: "when", words: "When" },
  { id: "name", words: "Name" },
  { id: "family", words: "Family" },
];

/**
 * @param {Book} book
 * @param {string} today
 * @param {Asked} asked
 */
export function seeSeason(book, today, asked) {
  const thisYear = Number(today.slice(0, 4));
  const all = book.stand(today).batches.filter((/** @type {any} */ batch) => batch.stages.length);
  const years = [...new Set([thisYear, ...book.restingYears, ...all.map((/** @type {any} */ batch) => batch.year)])].sort();
  const runsNow = all.some((/** @type {any} */ batch) => batch.year === thisYear);
  const year = asked.year ?? (runsNow ? thisYear : (years.find((one) => one > thisYear) ?? thisYear));
  const span = { from: `${year}-01-01`, to: `${year}-12-31`, today };
  const inYear = all.filter((/** @type {any} */ batch) => batch.stages.some((/** @type {any} */ one) => one.to >= span.from && one.from <= span.to));
  const found = inYear.filter((/** @type {any} */ batch) => holds(textOf(book, batch), asked.words));
  return {
    year,
    years: years.length > 1 ? years.slice(-MOST_YEARS) : [],
    span,
    orders: ORDERS.map(({ id, words }) => ({ id, words, chosen: id === asked.order })),
    groups: grouped(book, found, asked.order, today),
    none: inYear.length ? "No batch of this year is called so." : "No batch runs in this year yet.",
    any: inYear.length > 0,
  };
}

/** All that a batch can be found by. @param {Book} book @param {any} batch */
function textOf(book, batch) {
  return [cropWords(book, batch.id), batchName(book, batch.id), familyWords(book, batch.id), fullPlace(book, batch.for_place), batch.state].join(" ");
}

/** @param {Book} book @param {any[]} batches @param {Order} order @param {string} today @returns {{title: string, batches: BatchLine[]}[]} */
function grouped(book, batches, order, today) {
  const groupOf = GROUPS[order];
  /** @type {Map<string, {title: string, batches: any[]}>} */
  const groups = new Map();
  for (const batch of batches) {
    const { at, title } = groupOf(book, batch, today);
    const held = groups.get(at) || { title, batches: [] };
    held.batches.push(batch);
    groups.set(at, held);
  }
  const lines = (/** @type {any[]} */ rows) => [...rows].sort((a, b) => compare(a.stages[0].from, b.stages[0].from) || compare(a.id, b.id)).map((batch) => seeLine(book, batch));
  return [...groups].sort((a, b) => compare(a[0], b[0])).map(([, group]) => ({ title: kept(group.title), batches: lines(group.batches) }));
}

/** @param {string} a @param {string} b */
function compare(a, b) {
  return a < b ? -1 : a > b ? 1 : 0;
}

const NOWHERE = "999";

/** What each order puts together; at: where the group comes. @type {Record<Order, (book: Book, batch: any, today: string) => {at: string, title: string}>} */
const GROUPS = {
  place: (book, batch) => {
    const place = batch.cells[0]?.place ?? batch.for_place;
    const house = houseOf(book, place);
    return { at: String(walkNumber(book, place) ?? NOWHERE).padStart(3, "0"), title: house ? placeName(book, house) : "No place yet" };
  },
  when: (_book, batch, today) => {
    const [from, to] = [batch.stages[0].from, batch.stages[batch.stages.length - 1].to];
    if (to < today || batch.state === "over") return { at: "9", title: "Over" };
    if (from <= today) return { at: "0", title: "Growing now" };
    return { at: from.slice(0, 7), title: ["From", monthName(from), from.slice(0, 4) === today.slice(0, 4) ? "" : from.slice(0, 4)].join(" ").trim() };
  },
  name: (book, batch) => {
    const letter = capital(cropWords(book, batch.id)).slice(0, 1);
    return { at: letter, title: letter };
  },
  family: (book, batch) => {
    const family = familyWords(book, batch.id);
    return { at: family, title: family };
  },
};

/** @param {Book} book @param {any} batch @returns {BatchLine} */
function seeLine(book, batch) {
  const words = countedCrop(book, batch.id, batch.want);
  return {
    id: batch.id,
    says: kept(capital(words)),
    soft: kept([nameBeside(book, batch.id), batch.for_place ? fullPlace(book, batch.for_place) : ""].filter(Boolean).join(", ")),
    told: stagesTold(batch.stages, `${batch.year}-01-01`),
    stages: batch.stages,
  };
}

/** A bar, for whoever cannot see it. @param {{stage: string, from: string, to: string}[]} stages @param {string} near a day of the year that need not be named */
export function stagesTold(stages, near) {
  return stages.map((one) => `${one.stage} from ${daySpan(one.from, one.to, near)}`).join(", ");
}
