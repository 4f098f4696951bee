// @ts-check
/** Reading: the records of a household sorted into ground, batches and deeds, and what one more record alters of that. */
import { Beginnings } from "./batch-state.js";
import { parse } from "./days.js";
import { Diary } from "./diary.js";
import { fold, foldFixture } from "./fold.js";
import { frostedOn } from "./frost.js";
import { readGround } from "./ground.js";
import { bare, fieldStamps, visible } from "./merge.js";

/**
 * @typedef {import("../../types.js").RecordForm} RecordForm
 * @typedef {import("./batch-state.js").BatchState} BatchState
 * @typedef {{everything: boolean, batches: Set<string>, fixtures: Set<string>, jobs: Set<string>, found: boolean}} Touched What some
 *   records altered, by id. jobs: answered, or changed by hand; found: whether a trouble was looked for or treated
 */

const KINDS = ["place", "fixture", "variety", "batch", "diary", "job", "upkeep"];
/** Kinds that batches and other places hang on in ways not worth following one by one. */
const ALTERS_ALL = ["place", "fixture", "variety", "upkeep"];
/** Of more records at once than this all is read anew, which takes less long. */
const MOST_ONE_BY_ONE = 200;

/** Records read as of a day. `states` and the ground's places and fixtures are in order of id. */
export class Reading {
  /** @type {import("./ground.js").Ground} */
  ground;
  /** @type {Map<string, any>} A job's fields, by its id. */
  changes;
  /** @type {Map<string, any>} A choice of upkeep, by its id. */
  upkeep;
  /** @type {Map<string, any>} A variety's fields, by its id. */
  varieties;
  /** @type {Map<string, {seeds: number, on: number | null, stamp: string}>} Varieties whose seeds were counted, by id; on: null where nobody said when. */
  counted;
  /** @type {Diary} */
  diary;
  /** @type {Map<string, any>} A batch's fields, by its id. */
  batches;
  /** @type {Beginnings} */
  beginnings;
  /** @type {Map<string, BatchState>} */
  states;

  /** @param {any} rulebook @param {RecordForm[]} records @param {string} today */
  constructor(rulebook, records, today) {
    this.rulebook = bare(rulebook);
    this.today = parse(today);
    /** @type {Map<string, RecordForm>} */
    this.records = new Map();
    for (const record of records) this.records.set(record.id, record);
    this.#readAll();
  }

  /** Take records in that are new or have changed. @param {RecordForm[]} records @returns {Touched} */
  take(records) {
    /** @type {Touched} */
    const touched = { everything: records.length > MOST_ONE_BY_ONE, batches: new Set(), fixtures: new Set(), jobs: new Set(), found: false };
    for (const record of records) {
      const was = this.records.get(record.id) ?? null;
      this.records.set(record.id, record);
      if (!touched.everything) this.#takeOne(was, record, touched);
    }
    if (touched.everything) {
      this.#readAll();
      return touched;
    }
    const came = [...touched.batches].some((id) => !this.states.has(id));
    for (const id of touched.batches) this.#fold(id);
    if (came) {
      const states = [...this.states].sort((a, b) => (a[0] < b[0] ? -1 : 1)); // what came last stands in order of id like the others
      this.states.clear();
      for (const [id, state] of states) this.states.set(id, state);
    }
    for (const id of touched.fixtures) this.#foldFixture(id);
    return touched;
  }

