// @ts-check
/**
 * Units: what is laid out by itself, and which units hang together. A unit is a batch, a place with its standing jobs, a watch, a
 * job by hand, a choice of upkeep, the harvest of a batch, or a fixture in the way. Its name is its sort and its id. Whatever changes in one unit alters the list only for
 * those it hangs together with.
 */
import { believe } from "./belief.js";
import { byHand } from "./by-hand.js";
import { holdsUp, inTheWay, standsOn } from "./join.js";
import { layOut } from "./lay-out.js";
import { Rounds, linesIn, standingWork } from "./standing.js";
import { storeWork } from "./store.js";
import { ORDER, lastDone, ruleOf, upkeepWork } from "./upkeep.js";
import { sharers, watchWork, watches } from "./watch.js";

/**
 * @typedef {import("../read/ground.js").Fixture} Fixture
 * @typedef {import("../read/reading.js").Touched} Touched
 * @typedef {import("../when/work.js").Work} Work
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {import("./watch.js").Watch} Watch
 */

/** In the order in which their work is laid out. */
export const SORTS = ["batch", "watch", "place", "hand", "upkeep", "store", "fixture"];

/** The units of a household, kept up with what is told. */
export class Units {
  /** @type {Knowledge} */
  #know;
  /** @type {Map<string, string[]>} */
  #beside = new Map();
  /** @type {Map<string, Set<string>>} */
  #besideOf = new Map();
  /** @type {Map<string, Watch>} */
  #watches = new Map();
  /** @type {Map<string, string[]>} */
  #sharers = new Map();
  /** @type {Map<string, string>} */
  #places = new Map();
  /** @type {Map<string, number | null>} When each choice of upkeep was last done. */
  #upkeep = new Map();
  /** @type {Map<string, Fixture>} */
  #inTheWay;
  /** @type {Rounds} */
  #rounds;
  /** @type {Map<string, Work[]>} Open work of batches as it was laid out when they were believed, until it is asked for. */
  #laid = new Map();
  /** @type {Map<string, Work[]>} Of each unit, as it was made last. */
  work = new Map();
  /** @type {Map<string, import("./belief.js").Missed[]>} What is believed of each batch. */
  beliefs = new Map();

  /** @param {Knowledge} know */
  constructor(know) {
    this.#know = know;
    this.#believe(know.states.keys());
    this.#rounds = new Rounds(know);
    this.#lookAtWatches();
    this.#lookAtPlaces();
    this.#lookAtUpkeep();
    this.#inTheWay = new Map(inTheWay(know).map((fixture) => [fixture.id, fixture]));
  }

  /** @param {Iterable<string>} ids */
  #believe(ids) {
    for (const id of [...ids]) {
      const found = believe(id, this.#know);
      this.beliefs.set(id, found.missed);
      this.#laid.set(id, found.work);
    }
  }

