// @ts-check
/** Where whoever jots stands, from the room they came from; and what is due there. Pure. */
import { pathOf } from "../../household/names.js";

/**
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {import("../../types.js").Job} Job
 * @typedef {{place: string | null, batch: string | null}} Here a place, and the plants that are looked at there
 */

/**
 * @param {Book} book
 * @param {import("../../shell/router.js").Way | null} from the room Jot was opened from
 * @param {{jobs: Job[], today: string, placeInHand: string | null}} given placeInHand: where something was jotted last
 * @returns {Here}
 */
export function whereOneStands(book, from, { jobs, today, placeInHand }) {
  const id = from?.params[0] || "";
  if (from?.name === "batch") return { batch: book.get(id) ? id : null, place: placeOf(book, id, today) };
  if (from?.name === "place" || from?.name === "readings") return { batch: null, place: book.get(id) ? id : null };
  if (from?.name === "job" || from?.name === "put-off") {
    const job = jobs.find((one) => one.id === id);
    if (job) return { batch: job.batch, place: job.place };
  }
  return { batch: null, place: placeInHand };
}

/** Where most of a batch stands. @param {Book} book @param {string} batch @param {string} today @returns {string | null} */
function placeOf(book, batch, today) {
  const cells = book.stand(today).batches.find((/** @type {any} */ one) => one.id === batch)?.cells || [];
  return [...cells].sort((a, b) => (b.count ?? 0) - (a.count ?? 0))[0]?.place ?? null;
}

/** Verbs of jobs that are ready there, those of the plants in question first. @param {Book} book @param {Job[]} jobs @param {Here} here @returns {string[]} */
export function dueHere(book, jobs, { batch, place }) {
  const ready = jobs.filter((job) => job.state === "ready" && !job.low && (batch ? job.batch === batch : place !== null && pathOf(book, job.place).includes(place)));
  return [...new Set(ready.map((job) => job.verb))];
}
