// @ts-check
/** What is to be seen of a place's thermometer: what the house taught, its years, and a file that was read. Pure. */
import { fullPlace, placeName } from "../../../household/names.js";
import { longDay } from "../../../lib/dates.js";
import { counted, kept } from "../../../lib/words.js";
import { daysRead, extremes } from "./days.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {{problem?: string, questions: {id: string, ask: string, choices: string[]}[], days: Record<string, [number, number]>,
 *   left_out: number, bad: {line: number, why: string}[]}} Found the server's answer; days in °C
 */

const MOST_YEARS = 4;

/** @param {Book} book @param {string} place @param {string} asked the year that was asked for */
export function seeReadings(book, place, asked) {
  const days = daysRead(book, place);
  const years = [...new Set([...days.keys()].map((day) => day.slice(0, 4)))].sort();
  const learned = book.rulebook.learned?.[place];
  const older = learned?.read_from?.slice(0, 4) ?? "";
  return {
    place: fullPlace(book, place),
    learned: learned ? kept(learnedWords(learned, placeName(book, place))) : "",
    years: years.length > 1 ? years.slice(-MOST_YEARS) : [],
    shown: years.includes(asked) ? asked : years[years.length - 1] || "",
    older: older !== "" && older < (years[0] ?? "9"),
    days,
  };
}

/** @param {any} learned degrees in tenths @param {string} name */
function learnedWords({ days, nights, read_from, read_to, gain_c, usual_c }, name) {
  const read = `Read on ${counted(days, "day")}, ${dayAndYear(read_from)} to ${dayAndYear(read_to)}.`;
  if (gain_c === null) return `${read} The dates of what grows here follow it.`;
  return `Nights in ${name} run ${(gain_c / 10).toFixed(1)} °C above those outside, by ${nights} read in both; ${(usual_c / 10).toFixed(1)} °C above them is usual under such a cover. ${read}`;
}

/** @param {string} day */
function dayAndYear(day) {
  return `${longDay(day)} ${day.slice(0, 4)}`;
}

/** @param {Found} found */
export function seeFound(found) {
  const [question = null] = found.questions;
  const dates = Object.keys(found.days);
  if (question || !dates.length) return { question, problem: found.problem || "", days: null, leftOut: found };
  const { coldest, warmest } = extremes(found.days);
  const days = {
    count: counted(dates.length, "day"),
    span: kept(`from ${dayAndYear(dates[0])} to ${dayAndYear(dates[dates.length - 1])}`),
    coldest: kept(`${coldest.c} °C on ${longDay(coldest.day)}`),
    warmest: kept(`${warmest.c} °C on ${longDay(warmest.day)}`),
    key: dates.length === 1 ? "Take these readings" : `Take these ${dates.length} days`,
  };
  return { question, problem: found.problem || "", days, leftOut: found };
}
