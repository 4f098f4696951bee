// @ts-check
/** What is to be seen when a job is put off: days worth offering, with what each costs. Pure. */
import { fullPlace } from "../../../household/names.js";
import { addDays, dayName, daysBetween, longDay, shortDay } from "../../../lib/dates.js";
import { counted, kept } from "../../../lib/words.js";

/** @typedef {import("../../../types.js").Job} Job */

const MOST_OFFERS = 6;
const WEEK_DAYS = 7;
const MOST_NAMED = 3;

/**
 * @param {import("../../../store/book.js").Book} book
 * @param {Job} job
 * @param {string} today
 */
export function seePutOff(book, job, today) {
  const held = /** @type {Job[]} */ (book.jobs(today)).filter((other) => other.in_the_way.some((way) => way.job === job.id));
  const holds = `Holds back ${counted(held.length, "job")}: ${held.slice(0, MOST_NAMED).map((one) => kept(one.title)).join("; ")}.`;
  return {
    job,
    today,
    tomorrow: addDays(today, 1),
    place: job.place ? `, ${fullPlace(book, job.place)}` : "",
    days: offers(today, job.by).map((day) => ({ day, name: daysBetween(today, day) < WEEK_DAYS ? dayName(day) : shortDay(day), cost: costWords(day, job.by) })),
    by: job.by ? `Its by-day is ${longDay(job.by)}. Past it, the job stays on the list and says what it cost.` : "",
    holds: held.length ? holds : "",
  };
}

/** What is said of a job put off: to when, and what that costs. @param {Job} job @param {string} day */
export function putOffSaid(job, day) {
  return `Put off to ${longDay(day)}, ${costWords(day, job.by)}: ${kept(job.title)}`;
}

/** Days worth offering: soon, within the leeway, the last good one. @param {string} today @param {string | null} by */
function offers(today, by) {
  const days = new Set([addDays(today, 1), addDays(today, 2)]);
  for (let ahead = 1; ahead <= WEEK_DAYS; ahead += 1) if (dayName(addDays(today, ahead)) === "Saturday") days.add(addDays(today, ahead));
  days.add(addDays(today, WEEK_DAYS));
  if (by !== null && by > today) days.add(by);
  return [...days].sort().slice(0, MOST_OFFERS);
}

/** @param {string} day @param {string | null} by */
function costWords(day, by) {
  if (by === null) return "nothing bounds it";
  const left = daysBetween(day, by);
  if (left > 0) return `then ${counted(left, "day")} in hand`;
  return left === 0 ? "the last good day" : `${counted(-left, "day")} past its by-day`;
}
