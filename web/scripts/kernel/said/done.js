// @ts-check
/** Done: what was ticked today, said as rows that can be undone until midnight. */
import { iso } from "../read/days.js";
import { stem } from "../read/diary.js";
import { ruleOf } from "../follow/upkeep.js";
import { fill, litres, plantsWords } from "../read/words.js";

/**
 * @typedef {import("../read/deeds.js").Deed} Deed
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("../follow/knowledge.js").Knowledge} Knowledge
 * @typedef {import("../../types.js").Job} Job
 */

/** @type {Record<string, string>} */
const SAYINGS = {
  water: "Water {where}",
  connect: "Connect {fixture}",
  remove: "Take down {fixture}",
  install: "Put up {fixture}",
  move: "Move {plants}",
  lose: "Decide on {plants}",
  feed: "Feed {plants}",
  train: "Train {plants}",
  clear: "Clear {plants}",
  pick: "Pick {plants}",
  decide: "Decide on {plants}",
};

/** A row for each deed of today that answered a job: ticked, or jotted for a step of a path. @param {Knowledge} know @returns {Job[]} */
export function doneToday(know) {
  /** @type {Job[]} */
  const rows = [];
  for (const deed of know.diary.today) {
    const state = know.states.get(deed.batch || "");
    const step = state?.deeds.findLast((one) => one.deed === deed)?.step ?? null;
    if (deed.job !== null || step !== null) rows.push(row(deed, step, know));
  }
  return rows;
}

/** @param {Deed} deed @param {number | null} step @param {Knowledge} know @returns {Job} */
function row(deed, step, know) {
  const state = know.states.get(deed.batch || "");
  let said;
  let job;
  if (state && step !== null) {
    said = stepTitle(deed, state, step, know);
    job = deed.job || `${state.id}.${state.steps[step].id}`;
  } else {
    said = otherTitle(deed, state, know);
    job = deed.job || deed.ids[0];
  }
  const place = deed.toPlace || deed.place || null;
  const day = iso(deed.on);
  return {
    id: job,
    verb: deed.did,
    title: said[0],
    lead: said[1],
    subject: state ? state.varietyName : know.ground.name(deed.fixture || place) || "",
    place,
    house: know.ground.house(place),
    batch: deed.batch,
    fixture: deed.fixture,
    count: deed.count,
    from: day,
    aim: day,
    by: day,
    state: "done",
    leeway: 0,
    in_the_way: [],
    why: [],
    minutes: 0,
    needs: [],
    cautions: [],
    part: deed.part || 1,
    repeat: null,
    for: null,
    pinched: null,
    ways: [],
    hint: null,
    writes: {},
    low: false,
    deeds: deed.ids,
    told_by: deed.tellers,
    at: deed.at || null,
  };
}

/** @param {Deed} deed @param {BatchState} state @param {number} index @param {Knowledge} know @returns {[string, number]} */
function stepTitle(deed, state, index, know) {
  const step = state.steps[index];
  const finishing = index === state.finalStep ? (state.fields.pot_l ?? null) : null;
  const say = finishing !== null ? `Stand {plants} in ${litres(finishing)}\u00a0L pots` : step.say;
  const lead = finishing !== null ? "Stand".length : step.lead;
  const seeds = step.verb === "sow" ? deed.count : null;
  return [fill(say, state.know, deed.count, know.ground.name(deed.toPlace || state.final), seeds), lead];
}

/** The sentence of work that a household chose; null for any other. @param {Deed} deed @param {Knowledge} know @returns {[string, number] | null} */
function upkeepTitle(deed, know) {
  const job = stem(deed.job || "");
  const digs = job.endsWith(".dig");
  const rule = ruleOf(digs ? job.slice(0, -".dig".length) : job, know);
  if (!rule) return null;
  const said = digs && rule.dig ? rule.dig : rule;
  const name = know.ground.name(deed.fixture || deed.place) || "";
  const manure = deed.answer || "green manure";
  return [said.say.split("{manure}").join(manure).split("{place}").join(name).split("{fixture}").join(name), said.lead];
}

/** @param {Deed} deed @param {BatchState | undefined} state @param {Knowledge} know @returns {[string, number]} */
function otherTitle(deed, state, know) {
  const plants = state ? plantsWords(state.know, deed.count) : "";
  const where = know.ground.name(deed.toPlace || deed.place) || "";
  const fixture = know.ground.name(deed.fixture) || "";
  const care = (know.rulebook.care || {})[deed.found || ""];
  if (deed.did === "look") {
    if (fixture) return [`Check ${fixture}`, "Check".length];
    if (care) return [`Look for ${care.name} on ${plants || where}`, "Look".length];
    return [`Look over ${plants || where}`, "Look over".length];
  }
  if (deed.did === "treat") return [`Treat ${plants || where}` + (care ? ` for ${care.name}` : ""), "Treat".length];
  const upkeep = upkeepTitle(deed, know);
  if (upkeep !== null) return upkeep;
  if ((deed.did === "note" || deed.did === "decide") && deed.job !== null) {
    for (const job of [deed.job, deed.job.slice(0, -11)]) {
      const title = (know.changes.get(job) || {}).title;
      if (title) return [title, [...title.split(" ")[0]].length];
    }
  }
  const title = (Object.hasOwn(SAYINGS, deed.did) ? SAYINGS[deed.did] : "{plants}{where}")
    .split("{plants}").join(plants)
    .split("{where}").join(where)
    .split("{fixture}").join(fixture)
    .replace(/^[ \t\n\r]+|[ \t\n\r]+$/g, "");
  return title ? [title, [...title.split(" ")[0]].length] : [deed.did, deed.did.length];
}
