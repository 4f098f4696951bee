// @ts-check
/** What is to be seen on the Round: from jobs, choices and the day to plain data. Pure. */
import { fit } from "../../kernel/fit.js";
import { daysBetween, longDay, nearDay, plainDay } from "../../lib/dates.js";
import { counted, isBeside, kept, minutesWords, sharingWords } from "../../lib/words.js";

/**
 * @typedef {import("../../types.js").Job} Job
 * @typedef {{minutes: number, week: boolean, beyond: boolean, low: boolean, upkeep: boolean | null, early: boolean, lapsed: boolean, waiting: Record<string, boolean>,
 *   done: Record<string, boolean>}} Chosen What the
 *   grower chose, which stays chosen while the app is open. upkeep: null until it is folded or unfolded: it stands open where nothing presses
 * @typedef {{house: string, name: string, walk: number | null, says: string, rows: Job[], waiting: Job[], folded: boolean, done: Job[]}} Section
 *   folded: those that wait stand under one line; done: what was done some while ago, under another
 * @typedef {{id: "low" | "upkeep" | "early" | "lapsed" | "week" | "beyond", title: string, open: boolean, rows: Job[], days: {day: string, lines: {id: string, title: string, subject: string}[]}[], more: string}} Fold
 * @typedef {{id: string, words: string} | null} Next
 */

const WEEK_DAYS = 7;
const MOST_LINES = 120;
const FEW_WAITING = 3;
const MOST_NAMED = 4;
/** So long what was done stands where it stood. */
const A_WHILE_MIN = 15;

/**
 * The jobs of a day by what the Round does with them.
 * @param {Job[]} jobs
 */
export function sortJobs(jobs) {
  return {
    ready: jobs.filter((job) => job.state === "ready" && !job.low),
    waiting: jobs.filter((job) => job.state === "waiting"),
    low: jobs.filter((job) => job.low && job.state === "ready" && job.batch !== null),
    upkeep: jobs.filter((job) => job.low && job.state === "ready" && job.batch === null),
    done: jobs.filter((job) => job.state === "done"),
    early: jobs.filter((job) => job.state === "early"),
    later: jobs.filter((job) => job.state === "later" && !job.low),
    lapsed: jobs.filter((job) => job.state === "lapsed"),
  };
}

/**
 * The head's words, and what the minutes there are leave out.
 * @param {Job[]} jobs
 * @param {number} minutes 0: any
 */
export function seeTime(jobs, minutes) {
  const { ready, done } = sortJobs(jobs);
  const fitted = minutes ? fit(jobs, minutes) : null;
  const all = ready.reduce((sum, job) => sum + job.minutes, 0);
  let words = `${counted(ready.length, "job")}, ${minutesWords(all)}`;
  if (fitted) words = `${counted(fitted.take.length, "job")} ${fitted.take.length === 1 ? "fits" : "fit"}, ${minutesWords(fitted.minutes)}`;
  else if (!ready.length) words = done.length ? `${done.length} done` : "no jobs today";
  return { words, take: fitted && new Set(fitted.take), leftOut: fitted && seeLeftOut(fitted, jobs) };
}

/** Without a word for longer than this, or with more rows than a screen past, the Round may begin with a slip: what it says is then worked out. */
const SILENT_DAYS = 10;
const SCREEN_ROWS = 8;

/** @param {Job[]} jobs @param {import("../../types.js").RecordForm[]} diary @param {string} today */
export function mayCatchUp(jobs, diary, today) {
  const late = jobs.filter((job) => (job.state === "ready" || job.state === "waiting") && (job.leeway || 0) < 0).length;
  const last = diary.reduce((latest, { fields }) => [latest, fields.on || "", fields.about || ""].filter((day) => day <= today).sort().at(-1) || "", "");
  return late > SCREEN_ROWS || (last !== "" && daysBetween(last, today) > SILENT_DAYS);
}

/**
 * The slip that begins the Round after a time without a word; null where none is due.
 * @param {{due: boolean, since: string | null, lines: any[]} | null} caught @param {string} today
 */
export function seeCatchUp(caught, today) {
  if (!caught?.due) return null;
  const since = caught.since && daysBetween(caught.since, today) > 0 ? `No word since ${plainDay(caught.since, today)}: ` : "";
  return `${since}${counted(caught.lines.length, "line")} of what is believed, a tap each`;
}

/**
 * What to say while there is no rulebook: the list is not whole then. Empty where there is one.
 * @param {{version?: string}} rulebook @param {import("../../types.js").Sharing} sharing
 */
export function seeLack(rulebook, sharing) {
  if (rulebook.version) return "";
  if (sharing.lastShared === null && sharing.reachable !== false && !sharing.problem) return "The crop calendars are on their way to this phone. Until they are here only jobs made by hand stand in the list.";
  return `The crop calendars have not come to this phone yet, so only jobs made by hand stand here. ${sharing.problem || "They come with the next sharing."}`;
}

