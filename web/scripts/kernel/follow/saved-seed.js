// @ts-check
/** Saved seed: the plants that are left for it, and the day its seed is dry. Chosen batch by batch. */
import { yearOf } from "../read/days.js";
import { daysWords } from "../read/words.js";
import { Work, makeLink } from "../when/work.js";
import { makeWay } from "./ways.js";

/**
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {{first: number | null, picking: string}} Picking the day of the first picking, and the job that is it while nothing is picked
 */

const MARK_MINUTES = 10;
const GATHER_MINUTES = 30;
/** The plants are chosen within so many days of the first picking. */
const MARK_DAYS = 14;
/** Dry seed is gathered within so many days. */
const GATHER_DAYS = 21;
/** It is asked for so long past that; then it is taken as shed. */
const ASKED_DAYS = 42;

/**
 * Choosing the plants, and gathering. work: the batch's own, whose clearing waits for it.
 * @param {BatchState} state
 * @param {Work[]} work
 * @param {Knowledge} know
 * @returns {Work[]}
 */
export function seedWork(state, work, know) {
  const rule = state.know.seed ?? null;
  if (rule === null || (rule.dry ?? null) === null || state.fields.save_seed !== true || state.overOn !== null) return [];
  const pick = state.steps.findIndex((/** @type {any} */ step) => step.verb === "pick");
  if (pick < 0) return [];
  const picking = { first: state.first[pick], picking: `${state.id}.${state.steps[pick].id}` };
  const told = new Set(state.deeds.map(({ deed }) => deed.job));
  /** @type {Work[]} */
  const made = [];
  if (!told.has(`${state.id}.seed_mark`)) made.push(mark(state, rule, picking));
  const last = picking.first === null ? null : picking.first + rule.dry + GATHER_DAYS + ASKED_DAYS;
  if (!told.has(`${state.id}.seed_gather`) && (last === null || know.today <= last)) made.push(gather(state, rule, picking, know));
  for (const job of made) job.letGo = know.letGoOn(job.id) !== null;
  const open = made.find((job) => job.verb === "note" && !job.letGo) ?? null;
  const days = state.deeds.filter(({ deed }) => deed.job === `${state.id}.seed_gather`).map(({ deed }) => deed.on);
  const gathered = days.length ? Math.max(...days) : null;
  if (open || gathered !== null) for (const job of work) if (job.verb === "clear") clearAfter(job, open, gathered);
  return made;
}

/**
 * Clearing comes after the seed, whatever its own last day, which was counted from a picking that is not the end of it; and until
 * then silence about it is not read as cleared, or the seed would go with it.
 * @param {Work} clear
 * @param {Work | null} open the gathering, while it is to be done
 * @param {number | null} gathered
 */
function clearAfter(clear, open, gathered) {
  clear.upper = [];
  for (const link of clear.links) link.max = null;
  if (gathered !== null) clear.lower.push([gathered, "its seed gathered"]);
  if (open === null) return;
  clear.missed = ["stays", 0];
  clear.links.push(makeLink({ on: open.id, path: false, text: "its seed gathered" }));
}

/** @param {BatchState} state @param {any} rule @param {Picking} picking @returns {Work} */
function mark(state, rule, picking) {
  const work = new Work({
    id: `${state.id}.seed_mark`,
    verb: "look",
    title: `Choose ${rule.plants} of the best ${state.know.many || "plants"} for seed`,
    lead: "Choose".length,
    subject: state.varietyName,
    writes: { did: "look", batch: state.id },
    batch: state.id,
    place: state.mainPlace() || state.final,
    minutes: MARK_MINUTES,
    hint: "Mark them with a string: true to kind, healthy, neither the first nor the last to run up. Pick none of them.",
  });
  work.notes.push(`${rule.apart_m}\u00a0m from other kinds that flower with them, or they cross`);
  afterPick(work, [0, 0, MARK_DAYS], picking, "before the best are picked");
  return work;
}

/** @param {BatchState} state @param {any} rule @param {Picking} picking @param {Knowledge} know @returns {Work} */
function gather(state, rule, picking, know) {
  const writes = { did: "note", batch: state.id };
  const work = new Work({
    id: `${state.id}.seed_gather`,
    verb: "note",
    title: `Gather seed of ${state.know.many || "plants"}`,
    lead: "Gather".length,
    subject: state.varietyName,
    writes,
    batch: state.id,
    place: state.mainPlace() || state.final,
    minutes: GATHER_MINUTES,
    hint: rule.how,
  });
  const { dry } = rule;
  afterPick(work, [dry, dry + Math.floor(GATHER_DAYS / 2), dry + GATHER_DAYS], picking, `${daysWords(dry)} until it is dry`);
  work.notes.push(`stored dry and cool it keeps for about ${rule.life} years`);
  const variety = { kind: "variety", id: state.fields.variety ?? null, fields: { seed_year: yearOf(know.today) } };
  work.ways = [makeWay("gathered", "Gathered and dry", [writes], { changes: [variety] })];
  return work;
}

/** Days from the first picking: from the day it was, or with the picking while nothing is picked. @param {Work} work @param {number[]} days @param {Picking} picking @param {string} why */
function afterPick(work, [least, best, most], { first, picking }, why) {
  if (first === null) {
    work.links.push(makeLink({ on: picking, min: least, aim: best, max: most, text: "picked", why }));
    return;
  }
  work.lower.push([first + least, why]);
  work.aims.push([first + best, why]);
  work.upper.push([first + most, why]);
}
