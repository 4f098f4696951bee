// @ts-check
/** Left over or too few: one quiet job for spare plants, and a call to sow again when too few came up. */
import { inSeason, iso, spoken } from "../read/days.js";
import { emergenceDays } from "../when/gaps.js";
import { sowOn } from "../read/batch-state.js";
import { slack } from "./knowledge.js";
import { atClimate } from "../read/turns.js";
import { makeWay } from "./ways.js";
import { plantsWords } from "../read/words.js";
import { Work } from "../when/work.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 */

/** @param {BatchState} state @param {number} count @param {Knowledge} know @returns {Work} */
export function spareWork(state, count, know) {
  const job = `${state.id}.spare`;
  /** @type {import("../read/batch-state.js").Cell | null} */
  let lowest = null;
  for (const cell of state.cells.values()) {
    if (cell.count <= 0 || cell.where === "") continue;
    if (lowest === null) {
      lowest = cell;
      continue;
    }
    const order = Number(state.isSeed(cell.step)) - Number(state.isSeed(lowest.step)) || cell.step - lowest.step;
    if (order < 0 || (order === 0 && cell.where < lowest.where)) lowest = cell;
  }
  const place = lowest === null ? null : lowest.where;
  /** @type {any} */
  const writes = { did: "lose", batch: state.id };
  if (place !== null) writes.place = place;
  const words = plantsWords(state.know, count);
  const work = new Work({
    id: job,
    verb: "decide",
    title: `Decide on ${count} spare ${words.slice(words.indexOf(" ") + 1)}`,
    lead: "Decide".length,
    subject: state.varietyName,
    writes,
    batch: state.id,
    place,
    count,
    minutes: know.minutes("spare"),
    low: true,
    hint: "Where do they go? Some kept against losses do no harm.",
  });
  const gone = { ...writes, count };
  work.ways = [
    makeWay("given", "Given away", [{ ...gone, answer: "given" }]),
    makeWay("kept", "Kept", [], { changes: letItGo(job, know).changes }),
    makeWay("compost", "Composted", [{ ...gone, answer: "compost" }]),
  ];
  work.notes.push(`${state.want} were wanted, and ${count} more stand`);
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/** The last day on which sowing this batch is still of use. @param {BatchState} state @returns {number | null} */
export function lastSowingDay(state) {
  if (!state.steps.length) return null;
  const window = atClimate(state.steps[0].window, state.climate, state.cover);
  const last = window ? window.last || window.by : null;
  return last ? inSeason(last, state.year) : null;
}

/**
 * The last day on which to begin a batch: of the household's own day and the one that still pays, the later.
 * @param {BatchState} state
 * @param {Knowledge} know
 * @returns {number | null}
 */
export function lastDayToBegin(state, know) {
  const own = sowOn(state);
  const pays = lastSowingDay(state);
  if (own === null) return pays;
  const chosen = own + slack(know)[1];
  return pays === null ? chosen : Math.max(chosen, pays);
}

/** For how many days past its last one the first step is still asked about. @param {BatchState} state @returns {number} */
export function askedFor(state) {
  const missed = state.steps[0].missed;
  return missed ? missed[1] : 0;
}

/**
 * For a while after the last day on which a batch could be begun, the question what to do instead.
 * @param {BatchState} state
 * @param {Knowledge} know
 * @returns {Work | null}
 */
export function tooLate(state, know) {
  const last = lastDayToBegin(state, know);
  if (last === null || know.today <= last || know.today > last + askedFor(state)) return null;
  if (state.begun && (!state.noneUp() || state.believed.has(state.finalStep))) return null;
  const job = `${state.id}.too_late`;
  const raised = state.moving.length > 1 && state.steps[state.finalStep].verb === "plant_out" && state.path.comesUp;
  const what = `${state.steps[0].verb === "sow" ? "sow" : "plant"} ${plantsWords(state.know, null)}`;
  const work = new Work({
    id: job,
    verb: "decide",
    title: `Too late here this year to ${what}: ${raised ? "buy plants, or let go" : "let go"}`,
    lead: "Too late".length,
    subject: state.varietyName,
    writes: { did: "decide", batch: state.id },
    batch: state.id,
    place: state.final,
    minutes: know.minutes("spare"),
  });
  if (raised) work.ways.push(bought(state));
  work.ways.push(letItGo(job, know));
  work.lower.push([last + 1, `the last day to ${what} here that still pays was ${spoken(last)}`]);
  work.aims.push([last + 1, ""]);
  work.upper.push([last + askedFor(state), "then it is not asked any more"]);
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/** Plants are bought in place of those that were to be raised. @param {BatchState} state */
export function bought(state) {
  return makeWay("buy", "Buy plants", [{ did: "decide", batch: state.id, answer: "buy", count: state.want }]);
}

/** It is not wanted any more. @param {string} job @param {Knowledge} know */
export function letItGo(job, know) {
  const fields = { let_go: true, let_go_on: iso(know.today) };
  return makeWay("let_go", "Let go", [], { changes: [{ kind: "job", id: job, fields }] });
}

/**
 * The day by which all that will come up has come up; null before sowing and for what is not sown.
 * @param {BatchState} state
 * @param {Knowledge} know
 * @returns {number | null}
 */
export function lookBy(state, know) {
  if (state.moving.length < 2 || state.steps[state.moving[1]].verb !== "emerge") return null;
  const sown = state.last[state.moving[0]];
  return sown === null ? null : sown + sownDays(state, sown, know)[2];
}

/**
 * How many plants are missing once the time for coming up is over. 0 while there is hope or nothing to be done.
 * @param {BatchState} state
 * @param {Knowledge} know
 * @returns {number}
 */
export function tooFew(state, know) {
  if (state.moving.slice(2).some((index) => state.moved[index] > 0) || state.frostedOn !== null) return 0;
  if (state.moving.length < 2 || state.first[state.moving[1]] === null || state.believed.has(state.moving[1])) return 0; // nobody looked: nothing is known to have failed
  const by = lookBy(state, know);
  const lastUseful = lastSowingDay(state);
  if (by === null || know.today <= by || (lastUseful !== null && lastUseful < know.today)) return 0;
  const came = state.moved[state.moving[1]];
  if (state.want === null || !state.counted) return came === 0 ? 1 : 0;
  return Math.max(state.want - came, 0);
}

/** Turn a sowing's work into the call to sow again. @param {Work} work @param {BatchState} state @param {Knowledge} know */
export function resowDates(work, state, know) {
  const by = lookBy(state, know);
  const lastUseful = lastSowingDay(state);
  if (by === null) return;
  const came = state.counted ? state.moved[state.moving[1]] : 0;
  const how = came ? `only ${came} up` : "none up";
  work.title = `Sow again ${plantsWords(state.know, null)}: ${how}`;
  work.lead = "Sow again".length;
  if (state.noneUp() && state.moving.length > 2 && state.steps[state.finalStep].verb === "plant_out") {
    work.ways = [bought(state), letItGo(work.id, know)];
  }
  const resow = (know.rulebook.slack || {}).resow ?? 3;
  const sown = state.last[state.moving[0]];
  work.lower.push([by, `sown ${spoken(sown !== null ? sown : by)}, all that will come has come`]);
  work.aims.push([by + resow, "the sooner the better"]);
  if (lastUseful !== null) work.upper.push([lastUseful, "the last useful day to sow"]);
}

/** The id of the call to sow again after the last sowing. @param {BatchState} state @returns {string} */
export function resowId(state) {
  return `${state.id}.resow.${iso(state.last[state.moving[0]] || 0)}`;
}

/**
 * Days to the first, most and all seedlings of what was sown on a day, where it stands.
 * @param {BatchState} state
 * @param {number} sown
 * @param {Knowledge} know
 * @returns {[number, number, number]}
 */
export function sownDays(state, sown, know) {
  const place = state.mainPlace();
  const where = { heatedToC: know.ground.heatedToC(place), cover: know.ground.climate(place) };
  return emergenceDays(state.know.emerge_days || {}, where, sown, know.heat);
}
