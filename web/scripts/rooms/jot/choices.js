// @ts-check
/** What Jot offers: verbs by what was jotted of late, batches that can come in question, counts worth a key. Pure. */
import { parse } from "../../kernel/read/days.js";
import { jobForBatch } from "../../household/answers.js";
import { batchName, cropOf, pathOf } from "../../household/names.js";

/** @typedef {import("../../types.js").Job} Job */

/** Verb, its word on the key, and what it is done to. In the order of a key that has never been used. */
export const VERBS = [
  ["pick", "Picked", "batch"],
  ["water", "Watered", "place"],
  ["look", "Saw", "batch"],
  ["sow", "Sowed", "batch"],
  ["emerge", "Up", "batch"],
  ["prick_out", "Pricked out", "batch"],
  ["pot_up", "Potted", "batch"],
  ["plant_out", "Planted", "batch"],
  ["train", "Tied in", "batch"],
  ["measure", "Measured", "place"],
  ["lose", "Lost some", "batch"],
  ["feed", "Fed", "batch"],
  ["clear", "Cleared", "batch"],
  ["move", "Moved", "batch"],
  ["treat", "Treated", "batch"],
  ["string", "Strung", "batch"],
  ["harden_off", "Hardened off", "batch"],
  ["install", "Put up", "fixture"],
  ["remove", "Took down", "fixture"],
  ["connect", "Connected", "fixture"],
  ["note", "A note", "any"],
];
export const ON_GRID = 11;
const FORTNIGHT = 14;

/** The word on a verb's key. @param {string} verb @returns {string} */
export function verbWord(verb) {
  return VERBS.find(([name]) => name === verb)?.[1] ?? verb;
}

/** What a verb is done to. @param {string} verb @returns {string} */
export function verbTakes(verb) {
  return VERBS.find(([name]) => name === verb)?.[2] ?? "any";
}

/**
 * Verbs, those most jotted in the last fortnight first; ties keep their usual order.
 * @param {any[]} diary visible diary records
 * @param {string} today
 * @returns {string[]}
 */
export function verbOrder(diary, today) {
  const since = parse(today) - FORTNIGHT;
  /** @type {Record<string, number>} */
  const times = Object.create(null);
  for (const { fields } of diary) {
    if (fields.on && parse(fields.on) > since && fields.did) times[fields.did] = (times[fields.did] || 0) + 1;
  }
  return VERBS.map(([verb], at) => ({ verb, at, times: times[verb] || 0 }))
    .sort((a, b) => b.times - a.times || a.at - b.at)
    .map((row) => row.verb);
}

/** Stages from which a verb can be done. */
const FROM = {
  emerge: ["sown"],
  prick_out: ["up"],
  pot_up: ["up", "pricked out", "potted up"],
  harden_off: ["pricked out", "potted up", "up"],
  plant_out: ["not begun", "up", "pricked out", "potted up", "hardening"],
  sow: ["not begun", "sown"],
  pick: ["planted", "cropping", "up"],
  string: ["planted", "cropping"],
  train: ["planted", "cropping", "up"],
  feed: ["planted", "cropping", "potted up"],
};

/**
 * Batches a verb can be done to, the likeliest first: those with an open job for it, then those at its stage, near the
 * place in hand.
 * @param {{stand: any, jobs: Job[], verb: string, place: string | null, book: any, year: number}} given
 * @returns {{batch: any, job: Job | null}[]}
 */
export function batchesFor({ stand, jobs, verb, place, book, year }) {
  const stages = /** @type {Record<string, string[]>} */ (FROM)[verb];
  const rows = [];
  for (const batch of stand.batches) {
    if (batch.state === "over") continue;
    if (batch.state === "not begun" && !["sow", "plant_out"].includes(verb)) continue;
    if (batch.state === "not begun" && Math.abs(batch.year - year) > 1) continue;
    const job = jobForBatch(jobs, batch.id, verb);
    const fits = !stages || stages.includes(batch.state) || batch.cells.some((/** @type {any} */ cell) => stages.includes(cell.stage));
    if (!job && !fits) continue;
    const here = place !== null && (batch.cells.some((/** @type {any} */ cell) => pathOf(book, cell.place).includes(place)) || pathOf(book, batch.for_place).includes(place));
    const rank = (here ? 0 : 4) + (job && job.state === "ready" ? 0 : job ? 1 : 2);
    rows.push({ batch, job, rank });
  }
  rows.sort((a, b) => a.rank - b.rank || batchName(book, a.batch.id).localeCompare(batchName(book, b.batch.id)) || (a.batch.id < b.batch.id ? -1 : 1));
  return rows.map(({ batch, job }) => ({ batch, job }));
}

/**
 * The count to begin with, and counts worth a key.
 * @param {{verb: string, batch: any, job: Job | null, diary: any[]}} given
 * @returns {{value: number, jumps: {value: number, words: string}[]}}
 */
export function countsFor({ verb, batch, job, diary }) {
  const same = diary.filter((record) => record.fields.batch === batch.id && record.fields.did === verb && record.fields.count);
  const last = same.sort((a, b) => (a.fields.on < b.fields.on ? 1 : -1))[0]?.fields.count ?? null;
  const all = batch.plants ?? null;
  const value = job?.count ?? (verb === "pick" ? last : null) ?? (verb === "lose" ? 1 : null) ?? last ?? all ?? batch.want ?? 1;
  /** @type {Map<number, string>} */
  const jumps = new Map();
  if (job?.count) jumps.set(job.count, "the job");
  if (all) jumps.set(all, "all there are");
  if (last) jumps.set(last, "last time");
  for (const usual of [1, 6, 12, 24]) if (jumps.size < 4 && !jumps.has(usual)) jumps.set(usual, "");
  return {
    value: Math.max(1, value || 1),
    jumps: [...jumps].sort((a, b) => a[0] - b[0]).slice(0, 4).map(([number, words]) => ({ value: number, words })),
  };
}

/** Pot sizes of a crop's path, in litres. @param {any} book @param {string} batch @returns {number[]} */
export function potSizes(book, batch) {
  const steps = cropOf(book, batch).steps || [];
  const sizes = new Set(steps.map((/** @type {any} */ step) => step.pot_l).filter(Boolean));
  const own = book.fields(batch).pot_l;
  if (own) sizes.add(own);
  for (const usual of [0.3, 1, 2, 10]) if (sizes.size < 4) sizes.add(usual);
  return [.../** @type {Set<number>} */ (sizes)].sort((a, b) => a - b);
}

/** Troubles, those this crop suffers from first. @param {any} book @param {string | null} batch @returns {string[]} */
export function troublesFor(book, batch) {
  const care = book.rulebook.care || {};
  const crop = batch ? book.fields(book.fields(batch).variety).crop : null;
  return Object.keys(care).sort((a, b) => {
    const first = Number(care[b].hosts.includes(crop)) - Number(care[a].hosts.includes(crop));
    return first || (a < b ? -1 : 1);
  });
}
