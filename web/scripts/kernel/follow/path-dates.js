// @ts-check
/** Path dates: when each step of a batch's path may, should and must be done, by its own window and by what it follows. */
import { sowOn } from "../read/batch-state.js";
import { inSeason, spoken } from "../read/days.js";
import { past } from "../read/words.js";
import { gap, gapWords, heatBand, readSooner } from "../when/gaps.js";
import { makeLink } from "../when/work.js";
import { slack } from "./knowledge.js";
import { atClimate } from "../read/turns.js";
import { passedOn, progress } from "./progress.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {import("./progress.js").Progress} Progress
 * @typedef {import("../when/work.js").Link} Link
 * @typedef {import("../when/work.js").Work} Work
 * @typedef {{standings: Progress[], ends: (number | null)[]}} Earlier how each step stands, and the last day of those that repeat
 */

/** What follows something repeated is not asked for until so shortly before its end, unless somebody waits for it. */
const NEAR_END_DAYS = 10;
/** Said of what is begun though it will hardly come to a picking, by the reason. @type {Record<string, string>} */
export const UNFIT = {
  short: "in a usual year the season here is too short for it to ripen: more cover, an earlier variety, bought plants, or pick green",
  hot: "in a usual year it is too hot here for it to do well: shade, a variety that stands heat, or another crop",
  days: "in a usual year days here are too short for it to make bulbs: take short-day sets or seed, begun in autumn",
  cold: "in a usual winter it is killed here before it can be picked: more cover, a hardier variety, or plants bought in spring",
  winter: "in a usual winter it is killed here: more cover, a hardier kind, or a pot that is brought in",
  mild: "in a usual winter it is too mild here for it to flower well: take a kind that needs little cold",
  cool: "in a usual year summers here are too cool to ripen it: a wall in the sun, or glass",
};

/** @param {Work} work @param {BatchState} state @param {number} index @param {Knowledge} know */
export function ownDates(work, state, index, know) {
  const step = state.steps[index];
  const own = index === 0 ? sowOn(state) : null;
  if (own !== null) {
    const [before, after] = slack(know);
    const chosen = `your own day, ${spoken(own)}`;
    work.lower.push([own - before, chosen]);
    work.aims.push([own, chosen]);
    work.upper.push([own + after, chosen]);
  } else {
    const window = atClimate(step.window, state.climate, state.cover);
    if (window) {
      const why = window.why || "the calendar";
      if (window.from) work.lower.push([inSeason(window.from, state.year), why]);
      if (window.aim) work.aims.push([inSeason(window.aim, state.year), why]);
      if (window.by) work.upper.push([inSeason(window.by, state.year), why]);
      lastUsefulDay(work, window, state, know);
    }
  }
  const gate = step.gate ?? null;
  if (gate === null) return;
  const heated = know.ground.heatedToC(state.final);
  if (heated !== null && heated >= gate.night_c) {
    work.notes.push(`kept at ${heated}\u00a0°C, so no waiting for warm nights`);
    return;
  }
  const opens = atClimate(gate.at, state.climate, state.cover);
  if (opens) {
    work.gate = [inSeason(opens, state.year), gate.text];
    work.gateId = `${step.id}.${state.cover}`;
  }
  const sure = (gate.sure || {})[state.climate];
  if (sure) work.notes.push(`nine nights in ten stay above ${gate.least_c}\u00a0°C from ${spoken(inSeason(sure, state.year))}`);
  const says = (know.rulebook.house_says || {})[state.climate];
  if (says) work.notes.push(says);
}

/**
 * What is done once has its last day too; and decisions that it is to be made by are bound to it.
 * @param {Work} work
 * @param {BatchState} state
 * @param {number} index
 * @param {(number | null)[]} ends
 */
export function endsBefore(work, state, index, ends) {
  const step = state.steps[index];
  const ended = ends[index];
  if (step.until && (step.every ?? null) === null && ended !== null && work.missed[0] === "lapses") {
    work.lastUseful = ended; // of use as long as what it keeps off is about
    return;
  }
  if (step.until && (step.every ?? null) === null && ended !== null) {
    if (work.firstPicking) work.notAfter = ended; // what will not ripen in time is not hurried for
    work.aims = work.aims.map(([day, why]) => [Math.min(day, ended), why]);
    work.upper.push([ended, `in by ${spoken(ended)}`]);
  }
  state.steps.slice(0, index).forEach((other, earlier) => {
    if ((other.before ?? null) !== step.id || !progress(state, earlier).open) return;
    work.links.push(makeLink({ on: `${state.id}.${other.id}`, path: false, soft: true }));
  });
}

/**
 * Past its own last day work may still pay: that day is told, and until then it is asked for.
 * @param {Work} work
 * @param {any} window
 * @param {BatchState} state
 * @param {Knowledge} know
 */
function lastUsefulDay(work, window, state, know) {
  if (window.unfit) work.notes.push(UNFIT[window.unfit]);
  if (!window.last) return;
  const last = inSeason(window.last, state.year);
  work.lastUseful = last;
  const by = window.by ? inSeason(window.by, state.year) : last;
  if (by < know.today && know.today <= last) {
    work.notes.push(`last day to ${work.verb === "sow" ? "sow" : "plant"} here that still pays: ${spoken(last)}`);
  }
}

