// @ts-check
/** A batch that is only thought of, worked out by the kernel among all the others. Pure; nothing is written. */
import { iso, inSeason, parse, yearOf } from "../kernel/read/days.js";
import { roomOf } from "../kernel/room.js";
import { Settled } from "../kernel/settle.js";
import { COME_UP } from "../kernel/follow/coming-up.js";
import { UNFIT } from "../kernel/follow/path-dates.js";
import { UNRIPE } from "../kernel/when/forward.js";
import { standOf } from "../kernel/stand.js";
import { plainDay } from "../lib/dates.js";
import { sumOfNeeds } from "./needs.js";
import { capital } from "../lib/words.js";
import { boughtSteps, isBought } from "../kernel/read/bought.js";
import { atClimate, turnOf, turned } from "../kernel/read/turns.js";
import { readGround } from "../kernel/read/ground.js";

export const DRAFT = "draft.batch";
const DRAFT_VARIETY = "draft.variety";

/**
 * @typedef {{crop: string, variety: string | null, want: number | null, for_place: string | null, year: number,
 *   sow_on: string | null, turn?: number | null, spacing_cm: number | null, row_cm?: number | null, pattern?: string | null,
 *   turned?: boolean | null, end_cm?: number | null, pot_l: number | null, begins?: string | null}} Wish begins: with `plants` that are bought, or `cuttings`; turn: which of the times of the
 *   year the crop is begun at
 * @typedef {{jobs: any[], stages: any[], window: {from: string, aim: string, by: string, why: string} | null, advice: string[],
 *   seeds: number | null, comeUp: string, takes: {what: string, amount: number, unit: string}[],
 *   room: (since?: string | null) => import("./bed-working.js").Room}} Plan room: how full each place would be with it, week by week from a day's on
 */

/** The rulebook's knowledge for a wish. @param {any} rulebook @param {Wish} wish @returns {any} */
export function knowledgeOf(rulebook, wish) {
  return (wish.variety && rulebook.varieties?.[wish.variety]) || rulebook.crops?.[wish.crop] || null;
}

/**
 * The window of the first step where the plants are to end, as `Y-MM-DD` of the rulebook, in one of the turns of the year.
 * @param {any} rulebook
 * @param {any[]} records
 * @param {Wish} wish
 * @param {number} [turn] else the wish's own
 * @returns {any}
 */
export function firstWindow(rulebook, records, wish, turn) {
  const know = knowledgeOf(rulebook, wish);
  if (!know?.steps?.length) return null;
  const ground = groundOf(rulebook, records);
  const [climate, cover] = [ground.climate(wish.for_place), ground.cover(wish.for_place)];
  const at = turn ?? turnOf(know, wish, climate, cover);
  const days = know.steps.map((/** @type {any} */ step) => turned(step, know, at, cover));
  return atClimate((isBought(wish) ? boughtSteps(days) : days)[0].window ?? null, climate, cover);
}

/**
 * The times of the year at which a wish can be begun where its plants are to end, the one that comes next first.
 * @param {any} rulebook
 * @param {any[]} records
 * @param {Wish} wish
 * @param {string} today
 * @returns {{turn: number, year: number, from: string, by: string}[]}
 */
export function turnsAhead(rulebook, records, wish, today) {
  const know = knowledgeOf(rulebook, wish);
  const first = firstWindow(rulebook, records, wish, 0);
  if (!first?.from || !first.by) return [];
  const windows = [first, ...(know.turns || []).map((/** @type {any} */ _, /** @type {number} */ at) => firstWindow(rulebook, records, wish, at + 1))];
  return windows
    .map((window, turn) => ({ turn, window }))
    .filter(({ window, turn }) => turn === 0 || window.from !== first.from || window.by !== first.by)
    .map(({ window, turn }) => {
      const year = yearAhead(window, today);
      return { turn, year, from: iso(inSeason(window.from, year)), by: iso(inSeason(window.by, year)) };
    })
    .sort((a, b) => (a.by < b.by ? -1 : a.by > b.by ? 1 : a.turn - b.turn));
}

/** The batch's year in which a window is next open. @param {any} window @param {string} today */
function yearAhead(window, today) {
  const year = yearOf(parse(today));
  const years = [year - 1, year, year + 1];
  return window?.by ? (years.slice(window.by[0] === "0" ? 1 : 0).find((one) => inSeason(window.by, one) >= parse(today)) ?? year + 1) : year;
}

/** @param {any} rulebook @param {any[]} records */
function groundOf(rulebook, records) {
  const ofKind = (/** @type {string} */ kind) => records.filter((record) => record.kind === kind).sort((a, b) => (a.id < b.id ? -1 : 1));
  return readGround(ofKind("place"), ofKind("fixture"), rulebook.houses || {});
}

/**
 * The year of the batch whose own first day it is: that in which the day lies nearest to the crop's own window.
 * @param {any} rulebook
 * @param {any[]} records
 * @param {Wish} wish
 * @returns {number}
 */
