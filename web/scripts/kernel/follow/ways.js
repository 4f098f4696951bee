// @ts-check
/** Ways out: what can be done where a job cannot be right by all its rules. Each is an answer that writes what it says. */
import { iso, spoken } from "../read/days.js";
import { daysWords, litres, plantsWords } from "../read/words.js";

/**
 * @typedef {import("../../types.js").Way} Way
 * @typedef {import("../when/work.js").Work} Work
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 */

/** Sizes that pots are sold in. [L] */
const POTS_L = [0.3, 0.5, 1, 2, 3, 5, 7.5, 10, 15];
/** So long after nights hold the fleece is off. */
const FLEECE_DAYS = 7;

/**
 * An answer to a job. tells: fields of the diary records it writes, besides on, at and by; whoever writes them adds job and part
 * where they do what the job asks, or the job is a decision. changes: fields of other records by kind and id. asks: what is asked
 * first. note: what it costs.
 * @param {string} id
 * @param {string} say
 * @param {any[]} tells
 * @param {Partial<Way>} [more]
 * @returns {Way}
 */
export function makeWay(id, say, tells, more = {}) {
  return { id, say, tells, changes: [], asks: null, note: null, ...more };
}

/**
 * For plants past what their pots hold while nights are too cold to plant: pot on, plant and cover, or wait.
 * @param {Work} job
 * @param {Knowledge} know
 * @returns {Way[]}
 */
export function waysOut(job, know) {
  const state = know.states.get(job.batch || "");
  if (!state || job.by === null) return [];
  const here = state.mainPlace({ below: state.finalStep });
  /** @type {Way[]} */
  const ways = [];
  const bigger = nextPot(state.potL);
  if (bigger !== null) {
    const tells = { did: "pot_up", batch: state.id, pot_l: bigger, count: job.count };
    ways.push(makeWay("pot_on", `Pot on to ${litres(bigger)}\u00a0L`, [here === null ? tells : { ...tells, place: here }]));
  }
  if (job.gate !== null) ways.push(underCover(job, job.gate[0], state, know));
  const putOff = { put_off_until: iso(job.bareStart), put_off_on: iso(know.today) };
  ways.push(
    makeWay("wait", `Wait until ${spoken(job.bareStart)}`, [], {
      changes: [{ kind: "job", id: job.id, fields: putOff }],
      note: `${daysWords(job.bareStart - job.by)} past what their pots hold: they may stop growing, and fruit later`,
    }),
  );
  return ways;
}

/**
 * @param {Work} job
 * @param {number} until nights hold
 * @param {import("../read/batch-state.js").BatchState} state
 * @param {Knowledge} know
 * @returns {Way}
 */
function underCover(job, until, state, know) {
  const off = {
    hand: true,
    title: `Take the fleece off ${plantsWords(state.know, job.count)}`,
    batch: state.id,
    place: job.place,
    from: iso(until),
    by_day: iso(until + FLEECE_DAYS),
  };
  const planted = { ...job.writes, count: job.count };
  const covered = { did: "cover", batch: state.id, place: job.place };
  return makeWay("cover", `Plant, and cover on cold nights until about ${spoken(until)}`, [planted, covered], {
    changes: [{ kind: "job", id: `${job.id}.uncover`, fields: off }],
  });
}

/** @param {number | null} nowL @returns {number | null} */
function nextPot(nowL) {
  return POTS_L.find((size) => size >= 2 * (nowL || 0.3) - 0.01) ?? null;
}
