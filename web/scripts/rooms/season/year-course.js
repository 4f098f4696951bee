// @ts-check
/** How a crop's year runs at this site, and how it ran in the years before. Pure. */
import { inSeason, iso } from "../../kernel/read/days.js";
import { daySpan } from "../../lib/dates.js";
import { atClimate } from "../../kernel/read/turns.js";
import { workOut } from "../../household/plan-working.js";

const PLACE = "draft.place";
const RAISED = "draft.raised";

/**
 * @typedef {{stage: string, from: string, to: string, real: boolean}} Stage
 * @typedef {{verb: string, from: string, aim: string, by: string, why: string}} Window
 * @typedef {{stages: Stage[], windows: Window[], why: string[], season: {from: string, to: string} | null}} Course
 */

/** The twelve months round a day: from January in the north, from July in the south. @param {any} book @param {string} today */
export function axisOf(book, today) {
  const south = (book.fields("site").lat ?? 0) < 0;
  const year = Number(today.slice(0, 4)) - (south && today.slice(5) < "07-01" ? 1 : 0);
  return south ? { from: `${year}-07-01`, to: `${year + 1}-06-30` } : { from: `${year}-01-01`, to: `${year}-12-31` };
}

/**
 * The usual course of a crop under a cover, worked out by the kernel as for a batch that begins in the axis' year.
 * @param {any} rulebook
 * @param {string} crop
 * @param {string} cover
 * @param {{from: string}} axis
 * @returns {Course}
 */
export function courseOf(rulebook, crop, cover, axis) {
  const know = rulebook.crops[crop];
  const year = beginYear(know, cover, axis);
  const raised = { id: RAISED, kind: "place", stamp: "", fields: { name: "", sort: "propagator", cover: "indoors", heated_to_c: know.raise_c ?? null } };
  const place = { id: PLACE, kind: "place", stamp: "", fields: { name: "", sort: "house", cover } };
  const wish = { crop, variety: null, want: null, for_place: PLACE, year, sow_on: null, spacing_cm: null, pot_l: null };
  const plan = workOut({ ...rulebook, heat_read: {}, houses: {} }, [place, raised], wish, `${year - 1}-07-01`);
  const windows = everyTurn(know).flatMap((/** @type {any} */ step) => {
    const window = atClimate(step.window ?? null, cover, cover);
    if (!window?.from || !window.by) return [];
    const [from, aim, by] = [window.from, window.aim || window.from, window.by].map((day) => iso(inSeason(day, year)));
    return [{ verb: step.verb, from, aim, by, why: window.why }];
  });
  const pick = plan.jobs.find((job) => job.verb === "pick");
  const season = know.steps.find((/** @type {any} */ step) => step.verb === "pick")?.season ?? null;
  return { stages: season ? inSeasons(plan.stages, season) : plan.stages, windows, why: pick?.why || [], season };
}

/** Steps as they stand, and those that another time of the year gives days of their own. @param {any} know @returns {any[]} */
function everyTurn(know) {
  const others = (know.turns || []).flatMap((/** @type {any} */ turn) => know.steps.filter((/** @type {any} */ step) => turn[step.id]?.window).map((/** @type {any} */ step) => ({ ...step, ...turn[step.id] })));
  return [...know.steps, ...others];
}

/**
 * What is picked in a part of each year only stands the rest of it: its first picking is shown within its years.
 * @param {Stage[]} stages
 * @param {{from: string, to: string}} season
 * @returns {Stage[]}
 */
function inSeasons(stages, season) {
  return stages.flatMap((one) => {
    if (one.stage !== "picking") return [one];
    const year = yearOf(one.from);
    const over = season.to < season.from ? 1 : 0;
    const opens = `${year}-${season.from}`;
    return [{ ...one, stage: "planted" }, { ...one, from: opens < one.from ? one.from : opens, to: `${year + over}-${season.to}` }];
  });
}

