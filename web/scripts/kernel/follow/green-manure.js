// @ts-check
/** Green manure: sown where a bed stands empty long enough before the next crop, and dug in before that comes. */
import { sowOn } from "../read/batch-state.js";
import { inSeason, seasonAt, spoken } from "../read/days.js";
import { atClimate } from "../read/turns.js";
import { Work } from "../when/work.js";
import { letSlip } from "./lay-out.js";
import { makeWay } from "./ways.js";

/**
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 */

/** Between two steps whose gap is not told in days: seed that comes up, heat that is gathered. */
const RAISING_DAYS = 14;
/** A bed that nothing is planned for is free for so long. [d] */
const NEVER = 400;
/** What can only be sown so long after the first of them is another choice, later. [d] */
const TOGETHER_DAYS = 42;

/**
 * The day the next crop comes into a place and its family; null while something stands there.
 * @param {string} place
 * @param {Knowledge} know
 * @returns {[number, string | null] | null}
 */
export function freeUntil(place, know) {
  /** @type {[number, string | null]} */
  let next = [know.today + NEVER, null];
  for (const state of know.states.values()) {
    if (state.overOn !== null || !state.steps.length) continue;
    if (state.places().some((/** @type {string} */ where) => know.ground.inside(where, place))) return null;
    if (state.final === null || !know.ground.inside(state.final, place) || letSlip(state, know)) continue;
    const day = goesIn(state, know);
    if (next[1] === null || day < next[0]) next = [day, state.know.family ?? null];
  }
  return next;
}

/** The day on which a batch is likely to come into its ground: by its windows, else by the days between its steps. @param {BatchState} state @param {Knowledge} know @returns {number} */
export function goesIn(state, know) {
  let day = know.today;
  for (const [index, step] of state.steps.entries()) {
    const done = state.last[index];
    const window = atClimate(step.window, state.climate, state.cover);
    const own = index === 0 ? sowOn(state) : null;
    if (done !== null) day = done;
    else if (own !== null) day = own;
    else if (window?.aim) day = inSeason(window.aim, state.year);
    else {
      const link = (step.after || [])[0];
      const gap = link && (link.heat ?? null) === null ? link.aim || link.min : null;
      day += gap ?? RAISING_DAYS;
    }
    if (step.stage && step.where === "final") break;
  }
  return Math.max(day, know.today);
}

/**
 * What may be sown in a bed that stands empty, best first; null where it does not, or nothing would stand long enough.
 * @param {string} id
 * @param {any} rule
 * @param {string} place
 * @param {Knowledge} know
 * @returns {Work | null}
 */
export function sowWork(id, rule, place, know) {
  const free = freeUntil(place, know);
  if (free === null) return null;
  const dig = free[0] - rule.dig.before;
  /** @type {{off: number, kind: any, first: number}[]} */
  let kinds = [];
  for (const kind of rule.kinds) {
    const [opens, closes] = seasonAt(kind.sow, know.today);
    const first = Math.max(opens, know.today);
    const last = Math.min(closes, dig - kind.stands[0]);
    if (first <= last && kind.family !== free[1]) kinds.push({ off: Math.abs(first + kind.stands[1] - dig), kind, first });
  }
  if (!kinds.length) return null;
  const soonest = Math.min(...kinds.map(({ first }) => first));
  kinds = kinds.filter(({ first }) => first <= soonest + TOGETHER_DAYS);
  kinds.sort((a, b) => a.first - b.first || a.off - b.off || (a.kind.name < b.kind.name ? -1 : 1));
  const name = know.ground.name(place) || place;
  const writes = { did: rule.verb, place };
  const area = know.ground.places.get(place)?.areaDm2 ?? null;
  const work = bareWork(id, rule, { manure: "green manure", name, writes });
  work.low = true;
  work.ways = kinds.map(({ kind }) => makeWay(kind.name.split(" ").join("_"), seed(kind, area), [{ ...writes, answer: kind.name }]));
  const until = free[1] !== null ? `free until about ${spoken(free[0])}` : "nothing is planned here";
  work.lower.push([kinds[0].first, until]);
  work.aims.push([kinds[0].first, until]);
  work.letGo = know.letGoOn(id) !== null;
  return work;
}

/** `Phacelia, 8 g`. @param {any} kind @param {number | null} area dm² @returns {string} */
function seed(kind, area) {
  const name = kind.name.slice(0, 1).toUpperCase() + kind.name.slice(1);
  return area === null ? name : `${name}, ${Math.ceil((kind.each * area) / 1000)}\u00a0g`;
}

/**
 * Digging in what was sown: three weeks before the next crop, or when it has stood long enough; null where none stands.
 * @param {string} id
 * @param {any} rule
 * @param {string} place
 * @param {Knowledge} know
 * @returns {Work | null}
 */
export function digWork(id, rule, place, know) {
  const sown = (know.diary.byJob.get(id) || []).filter((deed) => deed.did === rule.verb);
  if (!sown.length) return null;
  const job = `${id}.dig`;
  const last = sown[sown.length - 1];
  const dug = Math.max(...(know.diary.byJob.get(job) || []).map((deed) => deed.on), -Infinity);
  if (dug >= last.on) return null;
  const kind = rule.kinds.find((/** @type {any} */ one) => one.name === last.answer) || rule.kinds[0];
  const name = know.ground.name(place) || place;
  const work = bareWork(job, rule.dig, { manure: kind.name, name, writes: { did: rule.dig.verb, place } });
  const sownWords = `${kind.name} sown ${spoken(last.on)}`;
  /** @type {[number, string]} */
  let by = [last.on + kind.stands[1], `${sownWords}: later it grows woody`];
  const free = freeUntil(place, know);
  if (free !== null && free[1] !== null && free[0] - rule.dig.before < by[0]) {
    by = [free[0] - rule.dig.before, `the next crop comes about ${spoken(free[0])}`];
  }
  work.lower.push([Math.min(last.on + kind.stands[0], by[0]), sownWords]);
  work.aims.push(by);
  work.upper.push(by);
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/** @param {string} job @param {any} said @param {{manure: string, name: string, writes: any}} given */
function bareWork(job, said, { manure, name, writes }) {
  const work = new Work({
    id: job,
    verb: said.verb,
    title: said.say.split("{manure}").join(manure).split("{place}").join(name),
    lead: said.lead,
    subject: name,
    writes,
    place: writes.place,
    minutes: said.minutes[0],
    cautions: [...said.cautions],
    hint: said.hint,
  });
  work.eachM2 = said.minutes[1];
  return work;
}