const SAFE_THERE = "Whatever was shared is safe on the server, and comes as soon as it answers.";

/**
 * What stands where no record is held: only a server that has answered knows that nothing grows here.
 * @param {import("../../types.js").Sharing} sharing
 * @param {boolean} wiped whether this phone held records once
 * @returns {{title: string, words: string, key: string, way: "" | "begin" | "join"}} key: empty for none; way: empty for trying again
 */
export function seeNothing({ joined, lastShared, reachable, problem }, wiped) {
  if (joined === false) return { title: "This phone has not joined yet", words: "With a code from the server's screen, or from a phone that has joined, the household's list stands here.", key: "Join", way: "join" };
  const told = lastShared !== null && !(wiped && reachable !== true);
  if (told) return { title: "Nothing grows here yet", words: "Three questions, and the season's list stands here: where you grow, what places you have, what grows in them. In the middle of a year too: what grows already is put in as it stands.", key: "Begin", way: "begin" };
  if (reachable === null) return { title: "", words: "Asking the server what grows here.", key: "", way: "" };
  const title = wiped ? "This phone's copy is gone" : "The server does not answer";
  const why = wiped ? "Its browser has cleared it, and the server is not to be reached just now." : "This phone holds nothing of the household yet.";
  return { title, words: [why, problem || "", SAFE_THERE].filter(Boolean).join(" "), key: "Try again", way: "" };
}

/** @param {{leave: string[], runs_out: string[]}} fitted @param {Job[]} jobs @returns {{all: string, pressing: string, calm: string}} */
function seeLeftOut(fitted, jobs) {
  if (!fitted.leave.length) return { all: "", pressing: "", calm: "Everything that is ready fits." };
  const titles = new Map(jobs.map((job) => [job.id, job.title]));
  const gone = fitted.runs_out.map((id) => titles.get(id)).filter((title) => title !== undefined);
  const all = `Leaves ${counted(fitted.leave.length, "job")}. `;
  if (!gone.length) return { all, pressing: "", calm: "None of them runs out of leeway today." };
  const more = gone.length > MOST_NAMED ? ` and ${gone.length - MOST_NAMED} more` : "";
  return { all, pressing: `No time left to wait for: ${gone.slice(0, MOST_NAMED).map(kept).join("; ")}${more}.`, calm: "" };
}

/**
 * @param {{today: string, sharing: import("../../types.js").Sharing, nowMs: number, zone: string | null}} given
 * @returns {{day: string, sharing: string}}
 */
export function seeHead({ today, sharing, nowMs, zone }) {
  return { day: longDay(today), sharing: sharingWords(sharing, nowMs, zone, true) };
}

/** A row by its job, done or not; a job that comes again is told apart by its part. @param {Job} job */
export function standId(job) {
  return `${job.id} ${job.part}`;
}

/**
 * Rows as they stood, so that none moves under a thumb; what is new stands behind what it follows.
 * @param {Job[]} rows as they are sorted
 * @param {string[]} before ids of rows as they stood
 * @returns {Job[]}
 */
export function asTheyStood(rows, before) {
  const stood = new Map(before.map((id, at) => [id, at]));
  const placed = rows.filter((job) => stood.has(standId(job))).sort((a, b) => (stood.get(standId(a)) ?? 0) - (stood.get(standId(b)) ?? 0));
  rows.forEach((job, at) => {
    if (!stood.has(standId(job))) placed.splice(at ? placed.indexOf(rows[at - 1]) + 1 : 0, 0, job);
  });
  return placed;
}

/**
 * House by house in walking order: what is ready, what is done, what waits.
 * @param {{jobs: Job[], take: Set<string> | null, walk: {id: string, name: string, walk: number | null}[], chosen: Chosen,
 *   now?: string, stood?: Map<string, string[]>}} given now: the time of day; take: what fits into the minutes there are; null: all. walk: the houses in walking order.
 *   stood: ids of the rows of each house as they stand on the screen
 * @returns {Section[]}
 */
export function seeSections({ jobs, take, walk, chosen, now = "", stood = new Map() }) {
  const { ready, waiting, early, done } = sortJobs(jobs);
  const open = [...ready, ...waiting];
  const ticked = new Set([...stood.values()].flat());
  const shown = take ? [...[...open, ...early].filter((job) => take.has(job.id)), ...done.filter((job) => ticked.has(standId(job)))] : [...open, ...done];
  const named = new Map(walk.map((house) => [house.id, house]));
  const order = new Set([...named.keys(), ...shown.map((job) => job.house || "")]);
  return [...order]
    .map((house) => seeSection(named.get(house) ?? { id: house, name: "", walk: null }, shown, { chosen, now, before: stood.get(house) || [] }))
    .filter((section) => section !== null);
}

