// @ts-check
/** What is to be seen while one catches up: what is believed of each batch, place by place. Pure. */
import { placeName } from "../../household/names.js";
import { walkNumber } from "../../household/walk.js";
import { plainDay } from "../../lib/dates.js";
import { counted, kept } from "../../lib/words.js";

/**
 * @typedef {import("../../types.js").CatchUpLine} Line
 * @typedef {{batch: string, title: string, beside: string, says: string, about: string | null, line: Line}} Row
 */

/**
 * @param {import("../../store/book.js").Book} book
 * @param {{since: string | null, lines: Line[]}} caught
 * @param {string} today
 */
export function seeCatchUp(book, { since, lines }, today) {
  /** @type {Map<string, Row[]>} */
  const houses = new Map();
  for (const line of lines) houses.set(line.house || "", [...(houses.get(line.house || "") || []), seeLine(line)]);
  const last = since ? `The last word was of ${plainDay(since, today)}.` : "";
  const many = `${counted(lines.length, "line")}: what is right wants one tap, and whatever is left alone is believed all the same.`;
  return {
    lead: lines.length ? [last, many].filter(Boolean).join(" ") : "Nothing is left to catch up: the list knows as much as you do.",
    places: [...houses].map(([house, rows]) => ({
      walk: house ? walkNumber(book, house) : null,
      name: (house && placeName(book, house)) || "Anywhere",
      rows,
    })),
  };
}

/** @param {Line} line @returns {Row} */
function seeLine(line) {
  const beside = line.title.toLowerCase().includes(line.subject.toLowerCase()) ? "" : line.subject;
  return { batch: line.batch, title: kept(line.title), beside, says: kept(line.says), about: line.about, line };
}

/**
 * An answer with the day of the last move set by hand: what came after it came no sooner.
 * @param {import("../../types.js").Way} way
 * @param {string | null} about the day the line says
 * @param {string} day the day it was
 * @returns {import("../../types.js").Way}
 */
export function onDay(way, about, day) {
  if (!about || about === day) return way;
  let reached = false;
  const tells = way.tells.map((tell) => {
    if (tell.on === about && !reached) {
      reached = true;
      return { ...tell, on: day };
    }
    const bound = reached ? tell.on < day : tell.on > day;
    return bound ? { ...tell, on: day } : tell;
  });
  return { ...way, tells };
}
