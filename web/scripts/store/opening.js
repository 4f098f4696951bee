// @ts-check
/**
 * The list as it was last worked out, kept beside the store: a cold start shows it at once, while the book is still being read.
 * It is no more than a picture of the book: whatever does not fit this very day and this very app is passed over.
 */

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
  try {
    const text = JSON.stringify(opening);
    if (text.length <= MOST_LETTERS && opening.jobs.length) localStorage.setItem(KEY, text);
    else dropOpening();
  } catch {
    dropOpening(); // a full phone opens a little slower
  }
}

/** What was kept by this version of the app; null where there is nothing that fits. @param {string} version @returns {Opening | null} */
export function readOpening(version) {
  try {
    const held = JSON.parse(localStorage.getItem(KEY) || "null");
    return held?.version === version ? held : null;
  } catch {
    return null;
  }
}

/** Nothing is shown before the book is read. */
export function dropOpening() {
  try {
    localStorage.removeItem(KEY);
  } catch {
    // nothing was kept
  }
}