  /** Fixtures in the way of something, in order of id. @returns {Fixture[]} */
  fixtures() {
    return [...this.#inTheWay.values()];
  }

  /** Every unit there is. @returns {string[]} */
  names() {
    const know = this.#know;
    /** @type {string[]} */
    const names = [];
    for (const id of know.states.keys()) names.push(`batch ${id}`);
    for (const id of this.#watches.keys()) names.push(`watch ${id}`);
    for (const id of know.ground.places.keys()) names.push(`place ${id}`);
    for (const [id, fields] of know.changes) if (fields.hand === true) names.push(`hand ${id}`);
    for (const id of know.upkeep.keys()) names.push(`upkeep ${id}`);
    for (const id of know.states.keys()) names.push(`store ${id}`);
    for (const id of this.#inTheWay.keys()) names.push(`fixture ${id}`);
    return names;
  }

  /**
   * The work of a unit, before it is joined with any other; what it hangs together with is noted.
   * @param {string} name
   * @returns {Work[]}
   */
  make(name) {
    const [sort, id] = sortAndId(name);
    const know = this.#know;
    /** @type {Work[]} */
    let work = [];
    const state = sort === "batch" ? know.states.get(id) : undefined;
    const watch = sort === "watch" ? this.#watches.get(id) : undefined;
    if (state) {
      work = this.#laid.get(id) ?? layOut(state, know);
      this.#laid.delete(id);
    }
    else if (watch) work = watchWork(watch, this.#sharers.get(id) || [], know);
    else if (sort === "place" && know.ground.places.has(id)) work = standingWork(id, this.#rounds, know);
    else if (sort === "hand") {
      const job = byHand(id, know);
      if (job !== null) work = [job];
    } else if (sort === "upkeep") work = upkeepWork(id, know);
    else if (sort === "store" && know.states.has(id)) work = storeWork(id, know);
    this.work.set(name, work);
    this.#noteBeside(name, sort, id, work);
    return work;
  }

  /** These units and all that hang together with them. @param {Iterable<string>} names @returns {Set<string>} */
  together(names) {
    const found = new Set(names);
    const ahead = [...found];
    for (let name = ahead.pop(); name !== undefined; name = ahead.pop()) {
      for (const other of [...(this.#beside.get(name) || []), ...(this.#besideOf.get(name) || [])]) {
        if (found.has(other) || !this.#lives(other)) continue;
        found.add(other);
        ahead.push(other);
      }
    }
    return found;
  }

  /** Whether there is such a unit, and work may come of it. @param {string} name @returns {boolean} */
  #lives(name) {
    const [sort, id] = sortAndId(name);
    const know = this.#know;
    const state = sort === "batch" ? know.states.get(id) : undefined;
    if (sort === "batch") return state !== undefined && (state.overOn === null || state.frostLost); // something may come in its place
    if (sort === "hand") return know.changes.get(id)?.hand === true;
    if (sort === "upkeep") return know.upkeep.has(id);
    if (sort === "store") return know.states.has(id);
    if (sort === "watch") return this.#watches.has(id);
    return sort === "fixture" ? this.#inTheWay.has(id) : know.ground.places.has(id);
  }

  /** Units whose own days must be known before they are joined: what a fixture is in the way of, and chains by hand. @returns {Set<string>} */
  beforeJoining() {
    const names = [...this.#inTheWay.keys()].map((id) => `fixture ${id}`);
    for (const [name, beside] of this.#beside) if (beside.length && name.startsWith("hand ")) names.push(name);
    for (const state of this.#know.states.values()) if (state.fields.follows) names.push(`batch ${state.id}`);
    return this.together(names);
  }

  /** The units that look different after some records were read. @param {Touched} touched @returns {Set<string>} */
  touched(touched) {
    const know = this.#know;
    const changed = new Set(touched.batches); // a job let go may end what is believed, and with it where plants stand
    for (const job of touched.jobs) for (const id of heads(job)) if (know.states.has(id)) changed.add(id);
    for (const id of changed) {
      if (!know.states.has(id)) {
        this.beliefs.delete(id);
        continue;
      }
      know.reading.layOver(id, []);
      this.#believe([id]);
    }
    /** @type {Set<string>} */
    const names = new Set();
    for (const id of changed) {
      names.add(`batch ${id}`);
      names.add(`store ${id}`);
      for (const other of this.#besideOf.get(`batch ${id}`) || []) names.add(other); // what follows it, or stands near, whether it is over now or was before
    }
    for (const job of touched.jobs) for (const name of this.#owners(job)) names.add(name);
    for (const [id, fields] of know.changes) if (fields.hand === true && changed.has(fields.batch)) names.add(`hand ${id}`);
    if (touched.found || [...changed].some((id) => this.#bearsOnWatches(id))) {
      for (const id of this.#watches.keys()) names.add(`watch ${id}`);
      this.#lookAtWatches();
      for (const id of this.#watches.keys()) names.add(`watch ${id}`);
    }
    this.#rounds = new Rounds(know);
    for (const name of [...this.#lookAtPlaces(), ...this.#lookAtUpkeep(), ...this.#lookAtFixtures()]) names.add(name);
    if (changed.size) for (const id of know.upkeep.keys()) if (this.#hangsOnBatches(id)) names.add(`upkeep ${id}`);
    return new Set([...names].filter((name) => this.work.has(name) || this.#lives(name)));
  }

  #lookAtWatches() {
    const open = watches(this.#know);
    this.#watches = new Map(open.map((watch) => [watch.id, watch]));
    this.#sharers = sharers(open, this.#know);
  }

  /** Whether something was ever sought on a batch, or it has shared a house with one that is watched, or could have. @param {string} batch @returns {boolean} */
  #bearsOnWatches(batch) {
    if (this.#know.diary.found.some((deed) => deed.batch === batch)) return true;
    const crop = this.#know.states.get(batch)?.crop;
    return [...this.#watches.values()].some(
      (watch) => this.#sharers.get(watch.id)?.includes(batch) || this.#know.rulebook.care[watch.found].hosts.includes(crop),
    );
  }

  /** Names of the places whose rounds are not what they were. @returns {string[]} */
  #lookAtPlaces() {
    /** @type {string[]} */
    const names = [];
    for (const id of this.#know.ground.places.keys()) {
      const rounds = this.#rounds.allOf(id, this.#know);
      if (this.#places.get(id) !== rounds) names.push(`place ${id}`);
      this.#places.set(id, rounds);
    }
    return names;
  }

  /** Names of the choices of upkeep that were done since. @returns {string[]} */
  #lookAtUpkeep() {
    /** @type {string[]} */
    const names = [];
    for (const id of this.#know.upkeep.keys()) {
      const done = lastDone(id, this.#know);
      if (this.#upkeep.get(id) !== done) names.push(`upkeep ${id}`);
      this.#upkeep.set(id, done);
    }
    return names;
  }

  /** Whether a choice of upkeep asks what is to be sown and planted: green manure and the seed order. @param {string} id @returns {boolean} */
  #hangsOnBatches(id) {
    const rule = ruleOf(id, this.#know);
    return Boolean(rule?.kinds) || rule?.verb === ORDER;
  }

  /** Names of the fixtures that have come into the way or gone out of it, and of what they are in the way of. @returns {string[]} */
  #lookAtFixtures() {
    const know = this.#know;
    const now = new Map(inTheWay(know).map((fixture) => [fixture.id, fixture]));
    /** @type {string[]} */
    const names = [];
    for (const fixture of know.ground.fixtures.values()) {
      if (now.has(fixture.id) === this.#inTheWay.has(fixture.id)) continue;
      names.push(`fixture ${fixture.id}`);
      for (const [name, work] of this.work) if (work.some((job) => holdsUp(fixture, job, know))) names.push(name);
      for (const state of know.states.values()) if (standsOn(state, fixture)) names.push(`batch ${state.id}`);
    }
    this.#inTheWay = now;
    return names;
  }

  /** @param {string} name @param {string} sort @param {string} id @param {Work[]} work */
  #noteBeside(name, sort, id, work) {
    const know = this.#know;
    /** @type {string[]} */
    const beside = [];
    const state = sort === "batch" ? know.states.get(id) : undefined;
    if (state?.fields.follows) beside.push(`batch ${state.fields.follows}`);
    if (state?.fields.near) beside.push(`batch ${state.fields.near}`);
    if (sort === "hand") for (const job of [id, ...(know.changes.get(id)?.waits_on || [])]) beside.push(...this.#owners(job));
    const lines = sort === "place" ? linesIn(id, know) : []; // a line in a bed is its house's line too
    for (const line of lines) for (const other of know.ground.path(line.place)) beside.push(`place ${other}`);
    for (const fixture of this.#inTheWay.values()) {
      if (work.some((job) => holdsUp(fixture, job, know)) || (state && standsOn(state, fixture))) beside.push(`fixture ${fixture.id}`);
    }
    const before = this.#beside.get(name);
    if (before) for (const other of before) this.#besideOf.get(other)?.delete(name);
    this.#beside.set(name, beside);
    for (const other of beside) {
      const held = this.#besideOf.get(other);
      if (held) held.add(name);
      else this.#besideOf.set(other, new Set([name]));
    }
  }

  /**
   * Every unit that a job of this id could belong to: ids of jobs begin with those of what they are about.
   * @param {string} job
   * @returns {string[]}
   */
  #owners(job) {
    const ground = this.#know.ground;
    /** @type {string[]} */
    const names = [];
    for (const id of heads(job)) {
      for (const sort of SORTS) names.push(`${sort} ${id}`);
      const fixture = ground.fixtures.get(id);
      if (fixture) for (const place of ground.path(fixture.place)) names.push(`place ${place}`);
    }
    return names;
  }
}

/** Every id that a job's could begin with. @param {string} job @returns {string[]} */
function heads(job) {
  const parts = job.split(".");
  return parts.map((_, at) => parts.slice(0, at + 1).join("."));
}

/** @param {string} name @returns {[string, string]} */
function sortAndId(name) {
  const space = name.indexOf(" ");
  return [name.slice(0, space), name.slice(space + 1)];
}
