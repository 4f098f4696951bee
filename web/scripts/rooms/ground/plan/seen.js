// @ts-check
/** What is to be seen when a batch is planned: the questions with what may be answered, and the plan that follows. Pure. */
import { freeStretch, mmOf, sizeOf } from "../../../household/bed-working.js";
import { cropChoices, placeChoices } from "../../../household/names.js";
import { needWords } from "../../../household/needs.js";
import { DRAFT, knowledgeOf, nextTurn, turnsAhead, workOut, yearOfDay } from "../../../household/plan-working.js";
import { seedsInHand } from "../../../household/seeds.js";
import { vesselWords } from "../../../household/vessel-words.js";
import { present } from "../../../household/wishes.js";
import { daySpan, plainDay } from "../../../lib/dates.js";
import { counted, kept } from "../../../lib/words.js";
import { overflowsOf } from "../../../household/room-working.js";
import { rotationCautions } from "../../../household/rotation-working.js";
import { readLength } from "../../../lib/amounts.js";
import { metres } from "../place/bed-seen.js";
import { seeWays } from "../place/close-seen.js";
import { growingWishes, stagesOf } from "./growing.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../household/plan-working.js").Plan} Plan
 * @typedef {{mode: string, crop: string, variety: string, name: string, want: number, place: string, day: string, spacing: string, row: string,
 *   pattern: string, across: boolean, tapeLength: string, tapeWidth: string, tapeEnd: string,
 *   turn: number | null, begins: string, stage: string, pot: number, here: string, since: string, count: number, picked: boolean}} Ask mode: `begin` or `growing`; day: of
 *   one's own, for the first step; here: where those stand that grow already, since: the day they came to their stage;
 *   spacing, row [cm], pattern, across the bed: how close they are to stand; tapeLength, tapeWidth: as typed off a tape
 */

/** @param {string} today @returns {Ask} */
export function atFirst(today) {
  return { mode: "begin", crop: "", variety: "", name: "", want: 6, place: "", day: "", spacing: "", row: "", pattern: "", across: false, tapeLength: "", tapeWidth: "", tapeEnd: "", turn: null, begins: "", stage: "", pot: 0, here: "", since: today, count: 6, picked: false };
}

/** What is asked, as the batch it would be. @param {Book} book @param {Ask} ask @param {string} today */
export function wishOf(book, ask, today) {
  const wish = { crop: ask.crop, variety: ask.variety || null, want: ask.want, for_place: ask.place || null, year: 0, sow_on: ask.day || null, turn: ask.day ? null : ask.turn, spacing_cm: Number(ask.spacing) || null, row_cm: Number(ask.row) || null, pattern: ask.pattern || null, turned: ask.across || null, end_cm: endOf(ask), pot_l: null, begins: ask.begins || null };
  if (wish.sow_on) return { ...wish, year: yearOfDay(book.rulebook, book.records, wish) };
  return { ...wish, ...nextTurn(book.rulebook, book.records, wish, today) };
}

/** What is known of the crop that is asked for. @param {Book} book @param {Ask} ask @param {string} today */
export function knowOf(book, ask, today) {
  return ask.crop ? knowledgeOf(book.rulebook, wishOf(book, ask, today)) : null;
}

/** @param {Book} book @param {Ask} ask @param {string} today */
export function seeQuestions(book, ask, today) {
  const know = knowOf(book, ask, today);
  return {
    crops: cropChoices(book),
    varieties: book.ofKind("variety").filter(({ fields }) => fields.crop === ask.crop).map(({ id, fields }) => [id, fields.name]),
    places: placeChoices(book, true),
    tape: know?.spacing_cm ? { length: ask.tapeLength, width: ask.tapeWidth, end: ask.tapeEnd, sized: sizeOf(book.fields(ask.place)) !== null } : null,
    begins: know ? seeBegins(ask, know) : [],
    turns: know ? seeTurns(book, ask, today) : [],
    growing: know ? seeGrowing(ask, know) : null,
  };
}

const BEGINS = [["", "Seed"], ["plants", "Plants to buy"], ["cuttings", "Cuttings"]];
const CUT = ["Lamiaceae", "Moraceae", "Vitaceae", "Grossulariaceae", "Ericaceae"];

/** What it can be begun with: seed or plants where it is raised, plants or cuttings of what roots from them. @param {Ask} ask @param {any} know */
function seeBegins(ask, know) {
  const raised = know.steps[0].verb === "sow" && know.steps.some((/** @type {any} */ step) => step.verb === "plant_out");
  const roots = CUT.includes(know.family) && know.steps.some((/** @type {any} */ step) => step.verb === "plant_out");
  const ways = BEGINS.filter(([id]) => (id === "" ? raised || roots : id === "plants" ? raised || roots : roots));
  const words = (/** @type {string[]} */ [id, say]) => (id === "" && !raised ? "What is at hand" : say);
  return ways.map((way) => ({ id: way[0], words: words(way), chosen: ask.begins === way[0] }));
}

