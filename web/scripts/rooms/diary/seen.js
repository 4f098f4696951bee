// @ts-check
/** What is to be seen of the Diary: the lines that answer what was asked, by day. Pure. */
import { answers, byDay, linesOf, readingWords } from "../../household/diary-lines.js";
import { visible } from "../../kernel/read/merge.js";
import { addDays, dayName, plainDay } from "../../lib/dates.js";

/**
 * @typedef {import("../../household/diary-lines.js").Line} Line
 * @typedef {{words: string, picked: boolean, lastYear: boolean, all: boolean}} Asked all: older seasons too
 */

const A_YEAR = 365;
const AROUND = 4;

/**
 * Every line that answers, newest first.
 * @param {import("../../store/book.js").Book} book
 * @param {Asked} asked
 * @param {{today: string, unsent: Set<string>}} given unsent: ids that are on this phone only
 * @returns {Line[]}
 */
export function seeLines(book, asked, { today, unsent }) {
  const records = book.records.filter((record) => (record.kind === "diary" || record.kind === "job") && visible(record));
  const titles = new Map(book.jobs(today).map((job) => [job.id, job.title]));
  return linesOf(book, records, { unsent, titles }).filter((line) => wanted(line, asked, today) && answers(line, asked.words));
}

/** @param {Line} line @param {Asked} asked @param {string} today */
function wanted(line, { picked, lastYear }, today) {
  if (picked && line.record.fields.did !== "pick") return false;
  const then = addDays(today, -A_YEAR);
  return !lastYear || (line.on >= addDays(then, -AROUND) && line.on <= addDays(then, AROUND));
}

/**
 * As many of the lines as are shown, by day; and what is said where there are none.
 * @param {Line[]} lines
 * @param {Asked} asked
 * @param {{today: string, shown: number}} given
 */
export function seeDiary(lines, asked, { today, shown }) {
  const none = asked.words || asked.picked || asked.lastYear ? "Nothing in the diary answers that." : "Nothing is written down yet. Tick a job on the Round, or tap Jot.";
  return {
    days: byDay(lines.slice(0, shown)).map((day) => ({ name: `${dayName(day.on)} ${plainDay(day.on, today)}`, read: readingWords(day.lines), lines: day.lines })),
    none: lines.length ? "" : none,
    older: !asked.all && lines.length <= shown,
  };
}

/** Small print of a line. @param {Line} line */
export function smallPrint({ at, who, where }) {
  return [at, who, where].filter(Boolean).join(", ");
}
