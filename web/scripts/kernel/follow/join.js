// @ts-check
/** Join: what waits on what between batches: the crop before, the crop beside, and fixtures in the way. */
import { spoken } from "../read/days.js";
import { past, plantsWords } from "../read/words.js";
import { Work, makeLink } from "../when/work.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("../read/ground.js").Fixture} Fixture
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 */

/** A bed is cleared so long before what follows may go in, and no sooner while it still gives. */
const CLEAR_AHEAD_DAYS = 3;
/** A fixture may stand until so many days before it is in the way of anything. */
const TAKE_DOWN_AHEAD_DAYS = 21;

/** Work that hangs together, with its batches and the fixtures in its way, both in order of id. */
export class Together {
  /** @param {Work[]} work @param {BatchState[]} states @param {Fixture[]} fixtures */
  constructor(work, states, fixtures) {
    this.work = work;
    this.states = states;
    this.fixtures = fixtures;
    /** @type {Map<string, Work[]>} */
    this.byBatch = new Map();
    for (const job of work) {
      if (job.batch === null) continue;
      const rows = this.byBatch.get(job.batch);
      if (rows) rows.push(job);
      else this.byBatch.set(job.batch, [job]);
    }
  }

  /** The work of a batch. @param {string} batch @returns {Work[]} */
  of(batch) {
    return this.byBatch.get(batch) || [];
  }
}

/**
 * The taking down that some work calls for, by fixture; links between batches are added to the work itself. The work has been
 * through a forward pass alone, so that it is known from when each fixture is in the way.
 * @param {Together} together
 * @param {Knowledge} know
 * @returns {[Fixture, Work[]][]}
 */
export function join(together, know) {
  for (const state of together.states) {
    const own = together.of(state.id).filter((job) => job.goesIn);
    if (own.length) {
      followCrop(state, own, together, know);
      standBeside(state, own, together, know);
    }
  }
  return together.fixtures.map((fixture) => [fixture, takeDown(fixture, together, know)]);
}

/** @param {BatchState} state @param {Work[]} own @param {Together} together @param {Knowledge} know */
function followCrop(state, own, together, know) {
  const before = know.states.get(state.fields.follows || "");
  if (!before || before.id === state.id || before.overOn !== null) return;
  const final = state.final;
  const stands = final ? before.places().filter((place) => know.ground.inside(place, final)) : [];
  const planted = before.finalStep >= 0 && before.moved[before.finalStep] > 0;
  if (planted && !stands.length) return;
  const clear = together.of(before.id).find((job) => job.verb === "clear");
  const many = plantsWords(before.know, null);
  const name = before.varietyName.includes(many) ? before.varietyName : `${before.varietyName} ${many}`;
  if (clear && clear.hurried.length) {
    const wanted = Math.min(...own.map((job) => job.ownFrom));
    clear.lower = [...clear.hurried, [wanted - CLEAR_AHEAD_DAYS, `${state.varietyName} may go in from ${spoken(wanted)}`]];
  }
  for (const job of own) {
    if (clear) {
      job.links.push(makeLink({ on: clear.id, path: false, text: `${name} cleared` }));
    } else if (stands.length) {
      job.blocks.push({ sort: "batch", id: before.id, text: `${name} still in ${know.ground.name(stands[0])}` });
    }
  }
}

/** @param {BatchState} state @param {Work[]} own @param {Together} together @param {Knowledge} know */
function standBeside(state, own, together, know) {
  const beside = know.states.get(state.fields.near || "");
  if (!beside || beside.id === state.id) return;
  for (const planting of together.of(beside.id)) {
    if (!planting.goesIn) continue;
    const text = `${plantsWords(beside.know, null)} ${past("plant_out")}`;
    for (const job of own) job.links.push(makeLink({ on: planting.id, path: false, text }));
  }
}

/** Fixtures that stand up and are in the way of something, in order of id. @param {Knowledge} know @returns {Fixture[]} */
export function inTheWay(know) {
  return [...know.ground.fixtures.values()].filter((it) => it.up && it.inWayOf.length && it.place !== null);
}

/** Whether a fixture is in the way of some work. @param {Fixture} fixture @param {Work} job @param {Knowledge} know @returns {boolean} */
export function holdsUp(fixture, job, know) {
  return fixture.inWayOf.includes(job.verb) && know.ground.inside(job.place, fixture.place || "");
}

