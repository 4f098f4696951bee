// @ts-check
/**
 * Catch up: after a time without a word, what is believed of each living batch, as one line that one tap makes true. Everything a
 * line may be answered with is plain diary records (and changes of jobs), marked as about; nothing is forced.
 */
import { believe, ownDays } from "./follow/belief.js";
import { firstWork } from "./follow/lay-out.js";
import { askedFor, lastDayToBegin } from "./follow/left-over.js";
import { makeWay } from "./follow/ways.js";
import { iso, spoken } from "./read/days.js";
import { past, plantsWords } from "./read/words.js";
import { TOLD_FOR_DAYS } from "./said/lapsed.js";
import { Settled } from "./settle.js";

/**
 * @typedef {import("./follow/belief.js").Missed} Missed
 * @typedef {import("./follow/knowledge.js").Knowledge} Knowledge
 * @typedef {import("./read/batch-state.js").BatchState} BatchState
 * @typedef {import("../types.js").CatchUpLine} Line
 */

/** Without a word for longer than this, the Round begins with a slip. */
const SILENT_DAYS = 10;
/** More rows than this past their last day, and it begins so too. */
const SCREEN_ROWS = 8;

/**
 * Whether the Round is to begin so, the day of the last word, and a line for each batch, in walking order.
 * @param {any} rulebook
 * @param {any[]} records
 * @param {string} today
 */
export function catchUp(rulebook, records, today) {
  return catchUpOf(new Settled(rulebook, records, today));
}

/** The same from a list that is kept. @param {Settled} settled @returns {{due: boolean, since: string | null, lines: Line[]}} */
export function catchUpOf(settled) {
  const { know } = settled;
  const last = know.diary.lastWord();
  let late = 0;
  for (const job of settled.jobs()) if ((job.state === "ready" || job.state === "waiting") && (job.leeway || 0) < 0) late += 1;
  /** @type {Line[]} */
  const lines = [];
  for (const id of [...know.states.keys()]) {
    const line = lineOf(id, know);
    if (line !== null) lines.push(line);
  }
  lines.sort((a, b) => inWalkingOrder(a, b, know));
  const silent = last !== null && know.today - last > SILENT_DAYS;
  return { due: lines.length > 0 && (silent || late > SCREEN_ROWS), since: last === null ? null : iso(last), lines };
}

/** @param {Line} a @param {Line} b @param {Knowledge} know @returns {number} */
function inWalkingOrder(a, b, know) {
  return (
    know.ground.walk(a.house) - know.ground.walk(b.house) ||
    inOrder(a.house || "~", b.house || "~") ||
    know.ground.walk(a.place) - know.ground.walk(b.place) ||
    inOrder(a.batch, b.batch)
  );
}

