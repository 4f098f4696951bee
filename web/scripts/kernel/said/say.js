// @ts-check
/** Say: a job as plain data, with its state, what is in the way, and where each date comes from. */
import { iso, spoken } from "../read/days.js";
import { waysOut } from "../follow/ways.js";
import { waitsFor } from "../when/forward.js";
import { daysWords, lowerFirst } from "../read/words.js";

/**
 * @typedef {import("../when/work.js").Work} Work
 * @typedef {import("../follow/knowledge.js").Knowledge} Knowledge
 * @typedef {import("../../types.js").Job} Job
 */

/** @type {Record<string, number>} */
export const RANKS = { ready: 0, done: 1, waiting: 2, early: 3, later: 4, "let go": 5, lapsed: 6 };
/** What may be begun, but whose best day is so far off, could be begun: it is none of today's jobs. */
const EARLY_DAYS = 14;
/** Questions and answers are never too early. */
const ASKED = ["decide", "emerge"];
/** So long past its best day planting still waits for what it follows. */
const PATIENCE_DAYS = 7;
/** What cannot be right by all its rules is to be decided so long before its last day. */
const PINCHED_DAYS = 7;

/**
 * One open job, as phones, doors and the command line show it.
 * @param {Work} job
 * @param {Map<string, Work>} byId
 * @param {Knowledge} know
 * @returns {Job}
 */
export function say(job, byId, know) {
  const way = inTheWay(job, byId, know.today);
  const pinched = pinchedOf(job);
  const decide = !job.letGo && toDecide(job, way, pinched, know);
  let state = "ready";
  if (job.letGo) state = "let go";
  else if (decide) state = "ready";
  else if (job.ownFrom > know.today) state = "later";
  else if (way.length) state = "waiting";
  else if (early(job, know.today)) state = "early";
  const changed = know.changes.get(job.id) || {};
  return {
    id: job.id,
    verb: job.verb,
    title: job.title,
    lead: job.lead,
    subject: job.subject,
    place: job.place,
    house: know.ground.house(job.place),
    batch: job.batch,
    fixture: job.fixture,
    count: job.count,
    from: iso(job.start),
    aim: iso(job.aim),
    by: job.by === null ? null : iso(job.by),
    state: /** @type {Job["state"]} */ (state),
    leeway: job.by === null ? null : job.by - know.today,
    in_the_way: way,
    why: [...whyOf(job), ...notTold(job, byId, know.today)],
    minutes: job.minutes,
    needs: job.needs,
    cautions: job.cautions,
    part: job.part,
    repeat: job.repeat,
    for: changed.for ?? null,
    pinched,
    ways: decide ? waysOut(job, know) : job.ways,
    hint: job.hint,
    writes: job.writes,
    low: job.low && job.by === null,
  };
}

/** @param {Work} job @param {Map<string, Work>} byId @param {number} today */
function inTheWay(job, byId, today) {
  /** @type {any[]} */
  const found = [];
  for (const link of job.links) {
    const before = waitsFor(link.on, byId);
    if (before === null || link.broken || link.soft) continue;
    if (link.path && takesAsDone(job, before, today)) continue;
    found.push({ job: before.id, text: !link.path && link.text ? link.text : lowerFirst(before.title) });
  }
  if (job.gate !== null && job.gate[0] > today) {
    found.push({ gate: job.gateId, text: `${job.gate[1]}, from about ${spoken(job.gate[0])}` });
  }
  for (const block of job.blocks) found.push({ [block.sort]: block.id, text: block.text });
  return found;
}

/**
 * Whether work goes on as if what it follows were done. What is still raised waits while that is asked for. Planting does not wait
 * once its own best day is a week gone, or the time of what it follows is over.
 * @param {Work} job
 * @param {Work} before
 * @param {number} today
 */
function takesAsDone(job, before, today) {
  const over = before.by !== null && before.by < today;
  if (job.goesIn) return before.believable() && before.could <= today && (over || job.aim + PATIENCE_DAYS <= today);
  return !job.raises && before.takenOn(today) !== null;
}

