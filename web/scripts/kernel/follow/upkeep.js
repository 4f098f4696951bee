// @ts-check
/** Upkeep: the other work that a household chose, place by place. It presses nobody, but for what must be done before frost. */
import { civil, parse, seasonAt, spoken } from "../read/days.js";
import { TENDS } from "../read/diary.js";
import { daysWords } from "../read/words.js";
import { Work } from "../when/work.js";
import { digWork, sowWork } from "./green-manure.js";
import { occurrence, rolled } from "./knowledge.js";
import { seedsShort } from "./seed-order.js";

/** @typedef {import("./knowledge.js").Knowledge} Knowledge */

/** Of a place whose length and width nobody gave. [dm²] Four square metres. */
const USUAL_DM2 = 400;
export const ORDER = "order";
/** What has a last day is asked for so long past it. */
const OVERDUE_DAYS = 35;

/** The rule of a choice; undefined where the rulebook has none. @param {string} id @param {Knowledge} know @returns {any} */
export function ruleOf(id, know) {
  return (know.rulebook.upkeep || {})[know.upkeep.get(id)?.work ?? ""];
}

/**
 * The work of one choice: a record of kind `upkeep`. Nothing where place, fixture or the work itself is not there.
 * @param {string} id
 * @param {Knowledge} know
 * @returns {Work[]}
 */
export function upkeepWork(id, know) {
  const fields = know.upkeep.get(id) || {};
  const rule = ruleOf(id, know);
  const target = fields.place ?? null;
  if (!rule || rule.at.includes("household") !== (target === null) || (target !== null && !know.ground.path(target).length)) return [];
  if (rule.kinds && !know.ground.places.has(target)) return [];
  const work = rule.kinds ? (digWork(id, rule, target, know) ?? sowWork(id, rule, target, know)) : workOf(id, rule, fields, know);
  if (work === null) return [];
  work.minutes += Math.ceil((work.eachM2 * areaDm2(target, know)) / 1000);
  return work.letGo && work.repeat ? [] : [work];
}

/** How large a place is, or is taken to be. [dm²] @param {string | null} target @param {Knowledge} know @returns {number} */
function areaDm2(target, know) {
  return know.ground.places.get(target ?? "")?.areaDm2 ?? USUAL_DM2;
}

/** When it was last told: by its job, or of its place by what was done there. @param {string} id @param {Knowledge} know @returns {number | null} */
export function lastDone(id, know) {
  const verb = ruleOf(id, know)?.verb;
  const here = TENDS.includes(verb) ? know.diary.tended.get(know.upkeep.get(id)?.place ?? "") || [] : [];
  /** @type {number | null} */
  let last = null;
  for (const deed of know.diary.byJob.get(id) || []) if (deed.did === verb && (last === null || deed.on > last)) last = deed.on;
  for (const deed of here) if (deed.did === verb && deed.job === null && (last === null || deed.on > last)) last = deed.on;
  return last;
}

/** @param {string} id @param {any} rule @param {any} fields @param {Knowledge} know @returns {Work} */
function workOf(id, rule, fields, know) {
  const every = fields.every_days || rule.every[civil(know.today)[1] - 1];
  const since = fields.since ? parse(fields.since) : know.today;
  const season = rule.season ?? null;
  let done = lastDone(id, know);
  if (done !== null && season === null) done = rolled(done, every, know.today);
  const [job, last] = occurrence(id, done, know);
  const work = bareWork(job, rule, fields, know);
  work.repeat = every;
  take(work, rule, fields, know);
  const due = last === null ? since : last + every - Math.floor(every / 3);
  const again = last === null ? "chosen as work to be done here" : `done ${spoken(last)}, every ${daysWords(every)}`;
  if (season === null) {
    work.lower.push([due, again]);
    work.aims.push([last === null ? due : last + every, again]);
    return work;
  }
  const [opens, closes] = seasonAt(season, Math.max(due, know.today - (rule.firm ? OVERDUE_DAYS : 0)));
  const words = `its season is ${spoken(opens)} to ${spoken(closes)}`;
  const first = Math.max(due, opens);
  work.lower.push([first, due > opens ? again : words]);
  work.aims.push([first, words]);
  if (rule.firm) work.upper.push([closes, words]);
  return work;
}

