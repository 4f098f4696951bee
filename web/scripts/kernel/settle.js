// @ts-check
/**
 * Settle: records and rulebook in, the list of jobs for a day out. Pure; the same in any order of records. A list that is kept
 * takes further records in, and works out again only what hangs together with what they altered.
 */
import { Together, join } from "./follow/join.js";
import { Knowledge } from "./follow/knowledge.js";
import { SORTS, Units } from "./follow/units.js";
import { parse } from "./read/days.js";
import { Reading } from "./read/reading.js";
import { doneToday } from "./said/done.js";
import { lapsedRows } from "./said/lapsed.js";
import { say, walkingKey } from "./said/say.js";
import { backward } from "./when/backward.js";
import { forward, inOrder } from "./when/forward.js";

/**
 * @typedef {import("../types.js").Job} Job
 * @typedef {import("../types.js").RecordForm} RecordForm
 * @typedef {import("./when/work.js").Work} Work
 */

const DONE = "done";
const LAPSED = "lapsed";

/**
 * Every job of a day: open ones, what was let go, and what was done today, sorted for walking.
 * @param {any} rulebook
 * @param {RecordForm[]} records merged records of any kinds
 * @param {string} today `YYYY-MM-DD`
 * @returns {Job[]}
 */
export function settle(rulebook, records, today) {
  return new Settled(rulebook, records, today).jobs();
}

/** The list of a day, kept. What it gives out is its own: whoever changes a job changes a copy. */
export class Settled {
  #reading;
  /** @type {Units} */
  #units;
  /** @type {{key: string, unit: string, job: Job}[]} */
  #rows = [];
  /** @type {Knowledge} */
  know;

  /** @param {any} rulebook @param {RecordForm[]} records @param {string} today */
  constructor(rulebook, records, today) {
    this.#reading = new Reading(rulebook, records, today);
    this.know = new Knowledge(this.#reading);
    this.#units = new Units(this.know);
    this.#work(new Set(this.#units.names()));
  }

  /** Take in records that are new or have changed. @param {RecordForm[]} records */
  take(records) {
    const touched = this.#reading.take(records);
    if (!touched.everything) {
      this.#work(this.#units.together(this.#units.touched(touched)));
      return;
    }
    this.know = new Knowledge(this.#reading);
    this.#units = new Units(this.know);
    this.#rows = [];
    this.#work(new Set(this.#units.names()));
  }

  /** The list, sorted for walking. @returns {Job[]} */
  jobs() {
    return this.#rows.map((row) => row.job);
  }

  /** Work some units out, and put their jobs in the place of those they had. @param {Set<string>} names */
  #work(names) {
    /** @type {Map<string, Work[]>} */
    const made = new Map();
    for (const name of names) made.set(name, this.#units.make(name));
    for (let more = this.#units.together(made.keys()); more.size > made.size; more = this.#units.together(made.keys())) {
      for (const name of more) if (!made.has(name)) made.set(name, this.#units.make(name)); // what came hangs together with more than what went
    }
    const rows = this.#settled(made);
    for (const job of doneToday(this.know)) rows.push({ key: walkingKey(job, this.know), unit: DONE, job });
    for (const job of lapsedRows(this.#units.beliefs, this.know)) rows.push({ key: walkingKey(job, this.know), unit: LAPSED, job });
    rows.sort(byKey);
    const kept = this.#rows.filter((row) => row.unit !== DONE && row.unit !== LAPSED && !made.has(row.unit));
    this.#rows = kept.length ? [...kept, ...rows].sort(byKey) : rows;
  }

  /** The jobs of units that hang together. @param {Map<string, Work[]>} made @returns {{key: string, unit: string, job: Job}[]} */
  #settled(made) {
    const know = this.know;
    /** @type {Work[]} */
    let work = [];
    /** @type {Map<Work, string>} */
    const unitOf = new Map();
    for (const name of [...made.keys()].sort(byUnit)) {
      for (const job of /** @type {Work[]} */ (made.get(name))) {
        work.push(job);
        unitOf.set(job, name);
      }
    }
    this.#change(work);
    const before = this.#units.beforeJoining();
    forward(inOrder(work.filter((job) => before.has(/** @type {string} */ (unitOf.get(job))))), know.heat, know.today);
    const states = [...know.states.values()].filter((state) => made.has(`batch ${state.id}`));
    const fixtures = this.#units.fixtures().filter((fixture) => made.has(`fixture ${fixture.id}`));
    for (const [fixture, extra] of join(new Together(work, states, fixtures), know)) {
      this.#change(extra);
      work = [...work, ...extra];
      for (const job of extra) unitOf.set(job, `fixture ${fixture.id}`);
    }
    const ordered = inOrder(work);
    forward(ordered, know.heat, know.today);
    backward(ordered);
    const byId = new Map(ordered.map((job) => [job.id, job]));
    const rows = [];
    for (const one of ordered) {
      if (one.dropped) continue;
      const job = say(one, byId, know);
      rows.push({ key: walkingKey(job, know), unit: /** @type {string} */ (unitOf.get(one)), job });
    }
    return rows;
  }

  /** What somebody changed of each job by hand, and which part of it a tick would be. @param {Work[]} work */
  #change(work) {
    const { changes, diary } = this.know;
    for (const job of work) {
      const until = changes.get(job.id)?.put_off_until;
      if (until) job.putOff = parse(until);
      job.part = diary.part(job.id) + 1;
    }
  }
}

/** @param {string} a @param {string} b @returns {number} */
function byUnit(a, b) {
  const order = SORTS.indexOf(a.slice(0, a.indexOf(" "))) - SORTS.indexOf(b.slice(0, b.indexOf(" ")));
  return order || (a < b ? -1 : 1);
}

/** @param {{key: string}} a @param {{key: string}} b @returns {number} */
function byKey(a, b) {
  return a.key < b.key ? -1 : a.key > b.key ? 1 : 0;
}
