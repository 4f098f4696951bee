// @ts-check
/** Stand: what stands where, and how each batch's season runs, for Ground, Season and the batch pages. */
import { iso } from "./read/days.js";
import { spare } from "./follow/progress.js";
import { lotsOf } from "./follow/store.js";
import { Settled } from "./settle.js";
import { tinOf } from "./follow/tin.js";
import { endsOn, watches } from "./follow/watch.js";

/**
 * @typedef {import("./read/batch-state.js").BatchState} BatchState
 * @typedef {import("./follow/knowledge.js").Knowledge} Knowledge
 * @typedef {import("../types.js").RecordForm} RecordForm
 */

const SPANS = ["raised", "potted", "planted", "picking"];

/**
 * Batches, fixtures, open watches and places as of a day; lists in order of id.
 * @param {any} rulebook
 * @param {RecordForm[]} records
 * @param {string} today
 */
export function stand(rulebook, records, today) {
  return standOf(new Settled(rulebook, records, today));
}

/** The same from a list that is kept. @param {Settled} settled */
export function standOf(settled) {
  const { know } = settled;
  /** @type {Map<string, Map<string, [string, string]>>} */
  const jobs = new Map();
  for (const job of settled.jobs()) {
    if (job.batch === null || job.state === "done" || job.state === "let go") continue;
    let byVerb = jobs.get(job.batch);
    if (byVerb === undefined) jobs.set(job.batch, (byVerb = new Map()));
    if (!byVerb.has(job.verb)) byVerb.set(job.verb, [job.aim, job.by || job.aim]);
  }
  return {
    batches: [...know.states.values()].map((state) => batchOf(state, jobs.get(state.id) || new Map(), know)),
    fixtures: [...know.ground.fixtures.values()].map((fixture) => ({
      id: fixture.id,
      up: fixture.up,
      connected: fixture.connected,
      since: fixture.since === null ? null : iso(fixture.since),
    })),
    watches: watches(know).map((watch) => ({
      id: watch.id,
      found: watch.found,
      batch: watch.batch,
      place: watch.place,
      level: watch.level,
      looks: watch.looks,
      clear: watch.clear.length,
      until: iso(endsOn(watch, know.rulebook.care[watch.found])),
    })),
    tin: [...tinOf(know)].map(([variety, seeds]) => ({ variety, seeds })),
    stores: [...know.states.values()].flatMap((state) =>
      lotsOf(state, know).map((lot) => ({ batch: state.id, place: lot.place, since: iso(lot.since), until: iso(lot.ends), grams: lot.grams, count: lot.count })),
    ),
    places: [...know.ground.places.keys(), ...know.ground.fixtures.keys()].map((id) => placeOf(id, know)),
  };
}

/** @param {string} id @param {Knowledge} know */
function placeOf(id, know) {
  const plants = [];
  for (const state of know.states.values()) {
    if (state.overOn !== null) continue;
    for (const cell of state.sortedCells()) {
      if (cell.where !== id || cell.count <= 0) continue;
      plants.push({ batch: state.id, stage: stageName(state, cell.step), count: state.counted ? cell.count : null });
    }
  }
  return { id, house: know.ground.house(id), path: know.ground.path(id), cover: know.ground.cover(id), plants };
}

/** The stage of plants that have come as far as a step. @param {BatchState} state @param {number} step @returns {string} */
export function stageName(state, step) {
  if (step < 0) return "up";
  if (step === state.finalStep) return "planted";
  return state.steps[step].stage;
}

/** @param {BatchState} state @returns {string} */
function stateOf(state) {
  if (state.overOn !== null) return "over";
  let furthest = -2;
  for (const cell of state.cells.values()) if (cell.count > 0 && cell.step > furthest) furthest = cell.step;
  if (furthest === -2) return "not begun";
  const picking = state.steps.some((step, index) => step.verb === "pick" && state.first[index] !== null);
  if (furthest === state.finalStep && picking) return "cropping";
  return stageName(state, furthest);
}

/** @param {BatchState} state @param {Map<string, [string, string]>} jobs @param {Knowledge} know */
function batchOf(state, jobs, know) {
  return {
    id: state.id,
    name: state.varietyName,
    crop: state.crop,
    variety: state.fields.variety ?? null,
    year: state.year,
    want: state.want,
    for_place: state.final,
    state: stateOf(state),
    sown: state.sown,
    plants: state.counted ? state.live() : null,
    seeds: state.counted ? state.seeds() : null,
    cells: state
      .sortedCells()
      .filter((cell) => cell.count > 0)
      .map((cell) => ({
        stage: stageName(state, cell.step),
        place: cell.where || null,
        count: state.counted ? cell.count : null,
      })),
    spare: spare(state),
    picked_g: state.pickedG,
    picked: state.picked,
    lost: state.lost,
    believed: [...state.believed]
      .filter(([step]) => state.steps[step].stage)
      .sort((a, b) => a[0] - b[0])
      .map(([step, day]) => ({ stage: stageName(state, step), on: iso(day) })),
    over: state.overOn === null ? null : iso(state.overOn),
    stages: spansOf(state, jobs, know),
  };
}

/**
 * Raised, potted, planted and picking spans; real days where there are any, else the days aimed at.
 * @param {BatchState} state
 * @param {Map<string, [string, string]>} jobs
 * @param {Knowledge} know
 */
function spansOf(state, jobs, know) {
  /** @type {{name: string, since: string, real: boolean}[]} */
  const starts = [];
  /** @type {[string, string[]][]} */
  const order = [
    ["raised", ["sow"]],
    ["potted", ["pot_up", "prick_out"]],
    ["planted", ["plant_out"]],
    ["picking", ["pick"]],
  ];
  for (const [span, verbs] of order) {
    const real = state.first.filter((day, index) => day !== null && verbs.includes(state.steps[index].verb));
    const aimed = verbs.filter((verb) => jobs.has(verb)).map((verb) => /** @type {[string, string]} */ (jobs.get(verb))[0]);
    const direct = span === "raised" && state.steps.length > 0 && state.steps[0].where === "final";
    const name = direct ? "planted" : span;
    const told = state.first.some((day, index) => day !== null && !state.believed.has(index) && verbs.includes(state.steps[index].verb));
    if (real.length) {
      starts.push({ name, since: iso(Math.min(.../** @type {number[]} */ (real))), real: told });
    } else if (aimed.length && state.overOn === null) {
      starts.push({ name, since: aimed.sort()[0], real: false });
    }
  }
  /** @type {string | null} */
  let end = null;
  if (state.overOn !== null) end = iso(state.overOn);
  else if (jobs.has("clear")) end = /** @type {[string, string]} */ (jobs.get("clear"))[0];
  else if (jobs.has("pick")) end = /** @type {[string, string]} */ (jobs.get("pick"))[1];
  starts.sort((a, b) => (a.since < b.since ? -1 : a.since > b.since ? 1 : SPANS.indexOf(a.name) - SPANS.indexOf(b.name)));
  const today = iso(know.today);
  return starts.map(({ name, since, real }, index) => {
    const last = end === null ? today : end;
    const until = index + 1 < starts.length ? starts[index + 1].since : last > since ? last : since;
    return { stage: name, from: since, to: until, real: real && since <= today };
  });
}
