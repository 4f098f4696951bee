// @ts-check
/** Lapsed: what was asked for until it was of no use any more, told with its reason for a while, so that nothing goes unsaid. */
import { letSlip } from "../follow/lay-out.js";
import { askedFor, lastDayToBegin } from "../follow/left-over.js";
import { iso, spoken } from "../read/days.js";
import { fill, past, plantsWords } from "../read/words.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("../follow/belief.js").Missed} Missed
 * @typedef {import("../follow/knowledge.js").Knowledge} Knowledge
 * @typedef {import("../../types.js").Job} Job
 */

/** For so long what lapsed is told. */
export const TOLD_FOR_DAYS = 42;

/**
 * A row for each step that lapsed of late: of the same form as a job, in the state `lapsed`.
 * @param {Map<string, Missed[]>} beliefs
 * @param {Knowledge} know
 * @returns {Job[]}
 */
export function lapsedRows(beliefs, know) {
  /** @type {Job[]} */
  const rows = [];
  for (const [id, missed] of beliefs) {
    const state = /** @type {BatchState} */ (know.states.get(id));
    for (const one of missed) {
      if (!one.turn && one.askedUntil + TOLD_FOR_DAYS >= know.today) rows.push(rowOf(state, one.step, one.askedUntil, reasonOf(state, one), know));
    }
    const never = neverBegun(state, know);
    if (never === null) continue;
    const reason = `never begun: too late here for ${plantsWords(state.know, null)} since ${spoken(never - askedFor(state) + 1)}`;
    rows.push(rowOf(state, 0, never, reason, know));
  }
  return rows;
}

/** The last day on which a batch that was never begun was asked about, while that is told. @param {BatchState} state @param {Knowledge} know */
function neverBegun(state, know) {
  const last = lastDayToBegin(state, know);
  if (state.begun || last === null || !state.steps.length || !letSlip(state, know)) return null;
  const until = last + askedFor(state);
  return until + TOLD_FOR_DAYS >= know.today ? until : null;
}

/** @param {BatchState} state @param {Missed} missed @returns {string} */
function reasonOf(state, missed) {
  const until = spoken(missed.askedUntil);
  if (missed.becomes === "over") return `frost on ${spoken(missed.on)}; nobody said what lived, and it is taken as over`;
  if (missed.becomes === "lapses") return `of no use after ${until}; nobody told of it`;
  if (state.closed.has(missed.step)) return `told in part; the rest was not asked for after ${until}`;
  const done = `${past(state.steps[missed.step].verb)} about ${spoken(missed.on)}, by the calendar`;
  return `${done}; nobody told of it, and it was asked for until ${until}`;
}

/**
 * @param {BatchState} state
 * @param {number} index
 * @param {number} until
 * @param {string} reason
 * @param {Knowledge} know
 * @returns {Job}
 */
function rowOf(state, index, until, reason, know) {
  const step = state.steps[index];
  const day = iso(until);
  const place = state.mainPlace() || state.final;
  return {
    id: `${state.id}.${step.id}`,
    verb: step.verb,
    title: fill(step.say, state.know, null, know.ground.name(state.final), null),
    lead: step.lead,
    subject: state.varietyName,
    place,
    house: know.ground.house(place),
    batch: state.id,
    fixture: null,
    count: null,
    from: day,
    aim: day,
    by: day,
    state: "lapsed",
    leeway: until - know.today,
    in_the_way: [],
    why: [reason],
    minutes: 0,
    needs: [],
    cautions: [],
    part: 1,
    repeat: null,
    for: null,
    pinched: null,
    ways: [],
    hint: null,
    writes: {},
    low: true,
  };
}
