// @ts-check
/** What a guest sees: the jobs of the places given, as the server tells them, without those this guest has ticked. Pure. */
import { plainDay } from "../../../lib/dates.js";
import { kept, minutesWords, sharingWords } from "../../../lib/words.js";

/**
 * @typedef {import("../../../types.js").Job & {where: string}} GuestJob
 * @typedef {{today: string, until: string, jobs: GuestJob[], places: {id: string, name: string}[], cautions: Record<string, {title: string, say: string}>}} Found
 *   the server's answer
 */

const STATES = [["ready", "To do"], ["waiting", "Waits on something"], ["later", "Later"]];

/** Deeds of this guest, by the job they answer. @param {import("../../../store/book.js").Book} book @param {string} guest */
function ticked(book, guest) {
  return new Map(book.ofKind("diary").filter(({ fields }) => fields.guest === guest && fields.job).map(({ id, fields }) => [fields.job, id]));
}

/**
 * @param {import("../../../store/book.js").Book} book
 * @param {string} guest
 * @param {Found | null} found null before the server has answered
 * @param {number} nowMs
 */
export function seeGuest(book, guest, found, nowMs) {
  const done = ticked(book, guest);
  const open = (found?.jobs || []).filter((job) => job.state !== "done" && !done.has(job.id));
  const until = found ? `until ${plainDay(found.until, found.today)}. ` : "";
  return {
    words: kept(`${until}${sharingWords(book.sharing, nowMs, null)}`),
    parts: STATES.map(([state, title]) => ({ title, jobs: found ? open.filter((job) => job.state === state).map((job) => seeJob(job, found)) : [] })),
    none: found !== null && !open.length,
    done: [...done].map(([job, deed]) => ({ deed, title: found?.jobs.find(({ id }) => id === job)?.title || "Done" })),
    places: found?.places || null,
  };
}

/** @param {GuestJob} job @param {Found} found */
function seeJob(job, { today, cautions }) {
  const facts = [job.where, job.minutes ? minutesWords(job.minutes) : "", job.by ? `by ${plainDay(job.by, today)}` : "", job.subject].filter(Boolean).join(", ");
  return { job, title: kept(job.title), facts: kept(facts), hint: job.hint, ready: job.state === "ready", cautions: job.cautions.map((id) => cautions[id]).filter(Boolean) };
}