/** The times of the year it can be begun at, where there are several. @param {Book} book @param {Ask} ask @param {string} today */
function seeTurns(book, ask, today) {
  const wish = wishOf(book, ask, today);
  const ahead = turnsAhead(book.rulebook, book.records, wish, today);
  if (ahead.length < 2) return [];
  return ahead.map(({ turn, from, by }) => ({ turn, words: kept(daySpan(from, by, today)), chosen: !ask.day && turn === wish.turn }));
}

const SINCE = new Map([["up", "up"], ["hardening", "first put out"]]);

/** Plants that grow already: the stages of their crop, and what is asked of the one they are at. @param {Ask} ask @param {any} know */
function seeGrowing(ask, know) {
  const stages = stagesOf(know);
  const at = stages.find((one) => one.stage === ask.stage) || stages[stages.length - 1];
  const stage = at?.stage || "";
  return {
    stage,
    stages: stages.map((one) => one.stage),
    pots: (at?.pots || []).map((/** @type {number} */ litres) => ({ litres, words: kept(`${litres} L`), chosen: (ask.pot || at.pots[0]) === litres })),
    count: stage === "sown" ? "Seeds sown" : "How many",
    since: `About when they were ${SINCE.get(stage) || stage}`,
    planted: stage === "planted",
  };
}

/** The list's answer. @param {Book} book @param {Ask} ask @param {string} today */
export function seePlan(book, ask, today) {
  const plan = workOut(book.rulebook, book.records, wishOf(book, ask, today), today);
  const picks = plan.jobs.filter((job) => job.verb === "pick");
  const { stages, window: days } = plan;
  const room = plan.room(stages[0]?.from ?? null);
  return {
    summary: summaryWords(plan, today),
    days: days && kept(`any day from ${daySpan(days.from, days.by, today)} will do; best ${days.why}`),
    stages,
    span: stages.length ? { today, from: stages[0].from, to: stages[stages.length - 1].to } : null,
    advice: [...plan.advice, ...shortOfSeed(seedsInHand(book, today).get(ask.variety ?? "") ?? null, plan.seeds), ...(ask.place ? [...overflowsOf(book, room, DRAFT, today), ...rotated(book, ask, room, today)] : [])].map(kept),
    close: ask.place ? seeClose(book, ask, room, today) : null,
    takes: takesWords(plan, ask.want, raisedIn(room)).map(kept),
    steps: plan.jobs.filter((job) => !picks.includes(job) || job === picks[0]).map((job) => ({ title: kept(job.title), days: kept(stepDays(job, today)), why: job.why.map(kept) })),
  };
}

/** What speaks against the place by what stood there before. @param {Book} book @param {Ask} ask @param {import("../../../household/bed-working.js").Room} room @param {string} today @returns {string[]} */
function rotated(book, ask, room, today) {
  const stay = room.stays.find((one) => one.batch === DRAFT && one.place === ask.place && one.layout);
  if (!stay) return [];
  const said = rotationCautions(book, room, ask.place, { crop: ask.crop, know: knowOf(book, ask, today), from: stay.from, but: DRAFT });
  return said.length ? [said.join(" ")] : [];
}

/** How close they could stand where they are to end, in what is free there then, or in what was read off a tape. @param {Book} book @param {Ask} ask @param {import("../../../household/bed-working.js").Room} room @param {string} today */
function seeClose(book, ask, room, today) {
  const know = knowOf(book, ask, today);
  const stay = room.stays.find((one) => one.batch === DRAFT && one.place === ask.place && one.layout);
  if (!know?.spacing_cm || !stay) return null;
  const fields = book.fields(ask.place);
  const free = freeStretch(room, ask.place, fields, { from: stay.from, to: stay.to, but: [DRAFT] });
  const taped = tapeSize(ask, fields);
  if (taped.why) return { heading: "How close?", why: taped.why, none: "", ways: [], verdict: [] };
  const there = taped.size || free;
  if (!there) return null;
  const now = { cm: Number(ask.spacing) || know.spacing_cm[2], pattern: ask.pattern, turned: ask.across, end: endOf(ask) === null ? null : mmOf(endOf(ask)) };
  const said = taped.size ? `${metres(there.length)} × ${metres(there.width)} by the tape` : `${there.length ? metres(there.length) : "nothing"} of the bed free from ${plainDay(stay.from, today)} to ${plainDay(stay.to, today)}`;
  return { heading: kept(`How close? ${said}`), why: "", ...seeWays(know, there, ask.want, now) };
}

