// @ts-check
/** Stays: where the plants of each batch stood, stand and will stand, from which day to which, and in what. */
import { NOWHERE } from "../read/batch-state.js";
import { parse } from "../read/days.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {import("../../types.js").Job} Job
 * @typedef {{batch: string, place: string, step: number, since: number, until: number, count: number | null, potMl: number | null,
 *   ground: boolean, told: boolean}} Stay plants of a batch in one place. Days as numbers, until: the first on which they are there no
 *   more; step: how far they have come, the index of the last moving step, -1 for plants that came from nowhere; count: null where
 *   nobody counts; potMl: the pot each stands in; ground: whether they stand in the ground; told: they came there already
 * @typedef {{step: number, where: string, since: number, count: number, potL: number | null}} Since a cell since it last changed
 */

const OPEN = ["ready", "waiting", "early", "later"];
/** What is left over when the others have gone on is given away in so long. Source: our own rule. */
const SPARES_DAYS = 14;
const IN_POTS = ["potted up", "hardening"];
const UNCOUNTED = -1;

/** Every stay, batch by batch in order of id, and of time. @param {Knowledge} know @param {Iterable<Job>} jobs the list of the day @returns {Stay[]} */
export function staysOf(know, jobs) {
  /** @type {Map<string, Map<number, Job>>} */
  const openJobs = new Map();
  for (const job of jobs) {
    const state = know.states.get(job.batch || "");
    if (state === undefined || !OPEN.includes(job.state) || !job.id.startsWith(`${state.id}.`)) continue;
    const step = state.path.byId.get(job.id.slice(state.id.length + 1).split(".")[0]);
    if (step === undefined) continue;
    let own = openJobs.get(state.id);
    if (own === undefined) openJobs.set(state.id, (own = new Map()));
    if (!own.has(step)) own.set(step, job);
  }
  return [...know.states.values()].flatMap((state) => ofBatch(state, openJobs.get(state.id) || new Map(), know));
}

/** @param {BatchState} state @param {Map<number, Job>} jobs @param {Knowledge} know @returns {Stay[]} */
function ofBatch(state, jobs, know) {
  /** @type {Stay[]} */
  const made = [];
  const now = told(state, made, know);
  const tomorrow = know.today + 1; // today stands what stands
  const moves = state.moving.filter((step) => jobs.has(step)).map((step) => {
    const job = /** @type {Job} */ (jobs.get(step));
    return { step, day: Math.max(tomorrow, parse(job.aim)), job };
  });
  const end = endOf(state, jobs, know);
  for (const cell of [...now.values()].sort(byCell)) {
    const following = moves.find(({ step }) => step > cell.step)?.day ?? (cell.step === state.finalStep ? end : know.today + SPARES_DAYS);
    add(made, state, cell, Math.max(following, tomorrow), true);
  }
  let potL = state.potL;
  moves.forEach(({ step, day, job }, at) => {
    if ((state.steps[step].pot_l ?? null) !== null) potL = job.writes.pot_l ?? null;
    const until = at + 1 < moves.length ? moves[at + 1].day : Math.max(end, day + 1);
    const where = job.writes.to_place || job.writes.place || job.place || NOWHERE;
    add(made, state, { step, where, since: day, count: job.count ?? UNCOUNTED, potL }, until, false);
  });
  return made.sort((a, b) => a.since - b.since || a.step - b.step || (a.place < b.place ? -1 : a.place > b.place ? 1 : a.until - b.until));
}

/** @param {{step: number, where: string}} a @param {{step: number, where: string}} b */
function byCell(a, b) {
  return a.step - b.step || (a.where < b.where ? -1 : a.where > b.where ? 1 : 0);
}

/** What the diary says, into `made`; and what stands now. @param {BatchState} state @param {Stay[]} made @param {Knowledge} know @returns {Map<string, Since>} */
function told(state, made, know) {
  /** @type {Map<string, Since>} */
  const standing = new Map();
  for (const [day, then] of know.reading.retold(state.id)) {
    const cells = new Map([...then.cells].filter(([, cell]) => cell.count > 0 && !besideSeedlings(cell, then)));
    for (const [key, cell] of [...standing].sort((a, b) => byCell(a[1], b[1]))) {
      if ((cells.get(key)?.count ?? 0) === cell.count) continue;
      standing.delete(key);
      add(made, state, cell, day, true);
    }
    for (const [key, { step, where, count }] of cells) if (!standing.has(key)) standing.set(key, { step, where, since: day, count, potL: then.potL });
  }
  return standing;
}

/** Whether it is seed that lies on in the tray where the others came up. @param {{step: number, where: string}} cell @param {BatchState} then */
function besideSeedlings({ step, where }, then) {
  return then.isSeed(step) && [...then.cells.values()].some((other) => other.count > 0 && other.where === where && !then.isSeed(other.step));
}

/** @param {Stay[]} made @param {BatchState} state @param {Since} cell @param {number} until @param {boolean} told */
function add(made, state, cell, until, told) {
  const { step, where: place, since } = cell;
  if (place === NOWHERE || until <= since) return;
  const potMl = potMlOf(state, step, cell.potL);
  const ground = potMl === null && (step === state.finalStep || (state.steps.length > 0 && state.steps[0].where === "final"));
  const count = state.counted && cell.count !== UNCOUNTED ? cell.count : null;
  made.push({ batch: state.id, place, step, since, until, count, potMl, ground, told });
}

/** The day the ground is free of them: when they are to be cleared, else when picking is over. @param {BatchState} state @param {Map<number, Job>} jobs @param {Knowledge} know @returns {number} */
function endOf(state, jobs, know) {
  /** @type {Map<string, Job>} */
  const byVerb = new Map();
  for (const [step, job] of [...jobs].sort((a, b) => b[0] - a[0])) byVerb.set(state.steps[step].verb, job);
  const [clear, pick] = [byVerb.get("clear"), byVerb.get("pick")];
  if (clear) return parse(clear.aim);
  return pick ? parse(pick.by || pick.aim) : know.today + SPARES_DAYS;
}

/** The pot of plants that have come so far: their own where it was told, else the last that the path gave them. [ml] @param {BatchState} state @param {number} step @param {number | null} potL @returns {number | null} */
function potMlOf(state, step, potL) {
  if (step < 0 || step >= state.steps.length) return null;
  if (step === state.finalStep) return (state.fields.pot_l ?? null) === null ? null : Math.floor(state.fields.pot_l * 1000 + 0.5);
  if (potL !== null && IN_POTS.includes(state.steps[step].stage)) return Math.floor(potL * 1000 + 0.5);
  for (let index = step; index >= 0; index -= 1) {
    const { stage, pot_l } = state.steps[index];
    if (stage && (pot_l ?? null) !== null) return Math.floor(pot_l * 1000 + 0.5);
  }
  return null;
}