/** Whether plants of a batch stand on a fixture. @param {BatchState} state @param {Fixture} fixture @returns {boolean} */
export function standsOn(state, fixture) {
  if (state.overOn !== null) return false;
  for (const cell of state.cells.values()) if (cell.where === fixture.id && cell.count > 0) return true;
  return false;
}

/**
 * Work to take down a fixture that is in the way, and to move off it what nothing else will.
 * @param {Fixture} fixture
 * @param {Together} together
 * @param {Knowledge} know
 * @returns {Work[]}
 */
function takeDown(fixture, together, know) {
  const heldUp = together.work.filter((job) => holdsUp(fixture, job, know));
  if (!heldUp.length) return [];
  const removal = removalOf(fixture, Math.min(...heldUp.map((job) => job.ownFrom)), know);
  for (const job of heldUp) job.links.push(makeLink({ on: removal.id, path: false, text: `${fixture.name} taken down` }));
  return [removal, ...clearOff(fixture, removal, heldUp, together, know)];
}

/** @param {Fixture} fixture @param {number} wanted @param {Knowledge} know @returns {Work} */
function removalOf(fixture, wanted, know) {
  const job = `${fixture.id}.remove`;
  const removal = new Work({
    id: job,
    verb: "remove",
    title: `Take down ${fixture.name}`,
    lead: "Take down".length,
    subject: fixture.name,
    writes: { did: "remove", fixture: fixture.id, place: fixture.place },
    place: fixture.place,
    fixture: fixture.id,
    minutes: know.minutes("remove"),
  });
  removal.lower.push([wanted - TAKE_DOWN_AHEAD_DAYS, `in the way from ${spoken(wanted)}`]);
  removal.letGo = know.letGoOn(job) !== null;
  return removal;
}

/**
 * Links of a removal to whatever takes the plants off, and work to move those that nothing else will.
 * @param {Fixture} fixture
 * @param {Work} removal
 * @param {Work[]} heldUp
 * @param {Together} together
 * @param {Knowledge} know
 * @returns {Work[]}
 */
function clearOff(fixture, removal, heldUp, together, know) {
  /** @type {Work[]} */
  const moves = [];
  for (const state of together.states) {
    if (!standsOn(state, fixture)) continue;
    let here = 0;
    for (const cell of state.cells.values()) if (cell.where === fixture.id) here += cell.count;
    const many = plantsWords(state.know, null);
    const jobs = together.of(state.id);
    const planting = jobs.filter((job) => job.goesIn && !heldUp.includes(job));
    const leftOver = jobs.filter((job) => job.low && job.place === fixture.id);
    for (const job of planting) {
      if (job.count === 0) continue;
      const text = `${plantsWords(state.know, job.count)} ${past("plant_out")}`;
      removal.links.push(makeLink({ on: job.id, path: false, text }));
    }
    for (const job of leftOver) {
      removal.links.push(makeLink({ on: job.id, path: false, text: `${job.count} spare ${many} moved` }));
    }
    if (!planting.length && !leftOver.length) {
      const move = moveOff(state, fixture, here, know);
      move.lower = [...removal.lower];
      const text = `${plantsWords(state.know, move.count)} moved off`;
      removal.links.push(makeLink({ on: move.id, path: false, text }));
      moves.push(move);
    }
  }
  return moves;
}

/** @param {BatchState} state @param {Fixture} fixture @param {number} here @param {Knowledge} know @returns {Work} */
function moveOff(state, fixture, here, know) {
  const count = state.counted ? here : null;
  const house = know.ground.house(fixture.id);
  const job = `${fixture.id}.off.${state.id}`;
  /** @type {any} */
  const writes = { did: "move", batch: state.id, place: fixture.id };
  if (house !== null) writes.to_place = house;
  const move = new Work({
    id: job,
    verb: "move",
    title: `Move ${plantsWords(state.know, count)} off ${fixture.name}`,
    lead: "Move".length,
    subject: state.varietyName,
    writes,
    batch: state.id,
    place: fixture.id,
    count,
    minutes: know.minutes("move"),
  });
  move.letGo = know.letGoOn(job) !== null;
  return move;
}