/** What is to be kept free at the edges; null for as usual. [cm] @param {Ask} ask @returns {number | null} */
function endOf({ tapeEnd }) {
  const { value } = tapeEnd.trim() ? readLength(tapeEnd) : { value: undefined };
  return value !== undefined && value >= 0 && value <= MOST_END_CM ? value : null;
}

/** What was read off a tape, in millimetres: without a width that of the place. @param {Ask} ask @param {Record<string, any>} fields @returns {{size: {length: number, width: number} | null, why: string}} */
function tapeSize({ tapeLength, tapeWidth }, fields) {
  if (!tapeLength.trim() && !tapeWidth.trim()) return { size: null, why: "" };
  const own = sizeOf(fields);
  const [length, width] = [tapeLength, tapeWidth].map((typed) => (typed.trim() ? readLength(typed) : null));
  const why = [length, width].map((read) => read?.why || (read && !(Number(read.value) > 0 && Number(read.value) <= LONGEST_CM) ? "A bed is more than nothing and at most a kilometre: type a length such as 440 or 14 ft 5." : "")).find(Boolean);
  if (why) return { size: null, why };
  const mm = { length: length ? mmOf(length.value) : (own?.length ?? 0), width: width ? mmOf(width.value) : (own?.width ?? 0) };
  return mm.length && mm.width ? { size: mm, why: "" } : { size: null, why: "Type the other side too: how long, and how wide." };
}

const LONGEST_CM = 100_000;
const MOST_END_CM = 1000;

/** @param {Plan} plan @param {string} today */
function summaryWords({ jobs: [first], stages }, today) {
  if (!first) return "Its time in that year is over.";
  const pick = stages.find((one) => one.stage === "picking");
  const picking = pick ? `. Picking from about ${daySpan(pick.from, pick.to, today)}` : "";
  return kept(`${first.title}: ${plainDay(first.aim, today)}${picking}.`);
}

/** @param {number | null} held @param {number | null} seeds @returns {string[]} */
function shortOfSeed(held, seeds) {
  return held !== null && seeds !== null && seeds > held ? [`${counted(held, "seed")} in hand, ${seeds} to sow: fewer plants may come than are wanted.`] : [];
}

/** What it is sown in, and pricked out into. @param {import("../../../household/bed-working.js").Room} room @returns {string} empty for what is raised in neither */
function raisedIn(room) {
  const into = (/** @type {string} */ stage) => room.stays.find((stay) => stay.batch === DRAFT && stay.stage === stage)?.vessel;
  const [sown, pricked] = [into("sown"), into("pricked out")];
  return [sown && `sown in ${vesselWords(sown)}`, pricked && `pricked out into ${vesselWords(pricked)}`].filter(Boolean).join(", ");
}

/** @param {Plan} plan @param {number} want @param {string} trays */
function takesWords({ seeds, comeUp, takes }, want, trays) {
  const rows = takes.filter((need) => need.what !== "seed" && need.what !== "cells").map(needWords);
  if (trays) rows.unshift(trays);
  if (seeds) rows.unshift(`${seeds} seeds, so that ${want} plants come with 95 % certainty where ${comeUp}`);
  return rows.length ? rows : ["nothing but the plants"];
}

/** @param {any} job @param {string} today */
function stepDays({ from, aim, by }, today) {
  let span = `from ${plainDay(from, today)}`;
  if (by && by < from) span = `not before ${plainDay(from, today)}`;
  else if (by && by !== from) span = daySpan(from, by, today);
  return aim === from ? span : `best ${plainDay(aim, today)}; ${span}`;
}

/**
 * What goes into the book: the batch, its variety where that is new, and for plants that grow already the deed that says where they are.
 * @param {Book} book
 * @param {Ask} ask
 * @param {{today: string, at: any, newId: () => string}} tools
 * @returns {{batch: string, variety: string, wishes: import("../../../types.js").Wish[]}}
 */
export function planWishes(book, ask, tools) {
  const { today, newId } = tools;
  const know = knowOf(book, ask, today);
  const variety = ask.variety || newId();
  const batch = newId();
  /** @type {import("../../../types.js").Wish[]} */
  const wishes = ask.variety ? [] : [{ id: variety, kind: "variety", fields: { name: ask.name.trim() || know.many, crop: ask.crop } }];
  if (ask.mode === "begin") {
    const { crop: _crop, ...fields } = wishOf(book, ask, today);
    wishes.push({ id: batch, kind: "batch", fields: present({ ...fields, variety }) });
  } else {
    const { stage, count, picked } = ask;
    wishes.push(...growingWishes(know, { batch, variety, stage, count, here: ask.here || null, place: ask.place || null, since: ask.since || today, pot: ask.pot || null, picked }, tools));
  }
  return { batch, variety, wishes };
}