/**
 * @param {Work} work
 * @param {BatchState} state
 * @param {number} index
 * @param {Earlier} earlier
 * @param {Knowledge} know
 */
export function pathDates(work, state, index, earlier, know) {
  const { byId, before } = state.path;
  const last = before[index];
  let links = (state.steps[index].after || []).filter((/** @type {any} */ link) => byId.has(link.step));
  if (!links.length && last !== null) links = [{ step: state.steps[last].id, min: 0, aim: null, max: null }];
  for (const link of links) {
    if (/** @type {number} */ (byId.get(link.step)) < index) {
      follow(work, state, { ...link, keeps: state.steps[index].keeps ?? null }, earlier, know);
    }
  }
}

/**
 * Dates that come from an earlier step: from the day it was done, or through a link while it is open.
 * @param {Work} work
 * @param {BatchState} state
 * @param {any} link
 * @param {Earlier} earlier
 * @param {Knowledge} know
 */
function follow(work, state, link, earlier, know) {
  const on = /** @type {number} */ (state.path.byId.get(link.step));
  const step = state.steps[on];
  const stands = earlier.standings[on];
  const joined = linkTo(state, link, on, know);
  const letGo = know.letGoOn(joined.on);
  if ((step.every ?? null) !== null) {
    followRepeat(work, state, joined, { on, ends: earlier.ends[on] }, know);
  } else if (stands.since !== null || letGo !== null) {
    const since = stands.since !== null ? stands.since : letGo || know.today;
    bound(work, joined, since, doneWords(state, on, since), know);
  } else if (stands.open) {
    work.links.push(joined);
  } else {
    const passed = passedOn(state, on);
    if (passed !== null) bound(work, joined, passed, `${past(step.verb)} by ${spoken(passed)}`, know);
  }
}

/** `up 3 May`, or that nobody told of it. @param {BatchState} state @param {number} on @param {number} since @returns {string} */
function doneWords(state, on, since) {
  const done = past(state.steps[on].verb);
  return state.believed.has(on) ? `${done} about ${spoken(since)}, by the calendar` : `${done} ${spoken(since)}`;
}

/**
 * What comes after something repeated counts from its end; it may be done from the last time on.
 * @param {Work} work
 * @param {BatchState} state
 * @param {Link} link
 * @param {{on: number, ends: number | null}} repeated
 * @param {Knowledge} know
 */
function followRepeat(work, state, link, { on, ends }, know) {
  const step = state.steps[on];
  const last = state.last[on];
  if (last === null && (ends === null || know.today <= ends)) {
    const span = step.span ?? null;
    if (span !== null && ends !== null) link.latest = [ends + (link.aim || 0), ends + (link.max || link.aim || 0)]; // whichever end comes first ends it
    if (span !== null && link.aim !== null) {
      link.aim += span;
      link.max = link.max === null ? null : link.max + span;
    }
    if (span === null && ends !== null) {
      atTheEnd(work, link, step, ends);
      link.aim = link.max = null;
    }
    work.links.push(link);
    return;
  }
  const done = last !== null ? last : ends || know.today;
  /** @type {import("../when/work.js").Bound} */
  const soonest = [done + link.min, `${past(step.verb)} ${spoken(done)}`];
  work.hurried.push(soonest);
  if (ends === null || ends - NEAR_END_DAYS <= soonest[0]) work.lower.push(soonest);
  else work.lower.push([ends - NEAR_END_DAYS, `${past(step.verb)} until about ${spoken(ends)}`]);
  if (ends !== null) atTheEnd(work, link, step, ends);
}

/** @param {Work} work @param {Link} link @param {any} step @param {number} ends */
function atTheEnd(work, link, step, ends) {
  const ending = `${past(step.verb)} until ${spoken(ends)}`;
  work.aims.push([ends + (link.aim || 0), ending]);
  if (link.max !== null) work.upper.push([ends + link.max, ending]);
}

/** @param {BatchState} state @param {any} link @param {number} on @param {Knowledge} know @returns {Link} */
function linkTo(state, link, on, know) {
  let place = state.mainPlace({ below: on + 1 }) || know.raising || state.final;
  if (state.steps[0].where === "final") place = state.mainPlace() || state.final;
  return makeLink({
    on: `${state.id}.${state.steps[on].id}`,
    min: link.min || 0,
    aim: link.aim ?? null,
    max: link.max ?? null,
    heat: link.heat ? `${state.climate}|${link.heat}` : null,
    emergence: link.emergence ? state.know.emerge_days || {} : null,
    cover: know.ground.climate(place),
    heatedToC: know.ground.heatedToC(place),
    text: past(state.steps[on].verb),
    why: link.why || "",
    keeps: link.keeps,
    least: link.least || 0,
  });
}

/** @param {Work} work @param {Link} link @param {number} since @param {string} done @param {Knowledge} know */
function bound(work, link, since, done, know) {
  const days = gap(link, since, know.heat);
  const sooner = readSooner(link, since, days, know.heat);
  [work.lower, work.aims, work.upper].forEach((bounds, at) => {
    const day = days[at];
    if (day !== null) bounds.push([day, gapWords(link, done, day - since, sooner[at])]);
  });
  const band = heatBand(link, since, days[1], know.today, know.heat);
  if (band !== null) work.notes.push(`most likely between ${spoken(band[0])} and ${spoken(band[1])}, four years in five`);
}