/** Whether it could be begun, though its good time is weeks off and nobody waits for it. @param {Work} job @param {number} today */
function early(job, today) {
  const soon = today + EARLY_DAYS;
  return job.repeat === null && !job.low && !ASKED.includes(job.verb) && job.aim >= soon && (job.by === null || job.by >= soon);
}

/**
 * Whether plants that are there cannot be planted by all their rules, and it has to be decided now.
 * @param {Work} job
 * @param {any[]} way
 * @param {string | null} pinched
 * @param {Knowledge} know
 */
function toDecide(job, way, pinched, know) {
  if (pinched === null || job.by === null || job.by - know.today > PINCHED_DAYS || job.putOff !== null) return false;
  const state = know.states.get(job.batch || "");
  const planting = job.goesIn && job.verb === "plant_out" && state !== undefined && state.live({ below: state.finalStep }) > 0;
  return planting && way.every((it) => "gate" in it);
}

/** What it comes after and nobody told of: said as advice, in nobody's way. @param {Work} job @param {Map<string, Work>} byId @param {number} today @returns {string[]} */
function notTold(job, byId, today) {
  /** @type {string[]} */
  const lines = [];
  for (const link of job.links) {
    const before = waitsFor(link.on, byId);
    if (before === null || !link.path || link.broken || !takesAsDone(job, before, today)) continue;
    const done = `${lowerFirst(before.title)} about ${spoken(before.aim)}, by the calendar`;
    lines.push(`nobody told of it: ${done}. If that is still to do, it comes first`);
  }
  return lines;
}

/** @param {Work} job @returns {string[]} */
function whyOf(job) {
  /** @type {string[]} */
  const lines = [];
  if (job.startWhy) lines.push(`from ${spoken(job.start)}: ${job.startWhy}`);
  if (job.aimWhy && job.aimWhy !== job.startWhy) lines.push(`best about ${spoken(job.aim)}: ${job.aimWhy}`);
  if (job.by !== null && job.byWhy && job.byWhy !== job.startWhy) lines.push(`by ${spoken(job.by)}: ${job.byWhy}`);
  if (job.putOff !== null && job.by !== null && job.putOff > job.by) {
    lines.push(`put off to ${spoken(job.putOff)}, ${daysWords(job.putOff - job.by)} past its by-day`);
  }
  return [...lines, ...job.notes.filter((note, index) => !job.notes.slice(0, index).includes(note))];
}

/** @param {Work} job @returns {string | null} */
function pinchedOf(job) {
  if (job.by === null || job.by >= job.bareStart) return null;
  let text = `pinched: not before ${spoken(job.bareStart)}`;
  if (job.startWhy && job.putOff === null) text += ` (${job.startWhy})`;
  text += job.byWhy ? `, yet by ${spoken(job.by)} (${job.byWhy})` : `, yet by ${spoken(job.by)}`;
  return text + (job.waysOut ? `. Ways out: ${job.waysOut}` : "");
}

/**
 * Sorts jobs for walking: house by house, ready first, then bed by bed, the soonest by-day first.
 * @param {Job} job
 * @param {Knowledge} know
 * @returns {string}
 */
export function walkingKey(job, know) {
  const { ground } = know;
  const house = `${numbered(ground.walk(job.house))}${job.house || "~"}`;
  const place = `${numbered(ground.walk(job.place))}${job.place || "~"}`;
  return `${house}${END}${RANKS[job.state]}${place}${END}${job.by || "~"}${END}${job.from}${job.id}${END}${numbered(job.part)}`;
}

/** Sorts before every letter an id may have, so that a shorter id comes before one that goes on. */
const END = "\u0001";
/** More than any walking order, either way. */
const FAR = 10_000_000;

/** A whole number so that it sorts as text. @param {number} number @returns {string} */
function numbered(number) {
  return String(number + FAR).padStart(9, "0");
}
