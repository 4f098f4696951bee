// @ts-check
/**
 * The list as it was last worked out, kept beside the store: a cold start shows it at once, while the book is still being read.
 * It is no more than a picture of the book: whatever does not fit this very day and this very app is passed over.
 */
import { dropBeside, keepBeside, readBeside } from "./beside.js";

const KEY = "mudproof.opening";
const MOST_LETTERS = 300_000;
/** What the Round is drawn from beside the jobs. */
const KINDS = ["site", "place", "person"];
const OPEN = ["ready", "waiting", "done"];

/**
 * @typedef {{version: string, today: string, person: string | null, jobs: any[], records: any[], rulebook: any,
 *   lastShared: number | null}} Opening
 */

/**
 * @param {import("./book.js").Book} book
 * @param {{version: string, today: string, person: string | null}} given version: of the app
 */
export function keepOpening(book, { version, today, person }) {
  const { cautions, dusk, version: made } = book.rulebook;
  /** @type {Opening} */
  const opening = {
    version,
    today,
    person,
    jobs: book.jobs(today).filter((job) => OPEN.includes(job.state)),
    records: KINDS.flatMap((kind) => book.ofKind(kind)),
    rulebook: { cautions, dusk, version: made },
    lastShared: book.sharing.lastShared,
  };
  const text = JSON.stringify(opening);
  const fits = text.length <= MOST_LETTERS && opening.jobs.length > 0;
  if (!fits || !keepBeside(KEY, text)) dropOpening(); // a full phone opens a little slower
}

/** What was kept by this version of the app; null where there is nothing that fits. @param {string} version @returns {Opening | null} */
export function readOpening(version) {
  try {
    const held = JSON.parse(readBeside(KEY) || "null");
    return held?.version === version && inShape(held) ? held : null;
  } catch {
    return null;
  }
}

/** Whether a list can be drawn from it, whoever has been at it. @param {any} held */
function inShape({ jobs, records, rulebook }) {
  const things = Array.isArray(jobs) && Array.isArray(records) ? [...jobs, ...records] : [null];
  return things.every((thing) => typeof thing?.id === "string") && records.every((/** @type {any} */ one) => isTable(one.fields)) && isTable(rulebook);
}

/** @param {any} value */
function isTable(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** Nothing is shown before the book is read. */
export function dropOpening() {
  dropBeside(KEY);
}