/** The year of the first step that lies in the axis' twelve months. @param {any} know @param {string} cover @param {{from: string}} axis */
function beginYear(know, cover, axis) {
  const year = Number(axis.from.slice(0, 4));
  const first = atClimate(know.steps[0]?.window ?? null, cover, cover);
  const aim = first?.aim && iso(inSeason(first.aim, year));
  return aim && aim < axis.from ? year + 1 : year;
}

const BEGIN = /** @type {Record<string, string>} */ ({ sow: "sow", plant_out: "plant" });

/** `sow 3 March to 14 April`. @param {Course} course @param {string} today @returns {string} */
export function beginWords(course, today) {
  const window = course.windows[0];
  return window ? `${BEGIN[window.verb] || "begin"} ${daySpan(window.from, window.by, today)}` : "";
}

/**
 * Stages laid onto twelve months: what runs over their end comes in again at their beginning.
 * @param {Stage[]} stages
 * @param {{from: string, to: string}} axis
 * @returns {Stage[]}
 */
export function wrapped(stages, axis) {
  /** @type {Stage[]} */
  const pieces = [];
  for (const stage of stages) {
    for (const back of shifts(stage.from, stage.to, axis)) {
      const from = yearsBack(stage.from, back);
      const to = yearsBack(stage.to, back);
      if (to >= axis.from && from <= axis.to) pieces.push({ ...stage, from: from < axis.from ? axis.from : from, to: to > axis.to ? axis.to : to });
    }
  }
  return pieces;
}

/**
 * Windows laid onto twelve months in the same way; the best day is null where it falls outside.
 * @param {{from: string, aim: string, by: string}[]} windows
 * @param {{from: string, to: string}} axis
 * @returns {{from: string, aim: string | null, by: string}[]}
 */
export function wrappedWindows(windows, axis) {
  return windows.flatMap((window) =>
    shifts(window.from, window.by, axis).flatMap((back) => {
      const [from, aim, by] = [window.from, window.aim, window.by].map((date) => yearsBack(date, back));
      return by >= axis.from && from <= axis.to ? [{ from, aim: aim >= axis.from && aim <= axis.to ? aim : null, by }] : [];
    }),
  );
}

/**
 * By how many years a span may have to be moved back (below 0: forward) to lie within the axis.
 * @param {string} from
 * @param {string} to
 * @param {{from: string, to: string}} axis
 * @returns {number[]}
 */
function shifts(from, to, axis) {
  const [first, last] = [yearOf(from) - yearOf(axis.to), yearOf(to) - yearOf(axis.from)];
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, at) => first + at);
}

/** @param {string} date */
function yearOf(date) {
  return Number(date.slice(0, 4));
}

/** @param {string} date @param {number} years */
function yearsBack(date, years) {
  const back = `${String(Number(date.slice(0, 4)) - years).padStart(4, "0")}${date.slice(4)}`;
  return back.endsWith("-02-29") ? `${back.slice(0, 8)}28` : back;
}

/**
 * What the household's own batches of a crop really did, year by year, newest first.
 * @param {any[]} batches as `stand` gives them
 * @param {string} crop
 * @param {any} book
 * @returns {{year: number, batches: any[], picked_g: number, picked: number}[]}
 */
export function ownYears(batches, crop, book) {
  /** @type {Map<number, any[]>} */
  const years = new Map();
  for (const batch of batches) {
    if (book.fields(batch.variety).crop !== crop) continue;
    const real = batch.stages.filter((/** @type {Stage} */ stage) => stage.real);
    if (real.length) years.set(batch.year, [...(years.get(batch.year) || []), { ...batch, stages: real }]);
  }
  const sum = (/** @type {any[]} */ rows, /** @type {string} */ name) => rows.reduce((total, row) => total + (row[name] || 0), 0);
  return [...years].sort(([a], [b]) => b - a).map(([year, rows]) => ({ year, batches: rows, picked_g: sum(rows, "picked_g"), picked: sum(rows, "picked") }));
}
