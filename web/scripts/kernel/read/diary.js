// @ts-check
/** The diary's deeds laid on shelves by what they are about, each shelf in order; one record at a time, or all at once. */
import { deedOf, inOrderOfTelling, readDeeds } from "./deeds.js";

/**
 * @typedef {import("./deeds.js").Deed} Deed
 * @typedef {import("../../types.js").RecordForm} RecordForm
 */

/** Letters of `.YYYY-MM-DD`, which the id of a repeat ends in. */
const TURN_LETTERS = 11;

/** The id of a job without the day that a repeat's id ends in. @param {string} job @returns {string} */
export function stem(job) {
  const turn = job.slice(-TURN_LETTERS);
  return job.length >= TURN_LETTERS && turn[0] === "." && turn[5] === "-" && turn[8] === "-" ? job.slice(0, -TURN_LETTERS) : job;
}

/** What is done to a place as a whole. */
export const TENDS = ["weed", "mulch", "clean", "dress"];

/** Deeds up to a day. */
export class Diary {
  /** @param {RecordForm[]} records @param {number} today */
  constructor(records, today) {
    this.todayIs = today;
    /** @type {Map<string, Deed[]>} */
    this.byBatch = new Map();
    /** @type {Map<string, Deed[]>} */
    this.byFixture = new Map();
    /** @type {Map<string, Deed[]>} By the stem of the job they answered. */
    this.byJob = new Map();
    /** @type {Map<string, Deed[]>} Rounds of a place: nobody sought anything on any one batch. */
    this.looked = new Map();
    /** @type {Map<string, Deed[]>} */
    this.watered = new Map();
    /** @type {Map<string, Deed[]>} Weeded, mulched, cleaned, limed or manured, by the place. */
    this.tended = new Map();
    /** @type {Deed[]} Looks and treatments that name a trouble. */
    this.found = [];
    /** @type {Deed[]} A thermometer's lowest, in a place. */
    this.cold = [];
    /** @type {Deed[]} About none of these. */
    this.other = [];
    /** @type {Deed[]} */
    this.today = [];
    for (const deed of readDeeds(records, today)) this.#lay(deed);
  }

  /**
   * Take one record's old telling away and its new one in. Returns every deed that went or came.
   * @param {RecordForm | null} was
   * @param {RecordForm | null} now
   * @param {Map<string, RecordForm>} records all there are, by id, for what else was told of the same job
   * @returns {Deed[]}
   */
  change(was, now, records) {
    /** @type {Set<Deed>} */
    const gone = new Set();
    for (const record of [was, now]) {
      const alone = record === null ? null : deedOf(record, this.todayIs);
      if (alone !== null) for (const deed of this.#same(alone)) gone.add(deed);
    }
    /** @type {Map<string, any>} */
    const tellings = new Map();
    for (const deed of gone) for (const id of deed.ids) tellings.set(id, records.get(id));
    if (was !== null) tellings.delete(was.id);
    if (now !== null) tellings.set(now.id, now);
    for (const deed of gone) for (const shelf of this.#shelves(deed)) shelf.splice(shelf.indexOf(deed), 1);
    const come = readDeeds([...tellings.values()], this.todayIs);
    for (const deed of come) this.#lay(deed);
    return [...gone, ...come];
  }

  /** How often a job was done in part, as far as this diary knows. @param {string} job @returns {number} */
  part(job) {
    let most = 0;
    for (const deed of this.byJob.get(stem(job)) || []) {
      if (deed.job === job && deed.part !== null && deed.part > most) most = deed.part;
    }
    return most;
  }

  /** The last day on which anything was told, or of which it was. @returns {number | null} */
  lastWord() {
    /** @type {number | null} */
    let last = null;
    const shelves = [this.byBatch, this.byFixture, this.byJob, this.looked, this.watered, this.tended].flatMap((bySubject) => [...bySubject.values()]);
    for (const shelf of [...shelves, this.found, this.cold, this.other]) {
      for (const deed of shelf) {
        const day = Math.max(deed.on, deed.about ?? deed.on);
        if (last === null || day > last) last = day;
      }
    }
    return last;
  }

  /** The deeds that a record by itself tells, or that were told of the same job and part. @param {Deed} alone @returns {Deed[]} */
  #same(alone) {
    const shelves = this.#shelves(alone);
    if (alone.job !== null && alone.part !== null) {
      return /** @type {Deed[]} */ (this.byJob.get(stem(alone.job))).filter((deed) => deed.job === alone.job && deed.part === alone.part);
    }
    return shelves.length ? shelves[0].filter((deed) => deed.ids.includes(alone.ids[0])) : [];
  }

  /** @param {Deed} deed */
  #lay(deed) {
    for (const shelf of this.#shelves(deed)) {
      let at = shelf.length;
      while (at > 0 && inOrderOfTelling(shelf[at - 1], deed) > 0) at -= 1;
      if (at === shelf.length) shelf.push(deed);
      else shelf.splice(at, 0, deed);
    }
  }

  /** Every shelf a deed belongs on. @param {Deed} deed @returns {Deed[][]} */
  #shelves(deed) {
    /** @type {Deed[][]} */
    const shelves = [];
    if (deed.batch !== null) shelves.push(shelfOf(this.byBatch, deed.batch));
    else if (deed.place !== null && deed.did === "look" && deed.found === null && deed.fixture === null) shelves.push(shelfOf(this.looked, deed.place));
    else if (deed.place !== null && deed.did === "water") shelves.push(shelfOf(this.watered, deed.place));
    else if (deed.place !== null && TENDS.includes(deed.did)) shelves.push(shelfOf(this.tended, deed.place));
    if (deed.fixture !== null) shelves.push(shelfOf(this.byFixture, deed.fixture));
    if (deed.job !== null) shelves.push(shelfOf(this.byJob, stem(deed.job)));
    if (deed.found !== null && (deed.did === "look" || deed.did === "treat")) shelves.push(this.found);
    if (deed.tmin !== null && deed.place !== null && deed.did === "measure") shelves.push(this.cold);
    if (!shelves.length) shelves.push(this.other);
    if (deed.on === this.todayIs) shelves.push(this.today);
    return shelves;
  }
}

/** @param {Map<string, Deed[]>} shelves @param {string} name @returns {Deed[]} */
function shelfOf(shelves, name) {
  let shelf = shelves.get(name);
  if (shelf === undefined) shelves.set(name, (shelf = []));
  return shelf;
}