/** The work without its days. @param {string} job @param {any} rule @param {any} fields @param {Knowledge} know @returns {Work} */
function bareWork(job, rule, fields, know) {
  const fixture = know.ground.fixtures.get(fields.place ?? "");
  const place = fixture ? fixture.place : (fields.place ?? null);
  const name = know.ground.name(fields.place) || "";
  /** @type {any} */
  const writes = { did: rule.verb };
  if (fixture) writes.fixture = fixture.id;
  if (place !== null) writes.place = place;
  const work = new Work({
    id: job,
    verb: rule.verb,
    title: rule.say.split("{place}").join(name).split("{fixture}").join(name),
    lead: rule.lead,
    subject: name,
    writes,
    place,
    fixture: fixture ? fixture.id : null,
    minutes: rule.minutes[0],
    cautions: rule.cautions.filter((/** @type {string} */ one) => one in (know.rulebook.cautions || {})),
    hint: rule.hint,
    low: !rule.firm,
  });
  work.eachM2 = rule.minutes[1];
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/** What it takes, and what there is to say about it; seed by plan and tin. @param {Work} work @param {any} rule @param {any} fields @param {Knowledge} know */
function take(work, rule, fields, know) {
  work.needs.push(...takenBy(rule, fields, know));
  if (rule.lime) work.notes.push(...limeWords(rule.lime, fields));
  if (rule.verb === ORDER) {
    work.needs.push(...seedsShort(know));
    if (!work.needs.length) work.notes.push("the tin holds all that the plan needs");
  }
  const sized = rule.lime || rule.needs.some((/** @type {any} */ need) => "each" in need);
  const place = know.ground.places.get(fields.place ?? "");
  if (sized && place && place.areaDm2 === null) {
    work.notes.push("taken for 4\u00a0m²: give the place its length and width, and it is worked out");
  }
}

/** What such work takes each time, by the size of the place; lime by soil and test. @param {any} rule @param {any} fields @param {Knowledge} know @returns {{what: string, amount: number, unit: string}[]} */
export function takenBy(rule, fields, know) {
  const area = areaDm2(fields.place ?? null, know);
  const needs = rule.needs.map((/** @type {any} */ need) => ({ what: need.what, amount: need.once ? 1 : Math.ceil((need.each * area) / 1000), unit: need.unit || "" }));
  const each = rule.lime ? limeOf(rule.lime, fields) : 0;
  if (each) needs.push({ what: "ground limestone", amount: Math.ceil((Math.min(each, rule.lime.most_g_m2) * area) / 100), unit: "g" });
  return needs;
}

/**
 * What a soil lacks [g/m²]; nought where it needs none or nobody tested it. Tenths of a unit of pH under the target, by tenths
 * of a tonne a hectare for one: each tonne is 100 g/m².
 * @param {any} rule
 * @param {any} fields
 * @returns {number}
 */
function limeOf(rule, fields) {
  const lacks = (fields.ph_tenths ?? null) === null ? 0 : rule.target_ph - fields.ph_tenths;
  return lacks < rule.worth_ph ? 0 : lacks * rule[fields.soil || "loam"];
}

/** @param {any} rule @param {any} fields @returns {string[]} */
function limeWords(rule, fields) {
  const tested = fields.ph_tenths ?? null;
  if (tested === null) return ["nobody has told how sour it is: test the soil, and the lime is worked out"];
  const sour = `pH\u00a0${tenths(tested)}`;
  const each = limeOf(rule, fields);
  if (!each) return [`at ${sour} it needs none: let it go, and test again next year`];
  const most = rule.most_g_m2;
  const rest = each > most ? [`it lacks ${each}\u00a0g a square metre: ${most}\u00a0g now, and the rest next year`] : [];
  return [...rest, `from ${sour} to ${tenths(rule.target_ph)} on ${fields.soil || "loam"}: ${Math.min(each, most)}\u00a0g a square metre`];
}

/** @param {number} value @returns {string} */
function tenths(value) {
  return `${Math.floor(value / 10)}.${value % 10}`;
}