/** @param {string} a @param {string} b @returns {number} */
function inOrder(a, b) {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** @param {string} id @param {Knowledge} know @returns {Line | null} */
function lineOf(id, know) {
  const state = /** @type {BatchState} */ (know.states.get(id));
  if (state.overOn !== null && !state.believed.size) return null;
  if (!state.begun) return notBegun(state, know);
  know.reading.layOver(id, []);
  const found = believe(id, know, false).missed.filter((one) => one.becomes !== "lapses" && one.becomes !== "over");
  const told = /** @type {BatchState} */ (know.states.get(id));
  const longOver = told.overOn !== null && know.today - told.overOn > SILENT_DAYS;
  const line = longOver || !found.some((one) => !one.turn) ? null : begun(told, found, know);
  know.reading.layOver(id, []);
  believe(id, know);
  return line;
}

/** @param {BatchState} state @param {Missed[]} found @param {Knowledge} know @returns {Line} */
function begun(state, found, know) {
  const moved = found.filter((one) => state.moving.includes(one.step));
  const tells = found.map((one) => tell(state, one, know));
  const ways = [makeWay("so", "That's so", tells)];
  const planting = found.some((one) => one.step === state.finalStep && state.steps[one.step].verb === "plant_out");
  if (planting) {
    const still = { still: true, still_on: iso(know.today) };
    const before = tells.filter((_, at) => found[at].step < state.finalStep);
    const job = `${state.id}.${state.steps[state.finalStep].id}`;
    ways.push(makeWay("pots", "Still in pots", before, { changes: [{ kind: "job", id: job, fields: still }] }));
  }
  if (state.path.comesUp && found.some((one) => state.steps[one.step].verb === "emerge")) {
    ways.push(makeWay("none", "None came up", [about({ did: "emerge", batch: state.id, count: 0 }, know)]));
  }
  ways.push(makeWay("gone", "All gone", [about({ did: "lose", batch: state.id }, know)]));
  if (!planting && state.finalStep >= 0 && state.moved[state.finalStep] > 0) {
    ways.push(makeWay("ended", "Ended", [about({ did: "clear", batch: state.id }, know)]));
  }
  return said(state, saysOf(state, found), moved.length ? iso(moved[moved.length - 1].on) : null, ways, know);
}

/** `planted about 6 May, strung, cropping`. @param {BatchState} state @param {Missed[]} found @returns {string} */
function saysOf(state, found) {
  const moved = found.filter((one) => state.moving.includes(one.step));
  const last = moved[moved.length - 1];
  const words = last ? [`${past(state.steps[last.step].verb)} about ${spoken(last.on)}`] : [];
  for (const one of found) {
    const { verb } = state.steps[one.step];
    const word = verb === "pick" ? "cropping" : verb === "clear" ? "over" : past(verb);
    if (verb !== "look" && !state.moving.includes(one.step) && !words.includes(word)) words.push(word);
  }
  return words.join(", ");
}

/** A batch whose time to be begun is past, and not long: was it? @param {BatchState} state @param {Knowledge} know @returns {Line | null} */
function notBegun(state, know) {
  const work = firstWork(state, know);
  if (work === null || work.letGo || know.changes.get(work.id)?.put_off_until) return null;
  const { aim, by } = ownDays(work);
  const last = lastDayToBegin(state, know);
  if (by === null || last === null || by >= know.today || know.today > last + askedFor(state) + TOLD_FOR_DAYS) return null;
  const verb = past(work.verb);
  const on = Math.min(aim, by);
  const fields = { ...work.writes, count: work.count, job: work.id, part: know.diary.part(work.id) + 1, on: iso(on) };
  const letGo = { kind: "job", id: work.id, fields: { let_go: true, let_go_on: iso(know.today) } };
  const ways = [
    makeWay("so", `${verb[0].toUpperCase()}${verb.slice(1)} about then`, [about(fields, know)]),
    makeWay("let_go", "Let go", [], { changes: [letGo] }),
  ];
  return said(state, `to be ${verb} about ${spoken(on)}; nobody said`, iso(on), ways, know);
}

/** @param {BatchState} state @param {Missed} missed @param {Knowledge} know */
function tell(state, missed, know) {
  const found = state.deeds.find(({ deed, step }) => deed.believed && step === missed.step && deed.on === missed.on);
  const { deed } = /** @type {{deed: import("./read/deeds.js").Deed}} */ (found);
  const job = /** @type {string} */ (deed.job);
  return about(
    {
      did: deed.did,
      batch: state.id,
      place: deed.place,
      to_place: deed.toPlace,
      count: deed.count,
      pot_l: deed.potL,
      job,
      part: know.diary.part(job) + 1,
      on: iso(deed.on),
    },
    know,
  );
}

/** A telling marked as about: nobody wrote it down on the day. @param {Record<string, any>} fields @param {Knowledge} know @returns {Record<string, any>} */
function about(fields, know) {
  const told = { on: iso(know.today), ...fields, about: iso(know.today) };
  return Object.fromEntries(Object.entries(told).filter(([, value]) => value !== null));
}

/**
 * @param {BatchState} state
 * @param {string} says
 * @param {string | null} day
 * @param {import("../types.js").Way[]} ways
 * @param {Knowledge} know
 * @returns {Line}
 */
function said(state, says, day, ways, know) {
  const place = state.mainPlace() || state.final;
  return {
    batch: state.id,
    place,
    house: know.ground.house(place),
    title: plantsWords(state.know, state.counted ? state.want : null),
    subject: state.varietyName,
    says,
    about: day,
    ways,
  };
}
