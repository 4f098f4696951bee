// @ts-check
/** What is to be seen in the Shed: how sharing stands, what the server refused, who is who, and whether it opens with no signal. Pure. */
import { deedWords } from "../../household/diary-lines.js";
import { frostWords } from "../../household/names.js";
import { clockWords, counted, kept, momentWords, sharingWords } from "../../lib/words.js";

/**
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {{now: number, zone: string | null}} Moment now in milliseconds
 * @typedef {{key: any, change: import("../../types.js").RecordForm, why: string}} Refused
 */

const CLOCK_OFF_MS = 5 * 60_000;

/** @param {Book} book @param {string | null} person who holds this phone */
export function seeHousehold(book, person) {
  const site = book.fields("site");
  const people = book.ofKind("person").map(({ id, fields }) => ({ id, name: fields.name || "?", holds: id === person }));
  const names = [site.name, people.map(({ name }) => name).join(", ")].filter(Boolean).join(": ");
  return {
    people,
    words: names || "a household that has not said its name",
    site: frostWords(site) || "not said: a lowland site at 53° north stands in",
    varieties: book.ofKind("variety").length,
    upkeep: upkeepWords(book),
    leftOut: /** @type {string[]} */ (Object.values(book.rulebook.left_out || {})),
  };
}

/** @param {Book} book @returns {string} */
function upkeepWords(book) {
  const chosen = new Set(book.ofKind("upkeep").map(({ fields }) => fields.work)).size;
  return chosen ? `${chosen} of ${Object.keys(book.rulebook.upkeep || {}).length} chosen` : "weeding, washing, liming, seed order: none chosen yet";
}

/** @param {import("../../types.js").Sharing} sharing @param {Moment} moment */
export function seeSharing(sharing, { now, zone }) {
  const { oldest, lastShared, kept: unsent, reachable, problem, clockAheadMs, differs, unread } = sharing;
  const away = reachable === false;
  const lines = [
    oldest ? `The oldest is from ${momentWords(oldest, now, zone)}. They keep as long as they need to.` : "",
    lastShared ? unsent || away ? `All was last shared ${momentWords(lastShared, now, zone)}.` : "" : "Nothing has been shared from this phone yet.",
    away ? "The server is not to be reached just now; the list works all the same." : "",
    problem || "",
    differs ? "This phone and the server do not hold quite the same, though everything was sent and fetched anew. Save a copy, and run `mudproof check` on the server." : "",
    unread.length ? `The server could not read ${counted(unread.length, "record")} and left them out: ${unread.slice(0, 5).join(", ")}. A phone that holds them gives them back; else run \`mudproof check\` there.` : "",
    Math.abs(clockAheadMs) > CLOCK_OFF_MS ? `${clockWords(clockAheadMs)} What you write is kept in the right order all the same, and under the household's day.` : "",
  ];
  return { words: sharingWords(sharing, now, zone), lines: lines.filter(Boolean) };
}

/** A change the server did not take, with its reason and its words. @param {Book} book @param {Refused} refused */
export function seeRefused(book, { key, change, why }) {
  const { kind, fields, id } = change;
  const [verb, what] = kind === "diary" ? deedWords(book, fields) : [kind, fields.name || fields.title || ""];
  return { key, kind, id, verb, what: kept(what), why, note: fields.note ? `“${fields.note}”` : "" };
}

/** @param {string} state `yes`, `soon` or `no` @returns {string} */
export function offlineWords(state) {
  if (state === "yes") return "This phone opens Mudproof with no signal and no server, and keeps what you write until it meets the server again.";
  if (state === "soon") return "Getting ready to open with no signal: this takes a moment on the first visit.";
  return "This page works while it stays open, with or without signal, and keeps what you write. To open it with no signal it must come over https; over plain http the browser does not allow that.";
}

/** @param {boolean} onHomeScreen @returns {string} */
export function homeScreenWords(onHomeScreen) {
  if (onHomeScreen) return "It is opened from the home screen, where a phone keeps it longest.";
  return "Put Mudproof on the home screen and open it there: what belongs to any other page a browser clears away sooner.";
}

/** How much room the browser gives, in bytes. @param {{usage?: number, quota?: number} | undefined} estimate @param {boolean | undefined} persisted @returns {string} */
export function roomWords(estimate, persisted) {
  if (!estimate?.quota) return "This browser does not say how much room there is.";
  const keeps = persisted ? "The browser keeps it for good." : "The browser may clear it if the phone runs short: share, or save a copy.";
  return `${bytesWords(estimate.usage || 0)} used of ${bytesWords(estimate.quota)}. ${keeps}`;
}

/** `12 MB`, `10.7 GB`. @param {number} bytes */
function bytesWords(bytes) {
  return bytes < 1e9 ? `${Math.max(1, Math.round(bytes / 1e6))}\u00a0MB` : `${(bytes / 1e9).toFixed(1)}\u00a0GB`;
}
