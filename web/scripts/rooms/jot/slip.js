// @ts-check
/** The slip of Jot: what was said so far, which question is next, and the deed it becomes. Pure. */
import { jobForBatch, jobForFixture, jobForPlace } from "../../household/answers.js";
import { cropWords, fullPlace, houseOf, placeName } from "../../household/names.js";
import { present } from "../../household/wishes.js";
import { capital } from "../../lib/words.js";
import { VERBS, verbTakes } from "./choices.js";

/**
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {import("../../types.js").Job} Job
 * @typedef {{to_place?: string | null, condition?: string | null, typed?: number, weigh?: boolean, weight?: number, pot?: number,
 *   low?: number, high?: number, rows?: number | null, pinches?: number | null, other?: boolean}} More what was chosen at the last question:
 *   those of `WRITTEN` are written, all others say what stands on the screen; other: seen was something that has no name here
 * @typedef {{did: string | null, batch: string | null, place: string | null, fixture: string | null, job: Job | null, found: string | null,
 *   on: string, more: More, note: string, photos: import("../parts/photo-views.js").Taken[]}} Slip
 * @typedef {"did" | "batch" | "place" | "fixture" | "where" | "found" | "details"} Step
 */

const NOTHING = { batch: null, place: null, fixture: null, found: null };
const WRITTEN = /** @type {const} */ (["to_place", "condition", "rows", "pinches"]);

/**
 * A slip as it begins: from a job or batch that sent here, else from what was half written.
 * @param {{params: string[], draft: any, sure: boolean, jobs: Job[], today: string}} given params: verb, batch, found, job; sure: it is
 *   known where one stands, so that only what was typed elsewhere is gone on with
 * @returns {Slip}
 */
export function beginSlip({ params: [verb, batch, found, job], draft, sure, jobs, today }) {
  /** @type {Slip} */
  const slip = { did: null, ...NOTHING, job: null, on: today, more: {}, note: "", photos: [] };
  const typed = draft && (draft.note || draft.photos?.length || Object.keys(draft.more || {}).length);
  if (draft && !verb && (typed || !sure)) Object.assign(slip, draft, { job: null });
  if (VERBS.some(([name]) => name === verb)) slip.did = verb;
  if (batch) slip.batch = batch;
  if (found) slip.found = found;
  if (job) slip.job = jobs.find((one) => one.id === job && one.state !== "done") || null;
  if (slip.job && !slip.batch) {
    slip.place = slip.job.writes.to_place || slip.job.writes.place || null;
    slip.fixture = slip.job.fixture;
  }
  return slip;
}

/** Which question is in hand. @param {Slip} slip @returns {Step} */
export function stepNow({ did, batch, place, more }) {
  if (!did) return "did";
  const takes = verbTakes(did);
  if (did === "note") return "details";
  if (takes === "fixture") return "fixture";
  if (takes === "place") return place ? "details" : "place";
  if (!batch && !(did === "look" && place)) return "batch";
  if (did === "move" && !more.to_place) return "where";
  return (did === "look" && !more.other) || did === "treat" ? "found" : "details";
}

/** What going back one question unsays. @param {Slip} slip @returns {Partial<Slip>} */
export function oneBack({ did, batch, place, fixture, found, more }) {
  if (more.other) return { more: {} };
  if (found) return { found: null };
  if (did === "move" && more.to_place) return { more: {} };
  if (batch || place || fixture) return { ...NOTHING, more: {} };
  return { did: null, more: {} };
}

/** Beginning again from the verb, or from what it was done to. @param {boolean} verbToo @returns {Partial<Slip>} */
export function unsaid(verbToo) {
  return { ...NOTHING, more: {}, ...(verbToo ? { did: null } : {}) };
}

/**
 * The deed's fields.
 * @param {Slip} slip
 * @param {Record<string, any>} said at the last question; null leaves a field out
 * @param {{jobs: Job[], moment: {on: string, at: string, by: string | null}}} given
 */
export function deedOf(slip, said, { jobs, moment }) {
  const job = slip.job || answered(slip, jobs);
  /** @type {Record<string, any>} */
  const fields = { ...job?.writes, did: slip.did, on: slip.on, at: slip.on === moment.on ? moment.at : null, by: moment.by };
  if (slip.batch) fields.batch = slip.batch;
  if (slip.place && !fields.to_place) fields.place = slip.place;
  if (slip.fixture) fields.fixture = slip.fixture;
  if (job) Object.assign(fields, { job: job.id, part: job.part });
  if (slip.note.trim()) fields.note = slip.note.trim();
  for (const name of WRITTEN) if (name in slip.more) fields[name] = slip.more[name];
  return present({ ...fields, ...said });
}

/** The open job that this answers, so that it ticks itself. @param {Slip} slip @param {Job[]} jobs @returns {Job | null} */
function answered(slip, jobs) {
  const { did, batch, fixture, place } = slip;
  if (!did) return null;
  if (did === "look" || did === "treat") return watchJob(slip, jobs);
  if (batch) return jobForBatch(jobs, batch, did);
  if (fixture) return jobForFixture(jobs, fixture, did);
  return place ? jobForPlace(jobs, place, did) : null;
}

/** @param {Slip} slip @param {Job[]} jobs @returns {Job | null} */
function watchJob({ did, batch, place, found }, jobs) {
  if (did === "look" && !batch && place && !found) return jobForPlace(jobs, place, "look");
  return jobs.find((job) => job.verb === did && job.batch === batch && job.writes.found && job.writes.found === found && job.state === "ready") || null;
}

/** What it was done to, by name. @param {Book} book @param {Pick<Slip, "batch" | "place"> & {fixture?: string | null}} slip */
export function aboutWhat(book, { batch, fixture, place }) {
  return batch ? capital(cropWords(book, batch)) : fixture ? placeName(book, fixture) : fullPlace(book, place);
}

/**
 * What a verb is done to, where one stands before it: nothing is asked that can be seen.
 * @param {Book} book @param {string} verb @param {import("./stands.js").Here} here @param {string[]} batches those it can be done to
 * @returns {Partial<Slip>}
 */
export function doneHere(book, verb, here, batches) {
  const takes = verbTakes(verb);
  if (takes === "batch") return here.batch && batches.includes(here.batch) ? { batch: here.batch } : {};
  if (takes === "place") return here.place ? { place: verb === "measure" ? houseOf(book, here.place) : here.place } : {};
  return takes === "any" ? { batch: here.batch, place: here.batch ? null : here.place } : {};
}
