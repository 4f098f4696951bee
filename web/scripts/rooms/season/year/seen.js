// @ts-check
/** What is to be seen of how the year runs: each crop's usual course here, and the household's own years. Pure. */
import { daySpan } from "../../../lib/dates.js";
import { kept } from "../../../lib/words.js";
import { usualCover } from "../year-asked.js";
import { axisOf, beginWords, courseOf, ownYears, wrapped, wrappedWindows } from "../year-course.js";

/** @typedef {import("../../../store/book.js").Book} Book */

const OWN_LINES = 4;

/**
 * @param {Book} book
 * @param {string} today
 * @param {{name: string, cover: string}} asked
 */
export function seeYear(book, today, asked) {
  const wanted = asked.name.trim().toLowerCase();
  const grown = new Set(book.ofKind("variety").map((one) => one.fields.crop));
  const crops = Object.entries(book.rulebook.crops || {})
    .map(([id, crop]) => ({ id, many: /** @type {any} */ (crop).many, grown: grown.has(id) }))
    .filter((crop) => crop.many.toLowerCase().includes(wanted))
    .sort((a, b) => Number(b.grown) - Number(a.grown) || a.many.localeCompare(b.many));
  const none = wanted ? `No crop is called “${asked.name.trim()}”.` : "What is known of crops has not come from the server yet. Open the app once where it answers.";
  return { today, cover: asked.cover || usualCover(book, today), axis: axisOf(book, today), crops, none: crops.length ? "" : none };
}

/**
 * One crop's row.
 * @param {Book} book
 * @param {{id: string, many: string}} crop
 * @param {Pick<ReturnType<typeof seeYear>, "today" | "cover" | "axis">} seen
 */
export function seeCrop(book, { id, many }, { today, cover, axis }) {
  const course = courseOf(book.rulebook, id, cover, axis);
  const years = ownYears(book.stand(today).batches, id, book).slice(0, OWN_LINES);
  return {
    id,
    many,
    begins: kept(beginWords(course, today)),
    told: course.stages.map((one) => `${one.stage} from ${daySpan(one.from, one.to, today)}`).join(", "),
    windows: wrappedWindows(course.windows.slice(0, 1), axis),
    stages: wrapped(course.stages, axis),
    years: years.map((one) => wrapped(one.batches.flatMap((batch) => batch.stages), axis)),
  };
}
