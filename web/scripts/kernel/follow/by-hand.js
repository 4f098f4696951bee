// @ts-check
/** Jobs that somebody wrote down by hand. */
import { parse } from "../read/days.js";
import { stem } from "../read/diary.js";
import { occurrence } from "./knowledge.js";
import { makeWay } from "./ways.js";
import { daysWords } from "../read/words.js";
import { Work, makeLink } from "../when/work.js";

/**
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 */

const DEFAULT_MINUTES = 10;

/** A job by hand, while it is open. @param {string} id @param {Knowledge} know @returns {Work | null} */
export function byHand(id, know) {
  const fields = know.changes.get(id);
  if (fields === undefined || fields.hand !== true) return null;
  const every = fields.every_days ?? null;
  const last = lastDone(id, know);
  return last !== null && every === null ? null : workOf(id, fields, every, last, know);
}

/** When it was last done; a repeat is told with the day that its id ends in, or without. @param {string} id @param {Knowledge} know @returns {number | null} */
function lastDone(id, know) {
  const { byJob } = know.diary;
  /** @type {number | null} */
  let last = null;
  for (const deed of byJob.get(stem(id)) || []) if (deed.job === id && (last === null || deed.on > last)) last = deed.on;
  for (const deed of byJob.get(id) || []) {
    const turn = deed.job !== null && deed.job !== id && !know.changes.has(deed.job);
    if (turn && (last === null || deed.on > last)) last = deed.on;
  }
  return last;
}

/**
 * @param {string} id
 * @param {any} fields
 * @param {number | null} every
 * @param {number | null} last
 * @param {Knowledge} know
 * @returns {Work}
 */
function workOf(id, fields, every, last, know) {
  /** @type {[string, number | null]} */
  const [job, since] = every === null ? [id, null] : occurrence(id, last, know);
  const state = know.states.get(fields.batch ?? "");
  const batch = state ? state.id : null;
  let place = know.ground.path(fields.place).length ? fields.place : null;
  if (place === null && state) place = state.mainPlace() || state.final;
  /** @type {any} */
  const writes = { did: "note" };
  if (batch !== null) writes.batch = batch;
  if (place !== null) writes.place = place;
  const title = fields.title || "A job by hand";
  const work = new Work({
    id: job,
    verb: "note",
    title,
    lead: [...title.split(" ")[0]].length,
    subject: state ? state.varietyName : know.ground.name(place) || "",
    writes,
    batch,
    place,
    minutes: fields.minutes ?? DEFAULT_MINUTES,
    repeat: every,
  });
  const answers = fields.answers || [];
  if (answers.length) {
    const told = { ...writes, did: "decide" };
    work.verb = "decide";
    work.writes = told;
    work.ways = answers.map((/** @type {string} */ answer, /** @type {number} */ at) => makeWay(`a${at}`, answer, [{ ...told, answer }]));
  }
  if (since !== null && every !== null) {
    const why = `every ${daysWords(every)}`;
    work.lower.push([since + every - Math.floor(every / 3), why]);
    work.aims.push([since + every, why]);
    work.upper.push([since + every + Math.floor(every / 2), why]);
  } else {
    ownDays(work, fields);
  }
  for (const other of fields.waits_on || []) if (other !== job) work.links.push(makeLink({ on: other, path: false }));
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/** @param {Work} work @param {any} fields */
function ownDays(work, fields) {
  const written = "written down by hand";
  if (fields.from) {
    work.lower.push([parse(fields.from), written]);
    work.aims.push([parse(fields.from), written]);
  }
  if (fields.by_day) work.upper.push([parse(fields.by_day), written]);
}
