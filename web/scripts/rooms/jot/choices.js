// @ts-check
/** What Jot offers: verbs by what was jotted of late, batches that can come in question, counts worth a key. Pure. */
import { parse } from "../../kernel/read/days.js";
import { jobForBatch } from "../../household/answers.js";
import { batchName, cropOf, cropWords, pathOf } from "../../household/names.js";

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
  ["lose", "Lost some", "batch"],
  ["note", "A note", "any"],
  ["weed", "Weeded", "place"],
  ["measure", "Measured", "place"],
  ["feed", "Fed", "batch"],
  ["clear", "Cleared", "batch"],
  ["move", "Moved", "batch"],
  ["treat", "Treated", "batch"],
  ["string", "Strung", "batch"],
  ["harden_off", "Hardened off", "batch"],
  ["earth_up", "Earthed up", "batch"],
  ["prune", "Pruned", "batch"],
  ["divide", "Divided", "batch"],
  ["store", "Stored", "batch"],
  ["use", "Used from store", "batch"],
  ["mulch", "Mulched", "place"],
  ["clean", "Cleaned", "place"],
  ["dress", "Limed, manured", "place"],
  ["cover", "Covered", "place"],
  ["uncover", "Uncovered", "place"],
  ["vent", "Vented", "place"],
  ["install", "Put up", "fixture"],
  ["remove", "Took down", "fixture"],
  ["connect", "Connected", "fixture"],
];
/** Verbs of which only a word is asked: they are done to all of it. */
export const NO_COUNT = ["note", "water", "clear", "harden_off", "weed", "mulch", "earth_up", "prune", "divide", "clean", "dress", "cover", "uncover", "vent"];
export const ON_GRID = 11;
const FORTNIGHT = 14;
const MOST_JUMPS = 4;
const USUAL_COUNTS = [1, 6, 12, 24];
/** Verbs that are done to plants one by one: never to more than there are. */
const OF_PLANTS = ["emerge", "prick_out", "pot_up", "harden_off", "plant_out", "lose", "train", "string", "feed", "move"];

/** The word on a verb's key. @param {string} verb @returns {string} */
export function verbWord(verb) {
  return VERBS.find(([name]) => name === verb)?.[1] ?? verb;
}

/** What a verb is done to. @param {string} verb @returns {string} */
export function verbTakes(verb) {
  return VERBS.find(([name]) => name === verb)?.[2] ?? "any";
}

/**
 * Verbs: first what is due where one stands, then those most jotted in the last fortnight; ties keep their usual order.
 * @param {any[]} diary visible diary records
 * @param {string} today
 * @param {string[]} [due]
 * @returns {string[]}
 */
export function verbOrder(diary, today, due = []) {
  const since = parse(today) - FORTNIGHT;
  /** @type {Record<string, number>} */
  const times = Object.create(null);
  for (const { fields } of diary) {
    if (fields.on && parse(fields.on) > since && fields.did) times[fields.did] = (times[fields.did] || 0) + 1;
  }
  return VERBS.map(([verb], at) => ({ verb, at, due: Number(due.includes(verb)), times: times[verb] || 0 }))
    .sort((a, b) => b.due - a.due || b.times - a.times || a.at - b.at)
    .map((row) => row.verb);
}

/** The stage that plants are put in at which no plan knew, by what was done to them; empty for what is done to plants in the book. @param {string | null} verb @returns {string} */
export function stageOfNew(verb) {
  return verb === "sow" ? "sown" : verb === "plant_out" ? "planted" : "";
}

/** Verbs that are done to what was picked, when the plants are gone too. */
const OUT_OF_STORE = ["store", "use"];

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
  earth_up: ["planted", "cropping", "up"],
  prune: ["planted", "cropping"],
  divide: ["planted", "cropping"],
};

/** @typedef {"here" | "due" | "rest"} Group where a batch stands in the list of those that can be meant */

/**
 * Batches a verb can be done to, the likeliest first: those that stand here, then those with a job for it or bearing, then the rest.
 * @param {{stand: any, jobs: Job[], verb: string, place: string | null, book: any, year: number}} given
 * @returns {{batch: any, job: Job | null, group: Group}[]}
 */
