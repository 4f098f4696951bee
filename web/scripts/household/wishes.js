// @ts-check
/** What a tick, an undo, a putting off and a letting go write down. */

/**
 * @typedef {import("../types.js").Job} Job
 * @typedef {import("../types.js").Wish} Wish
 * @typedef {{on: string, at: string, by: string | null}} Moment
 */

/** Fields that a household may clear or set on a job, beside the job itself. */
const JOB = "job";

/**
 * The deed that ticks a job.
 * @param {Job} job
 * @param {string} id a fresh id
 * @param {Moment} moment
 * @param {Record<string, any>} [more] the count done, or what was seen
 * @returns {Wish}
 */
export function tickWish(job, id, moment, more = {}) {
  /** @type {Record<string, any>} */
  const fields = { ...job.writes, on: moment.on, at: moment.at, job: job.id, part: job.part };
  if (moment.by) fields.by = moment.by;
  if (job.count !== null && job.writes.did !== "clear") fields.count = job.count;
  Object.assign(fields, more);
  return { id, kind: "diary", fields: present(fields) };
}

/**
 * What an answer to a job writes: diary records, and changes of other records.
 * @param {{id: string, verb: string, part: number}} job
 * @param {import("../types.js").Way} way
 * @param {() => string} newId
 * @param {Moment} moment
 * @param {Record<string, any>} [more] what was asked first
 * @returns {Wish[]}
 */
export function wayWishes(job, way, newId, moment, more = {}) {
  const tells = way.tells.map((tell, at) => {
    const answers = tell.did === job.verb || job.verb === "decide" ? { job: job.id, part: job.part } : {};
    const when = tell.on && tell.on !== moment.on ? { on: tell.on } : { on: moment.on, at: moment.at };
    return { id: newId(), kind: "diary", fields: present({ by: moment.by, ...answers, ...tell, ...when, ...(at ? {} : more) }) };
  });
  return [...tells, ...way.changes.map(({ kind, id, fields }) => ({ kind, id, fields }))];
}

/** Taking an answer back: what it told is gone, what it changed is as if nobody had said anything. @param {Wish[]} wishes @returns {Wish[]} */
export function undoWay(wishes) {
  return wishes.map(({ id, kind, fields }) => {
    const made = kind === "diary" || fields.hand === true;
    return { id, kind, fields: made ? { gone: true } : Object.fromEntries(Object.keys(fields).map((name) => [name, null])) };
  });
}

/** Something that lapsed is still to be done. @param {string} id @param {boolean} still @param {string} today @returns {Wish} */
export function stillWish(id, still, today) {
  return { id, kind: JOB, fields: still ? { still: true, still_on: today } : { still: null } };
}

/** Fields without those that say nothing. @param {Record<string, any>} fields @returns {Record<string, any>} */
export function present(fields) {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== null && value !== undefined && value !== ""));
}

/** Taking deeds back. @param {string[]} ids @returns {Wish[]} */
export function undoWishes(ids) {
  return ids.map((id) => ({ id, kind: "diary", fields: { gone: true } }));
}

/** @param {Job} job @param {string | null} until @param {string} today @returns {Wish} */
export function putOffWish(job, until, today) {
  const fields = until ? { put_off_until: until, put_off_on: today, title: job.title } : { put_off_until: null };
  return { id: job.id, kind: JOB, fields };
}

/** @param {string} id @param {boolean} letGo @param {string} today @param {string} title @returns {Wish} */
export function letGoWish(id, letGo, today, title) {
  return { id, kind: JOB, fields: letGo ? { let_go: true, let_go_on: today, title } : { let_go: false } };
}

/** @param {Job} job @param {string | null} person @returns {Wish} */
export function forWish(job, person) {
  return { id: job.id, kind: JOB, fields: { for: person } };
}
