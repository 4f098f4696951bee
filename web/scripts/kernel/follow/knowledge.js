// @ts-check
/** Knowledge: what every layer of laying out needs to hand: rulebook, ground, batches, changes to jobs and the day. */
import { iso, parse } from "../read/days.js";
import { Heat } from "../when/heat.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("../read/ground.js").Ground} Ground
 */

/** What every layer of laying out needs to hand. */
export class Knowledge {
  /** @param {import("../read/reading.js").Reading} reading */
  constructor(reading) {
    this.reading = reading;
    this.rulebook = reading.rulebook;
    this.ground = reading.ground;
    this.states = reading.states;
    this.diary = reading.diary;
    /** Fields of `job` records by id: put off, let go, whom it is for. */
    this.changes = reading.changes;
    /** Work chosen beside that of plants: fields of `upkeep` records by id. */
    this.upkeep = reading.upkeep;
    this.today = reading.today;
    this.heat = new Heat(this.rulebook);
    this.standing = this.rulebook.standing || {};
    this.raising = raisingPlace(this.ground);
  }

  /** The day a job was let go; null if it was not. @param {string} job @returns {number | null} */
  letGoOn(job) {
    const fields = this.changes.get(job);
    if (fields === undefined || fields.let_go !== true) return null;
    return fields.let_go_on ? parse(fields.let_go_on) : this.today;
  }

  /** Minutes of a standing job. @param {string} name @returns {number} */
  minutes(name) {
    return (this.standing.minutes || {})[name] ?? 5;
  }
}

/**
 * Days before and after a household's own sowing day within which it is still that sowing.
 * @param {Knowledge} know
 * @returns {number[]}
 */
export function slack(know) {
  return (know.rulebook.slack || {}).sow_on || [7, 14];
}

/**
 * The last day of a round that nobody told of lately: had it gone on in time each turn, so that none is long past.
 * @param {number} last
 * @param {number} every
 * @param {number} today
 * @returns {number}
 */
export function rolled(last, every, today) {
  const turns = Math.ceil((today - every - Math.floor(every / 2) - last) / every);
  return last + Math.max(0, turns) * every;
}

/**
 * The id of the next turn of something that repeats, and the day the last one was done or let go.
 * @param {string} prefix
 * @param {number | null} last
 * @param {Knowledge} know
 * @returns {[string, number | null]}
 */
export function occurrence(prefix, last, know) {
  let since = last;
  for (;;) {
    const job = since === null ? prefix : `${prefix}.${iso(since)}`;
    const letGo = know.letGoOn(job);
    if (letGo === null || letGo >= know.today || (since !== null && letGo <= since)) return [job, since];
    since = letGo;
  }
}

/**
 * Where seed is raised when nobody has said: the first propagator, else bench, else shelf, in walking order.
 * @param {Ground} ground
 * @returns {string | null}
 */
export function raisingPlace(ground) {
  for (const sort of ["propagator", "bench", "shelf"]) {
    /** @type {import("../read/ground.js").Place | null} */
    let best = null;
    for (const place of ground.places.values()) {
      if (place.sort !== sort) continue;
      if (best === null) {
        best = place;
        continue;
      }
      const order = ground.walk(place.house) - ground.walk(best.house) || place.walk - best.walk;
      if (order < 0 || (order === 0 && place.id < best.id)) best = place;
    }
    if (best !== null) return best.id;
  }
  return null;
}
