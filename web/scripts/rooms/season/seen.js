// @ts-check
/** What is to be seen of a season: its batches by family, on one line of time. Pure. */
import { batchName, cropWords, familyWords, fullPlace } from "../../household/names.js";
import { capital, kept } from "../../lib/words.js";

/**
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {{id: string, says: string, soft: string, told: string, stages: {stage: string, from: string, to: string, real: boolean}[]}} BatchLine
 */

const MOST_YEARS = 4;

/**
 * @param {Book} book
 * @param {string} today
 * @param {number | null} asked the year that was asked for
 */
export function seeSeason(book, today, asked) {
  const thisYear = Number(today.slice(0, 4));
  const all = book.stand(today).batches.filter((/** @type {any} */ batch) => batch.stages.length);
  const years = [...new Set([thisYear, ...book.restingYears, ...all.map((/** @type {any} */ batch) => batch.year)])].sort();
  const runsNow = all.some((/** @type {any} */ batch) => batch.year === thisYear);
  const year = asked ?? (runsNow ? thisYear : (years.find((one) => one > thisYear) ?? thisYear));
  const span = { from: `${year}-01-01`, to: `${year}-12-31`, today };
  const inYear = all.filter((/** @type {any} */ batch) => batch.stages.some((/** @type {any} */ one) => one.to >= span.from && one.from <= span.to));
  return { year, years: years.length > 1 ? years.slice(-MOST_YEARS) : [], span, families: byFamily(book, inYear) };
}

/** @param {Book} book @param {any[]} batches @returns {{family: string, batches: BatchLine[]}[]} */
function byFamily(book, batches) {
  /** @type {Map<string, any[]>} */
  const families = new Map();
  for (const batch of batches) {
    const family = familyWords(book, batch.id);
    families.set(family, [...(families.get(family) || []), batch]);
  }
  return [...families]
    .sort((a, b) => (a[0] < b[0] ? -1 : 1))
    .map(([family, rows]) => ({ family, batches: rows.sort((a, b) => (a.stages[0].from < b.stages[0].from ? -1 : 1)).map((batch) => seeLine(book, batch)) }));
}

/** @param {Book} book @param {any} batch @returns {BatchLine} */
function seeLine(book, batch) {
  const words = [batch.want ?? "", cropWords(book, batch.id)].filter(String).join(" ");
  return {
    id: batch.id,
    says: kept(capital(words)),
    soft: kept([batchName(book, batch.id), batch.for_place ? fullPlace(book, batch.for_place) : ""].filter(Boolean).join(", ")),
    told: stagesTold(batch.stages),
    stages: batch.stages,
  };
}

/** A bar, for whoever cannot see it. @param {{stage: string, from: string, to: string}[]} stages */
export function stagesTold(stages) {
  return stages.map((one) => `${one.stage} from ${one.from} to ${one.to}`).join(", ");
}
