// @ts-check
/** After a frost: what it did is asked, not known; then what to do while there is time. */
import { iso, spoken } from "../read/days.js";
import { FROST } from "../read/fold.js";
import { plantsWords } from "../read/words.js";
import { gap } from "../when/gaps.js";
import { Work, makeLink } from "../when/work.js";
import { bought, lastSowingDay, letItGo } from "./left-over.js";
import { makeWay } from "./ways.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 */

/** After so many days what was cut back shows whether it comes again. */
const LOOK_AGAIN_DAYS = [5, 7, 14];
/** For so long after a loss it is asked what comes in its place. */
const REPLACE_DAYS = 21;

/** Whether a frost has come that ends its kind. @param {BatchState} state @returns {boolean} */
export function endedByFrost(state) {
  return state.frostedOn !== null && (state.know.frost_does ?? "kills") === "kills";
}

/** Whether anything can have been picked before the frost: told, or due by then. @param {BatchState} state @param {Knowledge} know @returns {boolean} */
function hasBorne(state, know) {
  const planted = state.finalStep >= 0 ? state.first[state.finalStep] : null;
  for (let index = 0; index < state.steps.length; index += 1) {
    const step = state.steps[index];
    if (step.verb !== "pick") continue;
    if (state.first[index] !== null || state.picked > 0) return true;
    for (const link of step.after || []) {
      const on = state.path.byId.get(link.step);
      const since = on === state.finalStep ? planted : on !== undefined ? state.first[on] : null;
      if (since === null || state.frostedOn === null) continue;
      const series = link.heat ? `${state.climate}|${link.heat}` : null;
      return gap(makeLink({ on: "", min: link.min || 0, heat: series }), since, know.heat)[0] <= state.frostedOn;
    }
  }
  return false;
}

/** The question after a frost; null where none is open. @param {BatchState} state @param {Knowledge} know @returns {Work | null} */
export function frostWork(state, know) {
  const on = state.frostedOn;
  if (on === null) return null;
  const many = plantsWords(state.know, null);
  const does = state.know.frost_does ?? "kills";
  if (does === "kills" && hasBorne(state, know)) return null;
  const place = state.mainPlace({ atLeast: state.finalStep }) || state.final;
  const where = know.ground.name(place);
  const job = `${state.id}.frost.${iso(on)}`;
  const kills = does === "kills";
  const title = kills
    ? `Are the ${many} dead?`
    : does === "cuts back"
      ? `Look whether the ${many} come again`
      : `Look into the flowers of the ${many}`;
  /** @type {any} */
  const writes = { did: "look", batch: state.id };
  if (place !== null) writes.place = place;
  const work = new Work({
    id: job,
    verb: kills ? "decide" : "look",
    title,
    lead: (kills ? "Are" : "Look").length,
    subject: state.varietyName,
    writes,
    batch: state.id,
    place,
    minutes: know.minutes("look"),
  });
  const why = [`frost on ${spoken(on)}`, where].filter(Boolean).join(", ");
  const [first, aim, last] = kills ? [0, 0, 3] : LOOK_AGAIN_DAYS;
  work.lower.push([on + first, why]);
  work.aims.push([on + aim, why]);
  work.upper.push([on + last, why]);
  if (kills) askIfDead(work, state, place, know);
  else if (does === "cuts back") {
    work.hint = "Frost blackens the tops, and they come again from below. Earth up, and cover the tips on frosty nights.";
  } else work.hint = "Those black in the middle bear nothing; later ones will. Cover them on frosty nights.";
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/** @param {Work} work @param {BatchState} state @param {string | null} place @param {Knowledge} know */
function askIfDead(work, state, place, know) {
  const standing = state.counted ? state.live({ atLeast: state.finalStep }) : null;
  /** @type {any} */
  const lost = { did: "lose", batch: state.id, answer: FROST };
  if (place !== null) lost.place = place;
  work.ways = [
    makeWay("dead", "All dead", [standing === null ? lost : { ...lost, count: standing }]),
    makeWay("alive", "They live", [{ did: "decide", batch: state.id, answer: "alive" }]),
  ];
  if (standing !== null && standing > 1) work.ways.splice(1, 0, makeWay("some", "Some are dead", [lost], { asks: "count" }));
  const spares = state.counted ? state.live({ below: state.finalStep }) : 0;
  if (spares > 0) work.notes.push(`${spares} spare stand ready to be planted in their place`);
  const last = lastSowingDay(state);
  if (last !== null && last >= know.today && state.steps[0].verb === "sow") {
    work.notes.push(`sown again until ${spoken(last)} they still pay here`);
  } else if (state.path.comesUp) work.notes.push("too late here to sow again: buy plants, or let go");
}

/**
 * What comes in the place of what was lost to frost, for a while: sow again where that still pays, else buy.
 * @param {BatchState} state
 * @param {Work} again
 * @param {Knowledge} know
 * @returns {Work | null}
 */
export function inPlaceOfLost(state, again, know) {
  const over = state.overOn;
  if (!state.frostLost || over === null || know.today > over + REPLACE_DAYS) return null;
  const last = lastSowingDay(state);
  const many = plantsWords(state.know, null);
  again.letGo = know.letGoOn(again.id) !== null;
  again.ways = state.steps[state.finalStep].verb === "plant_out" ? [bought(state), letItGo(again.id, know)] : [letItGo(again.id, know)];
  const pays = last !== null && last >= know.today && state.steps[0].verb === "sow";
  again.title = pays ? `Sow again ${many}: lost to frost` : `Lost to frost: buy ${many}, or let go`;
  again.lead = (pays ? "Sow again" : "Lost to frost").length;
  if (!pays) {
    again.verb = "decide";
    again.writes = { did: "decide", batch: state.id };
  }
  again.lower.push([over, `lost to frost, ${spoken(over)}`]);
  again.aims.push([over, "the sooner the better"]);
  again.upper.push([pays && last !== null ? Math.min(last, over + REPLACE_DAYS) : over + REPLACE_DAYS, "the last useful day"]);
  return again;
}