export function batchesFor({ stand, jobs, verb, place, book, year }) {
  const rows = [];
  for (const batch of stand.batches) {
    if (!canBe(verb, batch, year, Boolean(cropOf(book, batch.id).store))) continue;
    const job = jobForBatch(jobs, batch.id, verb);
    if (!job && !fitsStage(verb, batch)) continue;
    const ends = batch.state === "not begun" ? [batch.for_place] : batch.cells.map((/** @type {any} */ cell) => cell.place);
    const here = place !== null && ends.some((/** @type {any} */ end) => pathOf(book, end).includes(place));
    const due = job?.state === "ready" || (verb === "pick" && batch.state === "cropping");
    /** @type {Group} */
    const group = here ? "here" : due ? "due" : "rest";
    rows.push({ batch, job, group, rank: (here ? 0 : 4) + (due ? 0 : job ? 1 : 2) });
  }
  rows.sort((a, b) => a.rank - b.rank || byName(book, a.batch.id, b.batch.id));
  return rows.map(({ batch, job, group }) => ({ batch, job, group }));
}

/** @param {any} book @param {string} a @param {string} b */
function byName(book, a, b) {
  return cropWords(book, a).localeCompare(cropWords(book, b)) || batchName(book, a).localeCompare(batchName(book, b)) || (a < b ? -1 : 1);
}

/** @param {string} verb @param {any} batch @param {number} year @param {boolean} keeps whether what is picked of it can be stored */
function canBe(verb, batch, year, keeps) {
  if (OUT_OF_STORE.includes(verb)) return batch.state !== "not begun" && keeps;
  if (batch.state === "over") return false;
  if (batch.state !== "not begun") return true;
  return ["sow", "plant_out"].includes(verb) && Math.abs(batch.year - year) <= 1;
}

/** @param {string} verb @param {any} batch */
function fitsStage(verb, batch) {
  const stages = /** @type {Record<string, string[]>} */ (FROM)[verb];
  return !stages || stages.includes(batch.state) || batch.cells.some((/** @type {any} */ cell) => stages.includes(cell.stage));
}

/** How many plants there are to do it to; null where nobody has counted, or it is not done to plants. @param {string} verb @param {any} batch @returns {number | null} */
export function thereAre(verb, batch) {
  return OF_PLANTS.includes(verb) && batch.state !== "not begun" ? (batch.plants ?? null) : null;
}

/**
 * The count to begin with, and counts worth a key: never more than there are.
 * @param {{verb: string, batch: any, job: Job | null, diary: any[]}} given
 * @returns {{value: number, there: number | null, jumps: {value: number, words: string}[]}}
 */
export function countsFor({ verb, batch, job, diary }) {
  const same = diary.filter((record) => record.fields.batch === batch.id && record.fields.did === verb && record.fields.count);
  const last = same.sort((a, b) => (a.fields.on < b.fields.on ? 1 : -1))[0]?.fields.count ?? null;
  const there = thereAre(verb, batch);
  const all = batch.plants ?? null;
  const value = job?.count ?? (verb === "pick" ? last : null) ?? (verb === "lose" ? 1 : null) ?? there ?? last ?? all ?? batch.want ?? 1;
  /** @type {Map<number, string>} */
  const jumps = new Map();
  const offer = (/** @type {number | null | undefined} */ number, /** @type {string} */ words) => {
    if (number && (there === null || number <= there) && !jumps.has(number) && jumps.size < MOST_JUMPS) jumps.set(number, words);
  };
  offer(job?.count, "the job");
  offer(there, "all there are");
  offer(last, "last time");
  for (const usual of USUAL_COUNTS) offer(usual, "");
  return {
    value: Math.max(1, Math.min(value || 1, there ?? Infinity)),
    there,
    jumps: [...jumps].sort((a, b) => a[0] - b[0]).map(([number, words]) => ({ value: number, words })),
  };
}

/** Whether a crop is sown straight into the ground by the row, and nobody counts its seeds. @param {any} book @param {string} batch */
export function isDrilled(book, batch) {
  const step = (cropOf(book, batch).steps || []).find((/** @type {any} */ one) => one.verb === "sow");
  return Boolean(step) && step.where === "final" && !/\{(plants|seeds)\}/.test(step.say);
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