  #readAll() {
    /** @type {Record<string, RecordForm[]>} */
    const byKind = Object.create(null);
    for (const kind of KINDS) byKind[kind] = [];
    for (const record of this.records.values()) {
      const rows = byKind[record.kind];
      if (rows !== undefined && visible(record)) rows.push(record);
    }
    for (const kind of ["place", "fixture", "batch", "job", "upkeep", "variety"]) byKind[kind].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
    this.ground = readGround(byKind.place, byKind.fixture, this.rulebook.houses || {});
    this.changes = fieldsById(byKind.job);
    this.diary = new Diary(byKind.diary, this.today);
    this.batches = fieldsById(byKind.batch);
    this.upkeep = fieldsById(byKind.upkeep);
    this.varieties = fieldsById(byKind.variety);
    this.counted = new Map(byKind.variety.filter(({ fields }) => (fields.seeds ?? null) !== null).map((record) => [record.id, countedOf(record)]));
    this.beginnings = new Beginnings(this.batches, this.varieties, this.rulebook, this.ground);
    this.states = new Map();
    for (const id of this.batches.keys()) this.#fold(id);
    for (const id of this.ground.fixtures.keys()) this.#foldFixture(id);
  }

  /** The year for which seed of a variety was gathered or packed; null where nobody said. @param {string | null} variety @returns {number | null} */
  seedYear(variety) {
    return this.varieties.get(variety ?? "")?.seed_year ?? null;
  }

  /** @param {string} id */
  #foldFixture(id) {
    const fixture = /** @type {import("./ground.js").Fixture} */ (this.ground.fixtures.get(id));
    foldFixture(fixture, this.diary.byFixture.get(id) || []);
  }

  /**
   * Fold a batch anew with deeds that nobody told among its own, each after what was told up to its day.
   * @param {string} id
   * @param {import("./deeds.js").Deed[]} believed
   */
  layOver(id, believed) {
    this.#fold(id, believed);
  }

  /** @param {string} id @param {import("./deeds.js").Deed[]} [believed] */
  #fold(id, believed = []) {
    if (!this.batches.has(id)) {
      this.states.delete(id);
      return;
    }
    const state = this.beginnings.begin(id);
    let deeds = this.diary.byBatch.get(id) || [];
    if (believed.length) deeds = [...deeds, ...believed].sort((a, b) => a.on - b.on || Number(a.believed) - Number(b.believed));
    fold(state, deeds, this.ground, this.today);
    state.frostedOn = frostedOn(state, this.diary.cold, this.ground);
    this.states.set(id, state);
  }

  /** A batch after each of its deeds, told and believed, from the first on: the day, and one state that goes along. @param {string} id @returns {Generator<[number, BatchState]>} */
  *retold(id) {
    const state = this.beginnings.begin(id);
    for (const { deed } of /** @type {BatchState} */ (this.states.get(id)).deeds) {
      fold(state, [deed], this.ground, this.today);
      yield [deed.on, state];
    }
  }

  /** @param {RecordForm | null} was @param {RecordForm} now @param {Touched} touched */
  #takeOne(was, now, touched) {
    const before = was !== null && visible(was) ? was : null;
    const after = visible(now) ? now : null;
    if (ALTERS_ALL.includes(now.kind) || (was !== null && was.kind !== now.kind)) touched.everything = true;
    else if (now.kind === "diary") this.#takeDeeds(this.diary.change(before, after, this.records), touched);
    else if (now.kind === "job") {
      touched.jobs.add(now.id);
      replace(this.changes, now.id, after);
    } else if (now.kind === "batch") {
      touched.batches.add(now.id);
      for (const [other, fields] of this.batches) if (fields.near === now.id) touched.batches.add(other);
      replace(this.batches, now.id, after);
    }
  }

  /** @param {import("./deeds.js").Deed[]} deeds @param {Touched} touched */
  #takeDeeds(deeds, touched) {
    for (const deed of deeds) {
      if (deed.batch !== null && this.batches.has(deed.batch)) touched.batches.add(deed.batch);
      if (deed.fixture !== null && this.ground.fixtures.has(deed.fixture)) touched.fixtures.add(deed.fixture);
      if (deed.job !== null) touched.jobs.add(deed.job);
      if (deed.found !== null) touched.found = true;
      if (deed.did !== "measure" || deed.tmin === null) continue;
      for (const [id, state] of this.states) {
        if (frostedOn(state, this.diary.cold, this.ground) !== state.frostedOn) touched.batches.add(id);
      }
    }
  }
}

/** @param {RecordForm} record */
function countedOf(record) {
  const { seeds, seeds_on: on } = record.fields;
  return { seeds, on: (on ?? null) === null ? null : parse(on), stamp: fieldStamps(record).seeds };
}

/** @param {RecordForm[]} records @returns {Map<string, any>} */
function fieldsById(records) {
  return new Map(records.map((record) => [record.id, record.fields]));
}

/** @param {Map<string, any>} table @param {string} id @param {RecordForm | null} after */
function replace(table, id, after) {
  if (after === null) table.delete(id);
  else table.set(id, after.fields);
}