/** @param {{id: string, name: string, walk: number | null}} house @param {Job[]} shown @param {{chosen: Chosen, now: string, before: string[]}} given @returns {Section | null} */
function seeSection(house, shown, { chosen, now, before }) {
  const here = shown.filter((job) => (job.house || "") === house.id);
  if (!here.length) return null;
  const { waiting, done, ...sorted } = sortJobs(here);
  const ready = [...sorted.ready, ...sorted.early];
  const minutes = ready.reduce((sum, job) => sum + job.minutes, 0);
  let says = `${done.length} done`;
  if (ready.length) says = `${counted(ready.length, "job")}, ${minutesWords(minutes)}`;
  else if (waiting.length) says = `${waiting.length} waiting`;
  const stays = (/** @type {Job} */ job) => before.includes(standId(job)) || isFresh(job.at, now);
  const folded = waiting.length > FEW_WAITING && !chosen.waiting[house.id];
  return { house: house.id, name: house.name || "Anywhere", walk: house.walk, says, rows: asTheyStood([...ready, ...done.filter(stays)], before), waiting, folded, done: done.filter((job) => !stays(job)) };
}

/** @param {string | null | undefined} at @param {string} now */
function isFresh(at, now) {
  const minutes = (/** @type {string} */ time) => 60 * Number(time.slice(0, 2)) + Number(time.slice(3));
  return Boolean(at) && minutes(now) - minutes(String(at)) < A_WHILE_MIN;
}

/** What presses nobody, and what comes later. @param {Job[]} jobs @param {string} today @param {Chosen} chosen @returns {Fold[]} */
export function seeFolds(jobs, today, chosen) {
  const { ready, waiting, low, upkeep, early, later, lapsed } = sortJobs(jobs);
  const soon = later.filter((job) => daysBetween(today, job.from) <= WEEK_DAYS);
  const beyond = later.filter((job) => daysBetween(today, job.from) > WEEK_DAYS);
  /** @type {Fold[]} */
  const folds = [];
  if (low.length) folds.push({ id: "low", title: `${counted(low.length, "lot")} of spare plants`, open: chosen.low, rows: low, days: [], more: "" });
  const quiet = chosen.upkeep ?? !(ready.length || waiting.length);
  if (upkeep.length) folds.push({ id: "upkeep", title: `${upkeep.length} of the other work`, open: quiet, rows: upkeep, days: [], more: "" });
  if (early.length) folds.push({ id: "early", title: `${early.length} could be begun`, open: chosen.early, rows: early, days: [], more: "" });
  if (soon.length) folds.push({ id: "week", title: `${soon.length} more later this week`, open: chosen.week, rows: [], ...seeLines(soon, today) });
  if (beyond.length) folds.push({ id: "beyond", title: `${beyond.length} after that`, open: chosen.beyond, rows: [], ...seeLines(beyond, today) });
  if (lapsed.length) folds.push({ id: "lapsed", title: `${lapsed.length} lapsed`, open: chosen.lapsed, rows: lapsed, days: [], more: "" });
  return folds;
}

/** @param {Job[]} jobs @param {string} today */
function seeLines(jobs, today) {
  const sorted = [...jobs].sort((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : 0));
  /** @type {Map<string, {id: string, title: string, subject: string}[]>} */
  const days = new Map();
  for (const job of sorted.slice(0, MOST_LINES)) {
    const line = { id: job.id, title: kept(job.title), subject: isBeside(job) ? job.subject : "" };
    days.set(job.from, [...(days.get(job.from) || []), line]);
  }
  return { days: [...days].map(([day, lines]) => ({ day: longDay(day), lines })), more: sorted.length > MOST_LINES ? `and ${sorted.length - MOST_LINES} more` : "" };
}

/** When nothing more can be done: what was done, and the next by-day. @param {Job[]} jobs @param {string} today @returns {{title: string, marks: number, next: Next, rows: Job[]}} */
export function seeEnd(jobs, today) {
  const { done, later } = sortJobs(jobs);
  const next = later.filter((job) => job.by).sort((a, b) => (String(a.by) < String(b.by) ? -1 : 1))[0];
  return {
    title: done.length ? "That's the Round." : "Nothing to do today.",
    marks: Math.min(done.length, 16),
    next: next ? { id: next.id, words: `${nearDay(String(next.by), today)}: ${kept(next.title)}` } : null,
    rows: done,
  };
}

/**
 * A job as it looks once its tick is on the disk, before the list is worked out anew.
 * @param {Job} job
 * @param {import("../../types.js").Wish} wish
 * @returns {Job}
 */
export function seeDone(job, wish) {
  const { by, at } = wish.fields;
  return { ...job, state: "done", deeds: [wish.id], told_by: by ? [by] : [], at: at ?? null, in_the_way: [], why: [], needs: [], minutes: 0 };
}
