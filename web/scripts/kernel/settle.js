// @ts-check
/** Settle: records and rulebook in, the list of jobs for a day out. Pure; the same in any order of records. */
import { backward } from "./when/backward.js";
import { byHand } from "./follow/by-hand.js";
import { parse } from "./read/days.js";
import { readDeeds } from "./read/deeds.js";
import { doneToday } from "./said/done.js";
import { beginBatches } from "./read/batch-state.js";
import { fold } from "./read/fold.js";
import { forward, inOrder } from "./when/forward.js";
import { readGround } from "./read/ground.js";
import { join } from "./follow/join.js";
import { Knowledge } from "./follow/knowledge.js";
import { layOut } from "./follow/lay-out.js";
import { visible } from "./read/merge.js";
import { say, sortForWalking } from "./said/say.js";
import { standingWork } from "./follow/standing.js";
import { watchWork, watches } from "./follow/watch.js";

/**
 * @typedef {import("../types.js").Job} Job
 * @typedef {import("../types.js").RecordForm} RecordForm
 * @typedef {import("./read/deeds.js").Deed} Deed
 */

const KINDS = ["place", "fixture", "variety", "batch", "diary", "job"];

/**
 * Every job of a day: open ones, what was let go, and what was done today, sorted for walking.
 * @param {any} rulebook
 * @param {RecordForm[]} records merged records of any kinds
 * @param {string} today `YYYY-MM-DD`
 * @returns {Job[]}
 */
export function settle(rulebook, records, today) {
  const { know, deeds } = read(rulebook, records, today);
  return settleRead(know, deeds);
}

/**
 * The same from records that have been read.
 * @param {Knowledge} know
 * @param {Deed[]} deeds
 * @returns {Job[]}
 */
export function settleRead(know, deeds) {
  let work = [...layOut(know), ...watchWork(watches(deeds, know), know), ...standingWork(deeds, know), ...byHand(deeds, know)];
  putOff(work, know);
  forward(inOrder(work), know.heat, know.today);
  work = join(work, know);
  putOff(work, know);
  numberParts(work, deeds);
  const ordered = inOrder(work);
  forward(ordered, know.heat, know.today);
  backward(ordered);
  const byId = new Map(ordered.map((job) => [job.id, job]));
  const jobs = ordered.filter((job) => !job.dropped).map((job) => say(job, byId, know));
  return sortForWalking([...jobs, ...doneToday(deeds, know)], know);
}

/**
 * Records sorted into kinds and folded: what every later step works from.
 * @param {any} rulebook
 * @param {RecordForm[]} records
 * @param {string} today
 * @returns {{know: Knowledge, deeds: Deed[]}}
 */
export function read(rulebook, records, today) {
  /** @type {Record<string, RecordForm[]>} */
  const byKind = {};
  for (const kind of KINDS) byKind[kind] = [];
  for (const record of records) {
    const rows = byKind[record.kind];
    if (rows !== undefined && visible(record)) rows.push(record);
  }
  for (const kind of ["place", "fixture", "batch", "job"]) {
    byKind[kind].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
  }
  const day = parse(today);
  const ground = readGround(byKind.place, byKind.fixture, rulebook.houses || {});
  const states = beginBatches(byKind, rulebook, ground);
  const deeds = readDeeds(byKind.diary, day);
  fold(states, deeds, ground, day);
  const changes = new Map(byKind.job.map((record) => [record.id, record.fields]));
  return { know: new Knowledge(rulebook, ground, states, changes, day), deeds };
}

/**
 * The part a tick would be: one more than this phone has seen of the job.
 * @param {import("./when/work.js").Work[]} work
 * @param {Deed[]} deeds
 */
function numberParts(work, deeds) {
  /** @type {Map<string, number>} */
  const seen = new Map();
  for (const deed of deeds) {
    if (deed.job !== null && deed.part !== null) seen.set(deed.job, Math.max(seen.get(deed.job) || 0, deed.part));
  }
  for (const job of work) job.part = (seen.get(job.id) || 0) + 1;
}

/** @param {import("./when/work.js").Work[]} work @param {Knowledge} know */
function putOff(work, know) {
  for (const job of work) {
    const until = (know.changes.get(job.id) || {}).put_off_until;
    if (until) job.putOff = parse(until);
  }
}