export function yearOfDay(rulebook, records, wish) {
  const day = parse(/** @type {string} */ (wish.sow_on));
  const aim = firstWindow(rulebook, records, wish)?.aim;
  const year = yearOf(day);
  if (!aim) return year;
  return [year, year + 1, year - 1].reduce((best, one) => (Math.abs(inSeason(aim, one) - day) < Math.abs(inSeason(aim, best) - day) ? one : best));
}

/**
 * When a wish without a day of its own is begun: the turn that was chosen, else the next one, and the year.
 * @param {any} rulebook
 * @param {any[]} records
 * @param {Wish} wish
 * @param {string} today
 * @returns {{turn: number | null, year: number}}
 */
export function nextTurn(rulebook, records, wish, today) {
  const ahead = turnsAhead(rulebook, records, wish, today);
  const chosen = ahead.find((one) => one.turn === wish.turn) || ahead[0];
  if (!chosen) return { turn: null, year: yearOf(parse(today)) };
  return { turn: ahead.length > 1 ? chosen.turn : null, year: chosen.year };
}

/**
 * The plan of a wish: its jobs in order of time, its season, what it takes, and what speaks against it.
 * @param {any} rulebook
 * @param {any[]} records the household's
 * @param {Wish} wish
 * @param {string} today
 * @returns {Plan}
 */
export function workOut(rulebook, records, wish, today) {
  const all = [...records, ...draftRecords(wish)];
  const settled = new Settled(rulebook, all, today);
  const jobs = settled
    .jobs()
    .filter((/** @type {any} */ job) => job.batch === DRAFT && !job.low)
    .sort((/** @type {any} */ a, /** @type {any} */ b) => (a.aim < b.aim ? -1 : a.aim > b.aim ? 1 : 0));
  const batch = standOf(settled).batches.find((/** @type {any} */ one) => one.id === DRAFT);
  const raw = firstWindow(rulebook, records, wish);
  const window = raw?.from && raw.by
    ? { from: iso(inSeason(raw.from, wish.year)), aim: iso(inSeason(raw.aim || raw.from, wish.year)), by: iso(inSeason(raw.by, wish.year)), why: raw.why }
    : null;
  const sow = jobs.find((/** @type {any} */ job) => job.verb === "sow");
  const know = knowledgeOf(rulebook, wish);
  return {
    jobs,
    stages: batch?.stages || [],
    window,
    advice: [...ownDay(wish, window, know, today), ...unripe(raw, jobs), ...pinch(jobs)],
    seeds: know?.seeds_for && sow ? sow.count : null,
    comeUp: sow?.why.find((/** @type {string} */ line) => line.endsWith(COME_UP)) || `${know?.seeds_for} in 100 come up`,
    takes: sumOfNeeds(jobs.filter((/** @type {any} */ job) => !job.repeat)),
    room: (since = null) => roomOf(settled, all, since),
  };
}

/** @param {Wish} wish @returns {any[]} */
export function draftRecords(wish) {
  const { crop, variety, ...rest } = wish;
  const fields = Object.fromEntries(Object.entries(rest).filter(([, value]) => value !== null));
  return [
    ...(variety ? [] : [{ id: DRAFT_VARIETY, kind: "variety", stamp: "", fields: { crop, name: "" } }]),
    { id: DRAFT, kind: "batch", stamp: "", fields: { ...fields, variety: variety || DRAFT_VARIETY } },
  ];
}

/**
 * What speaks against the household's own day.
 * @param {Wish} wish
 * @param {{from: string, by: string, why: string} | null} window
 * @param {any} know
 * @param {string} today
 * @returns {string[]}
 */
function ownDay(wish, window, know, today) {
  if (!wish.sow_on || !window) return [];
  const early = parse(window.from) - parse(wish.sow_on);
  const late = parse(wish.sow_on) - parse(window.by);
  const raised = know?.steps?.some((/** @type {any} */ step) => step.verb === "harden_off");
  if (early > 0) {
    const because = raised ? "the plants would be ready long before they can go out, and stand too long in their pots" : "it is too cold, or comes too early, to do well";
    return [`${early} ${early === 1 ? "day" : "days"} too early: ${because}. Better from ${plainDay(window.from, today)}.`];
  }
  return late > 0 ? [`${late} ${late === 1 ? "day" : "days"} after the last useful day, ${plainDay(window.by, today)}.`] : [];
}

/** Why it will hardly come to a picking. @param {any} window of the first step @param {any[]} jobs @returns {string[]} */
function unripe(window, jobs) {
  const late = jobs.flatMap((job) => job.why).find((/** @type {string} */ words) => words.startsWith(UNRIPE));
  const words = window?.unfit ? UNFIT[window.unfit] : late;
  return words ? [`${capital(words)}.`] : [];
}

/** The first place where it does not come out; what follows from it is the same trouble again. @param {any[]} jobs @returns {string[]} */
function pinch(jobs) {
  const pinched = jobs.filter((job) => job.pinched);
  const told = pinched.find((job) => job.pinched.includes("Ways out")) || pinched[0];
  return told ? [`${told.title}: ${told.pinched}`] : [];
}
