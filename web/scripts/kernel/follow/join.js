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

/** A fixture may stand until so many days before it is in the way of anything. */
const TAKE_DOWN_AHEAD_DAYS = 21;

/**
 * The work with its links between batches added, and the taking down that they call for. The work has been through a
 * forward pass alone, so that it is known from when each fixture is in the way.
 * @param {Work[]} work
 * @param {Knowledge} know
 * @returns {Work[]}
 */
export function join(work, know) {
  /** @type {Map<string, Work[]>} */
  const byBatch = new Map();
  for (const job of work) {
    if (job.batch === null) continue;
    const rows = byBatch.get(job.batch);
    if (rows) rows.push(job);
    else byBatch.set(job.batch, [job]);
  }
  for (const state of know.states.values()) {
    const own = (byBatch.get(state.id) || []).filter((job) => job.goesIn);
    if (own.length) {
      followCrop(state, own, byBatch, know);
      standBeside(state, own, byBatch, know);
    }
  }
  return [...work, ...takeDown(work, byBatch, know)];
}

/** @param {BatchState} state @param {Work[]} own @param {Map<string, Work[]>} byBatch @param {Knowledge} know */
function followCrop(state, own, byBatch, know) {
  const before = know.states.get(state.fields.follows || "");
  if (!before || before.id === state.id || before.overOn !== null) return;
  const final = state.final;
  const stands = final ? before.places().filter((place) => know.ground.inside(place, final)) : [];
  const planted = before.finalStep >= 0 && before.moved[before.finalStep] > 0;
  if (planted && !stands.length) return;
  const clear = (byBatch.get(before.id) || []).find((job) => job.verb === "clear");
  const many = plantsWords(before.know, null);
  const name = before.varietyName.includes(many) ? before.varietyName : `${before.varietyName} ${many}`;
  for (const job of own) {
    if (clear) {
      if (clear.hurried.length) clear.lower = clear.hurried;
      job.links.push(makeLink({ on: clear.id, path: false, text: `${name} cleared` }));
    } else if (stands.length) {
      job.blocks.push({ sort: "batch", id: before.id, text: `${name} still in ${know.ground.name(stands[0])}` });
    }
  }
}

/** @param {BatchState} state @param {Work[]} own @param {Map<string, Work[]>} byBatch @param {Knowledge} know */
function standBeside(state, own, byBatch, know) {
  const beside = know.states.get(state.fields.near || "");
  if (!beside || beside.id === state.id) return;
  for (const planting of byBatch.get(beside.id) || []) {
    if (!planting.goesIn) continue;
    const text = `${plantsWords(beside.know, null)} ${past("plant_out")}`;
    for (const job of own) job.links.push(makeLink({ on: planting.id, path: false, text }));
  }
}

/**
 * Work to take down each fixture that is in the way, waiting for what stands on it.
 * @param {Work[]} work
 * @param {Map<string, Work[]>} byBatch
 * @param {Knowledge} know
 * @returns {Work[]}
 */
function takeDown(work, byBatch, know) {
  /** @type {Work[]} */
  const extra = [];
  for (const fixture of know.ground.fixtures.values()) {
    const place = fixture.place;
    if (!fixture.up || !fixture.inWayOf.length || place === null) continue;
    const heldUp = work.filter((job) => fixture.inWayOf.includes(job.verb) && know.ground.inside(job.place, place));
    if (!heldUp.length) continue;
    const removal = removalOf(fixture, Math.min(...heldUp.map((job) => job.ownFrom)), know);
    for (const job of heldUp) {
      job.links.push(makeLink({ on: removal.id, path: false, text: `${fixture.name} taken down` }));
    }
    extra.push(removal, ...clearOff(fixture, removal, heldUp, byBatch, know));
  }
  return extra;
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
 * @param {Map<string, Work[]>} byBatch
 * @param {Knowledge} know
 * @returns {Work[]}
 */
function clearOff(fixture, removal, heldUp, byBatch, know) {
  /** @type {Work[]} */
  const moves = [];
  for (const state of know.states.values()) {
    let here = 0;
    for (const cell of state.cells.values()) if (cell.where === fixture.id) here += cell.count;
    if (here === 0 || state.overOn !== null) continue;
    const many = plantsWords(state.know, null);
    const jobs = byBatch.get(state.id) || [];
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
