// @ts-check
/** Lay out: the open steps of a batch as work, with the bounds and links its path gives them. */
import { inSeason, spoken, yearOf } from "../read/days.js";
import { sowOn } from "../read/batch-state.js";
import { gap, gapWords, heatBand, readSooner } from "../when/gaps.js";
import { atClimate, occurrence, slack } from "./knowledge.js";
import { lastSowingDay, lookBy, resowDates, resowId, spareWork, tooFew } from "./left-over.js";
import { needsOf } from "./needs.js";
import { passedOn, progress, spare } from "./progress.js";
import { daysWords, fill, litres, past } from "../read/words.js";
import { Work, makeLink } from "../when/work.js";

/**
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {import("./progress.js").Progress} Progress
 * @typedef {import("../when/work.js").Link} Link
 * @typedef {{standings: Progress[], ends: (number | null)[]}} Earlier how each step stands, and the last day of those that repeat
 */

/** A batch not begun so long after its last sowing day is no longer asked for. */
const LET_SLIP_DAYS = 90;
/** What follows something repeated is not asked for until so shortly before its end, unless somebody waits for it. */
const NEAR_END_DAYS = 10;

/**
 * Whether a batch was never begun, and its day is so long gone that nobody is asked for it any more.
 * @param {BatchState} state @param {Knowledge} know @returns {boolean}
 */
export function letSlip(state, know) {
  if (state.begun) return false;
  const own = sowOn(state);
  const by = own !== null ? own + slack(know)[1] : lastSowingDay(state);
  if (by === null) return state.year < yearOf(know.today) - 1;
  return by + LET_SLIP_DAYS < know.today;
}

/** The open work of a batch, and one quiet job for plants left over. @param {BatchState} state @param {Knowledge} know @returns {Work[]} */
export function layOut(state, know) {
  if (!state.steps.length || state.overOn !== null || letSlip(state, know)) return [];
  const standings = state.steps.map((_, index) => progress(state, index));
  const ends = state.steps.map((_, index) => endsOn(state, index));
  /** @type {Work[]} */
  const work = [];
  state.steps.forEach((step, index) => {
    if (state.frostedOn !== null && step.verb !== "pick" && step.verb !== "clear") return;
    const job = stepWork(state, index, standings, ends, know);
    if (job !== null) work.push(job);
  });
  const leftOver = spare(state);
  if (leftOver > 0) work.push(spareWork(state, leftOver, know));
  const missing = tooFew(state, know);
  if (missing > 0) {
    const count = state.counted && state.want !== null ? missing : null;
    const again = bare(state, state.moving[0], resowId(state), count, know);
    resowDates(again, state, know);
    again.letGo = know.letGoOn(again.id) !== null;
    work.push(again);
  }
  return work;
}

/** The last day of a repeating step, as far as it is known. @param {BatchState} state @param {number} index */
function endsOn(state, index) {
  const step = state.steps[index];
  /** @type {number[]} */
  const days = [];
  if (step.until) days.push(inSeason(step.until, state.year));
  const first = state.first[index];
  if ((step.span ?? null) !== null && first !== null) days.push(first + step.span);
  return days.length ? Math.min(...days) : null;
}

/**
 * @param {BatchState} state
 * @param {number} index
 * @param {Progress[]} standings
 * @param {(number | null)[]} ends
 * @param {Knowledge} know
 * @returns {Work | null}
 */
function stepWork(state, index, standings, ends, know) {
  const step = state.steps[index];
  const stands = standings[index];
  const every = step.every ?? null;
  const prefix = `${state.id}.${step.id}`;
  if (!stands.open) return null;
  let job = prefix;
  /** @type {number | null} */
  let last = null;
  if (every !== null) {
    const end = ends[index];
    if (end !== null && know.today > end) return null;
    [job, last] = occurrence(prefix, state.last[index], know);
  }
  if (step.verb === "emerge" && pastHope(state, index, know)) return null;
  const work = bare(state, index, job, stands.count, know);
  work.letGo = know.letGoOn(job) !== null;
  work.repeat = every;
  work.notAfter = every !== null ? ends[index] : null;
  work.season = step.season ?? null;
  if (last !== null && every !== null) {
    const again = `${past(step.verb)} ${spoken(last)}, every ${daysWords(every)}`;
    work.lower.push([last + every - Math.floor(every / 3), again]);
    work.aims.push([last + every, again]);
    work.upper.push([last + every + Math.floor(every / 2), again]);
  } else {
    if (step.verb === "emerge") resowNote(work, state, know);
    ownDates(work, state, index, know);
    pathDates(work, state, index, { standings, ends }, know);
  }
  if (state.frostedOn !== null) {
    const frost = `frost on ${spoken(state.frostedOn)}: pick what is left and clear`;
    work.lower = [[state.frostedOn, frost]];
    work.aims = [[state.frostedOn + (step.verb === "clear" ? 1 : 0), frost]];
    work.upper = [[state.frostedOn + 3, frost]];
    work.gate = null;
    work.season = null;
  }
  return work;
}

/** Some came up, and the time for more is over. @param {BatchState} state @param {number} index @param {Knowledge} know */
function pastHope(state, index, know) {
  const by = lookBy(state, know);
  return state.first[index] !== null && by !== null && know.today > by;
}

/** @param {Work} work @param {BatchState} state @param {Knowledge} know */
function resowNote(work, state, know) {
  const by = lookBy(state, know);
  const lastUseful = lastSowingDay(state);
  if (by !== null && lastUseful !== null && lastUseful >= know.today) {
    work.notes.push(`if none are up by ${spoken(by)}, sow again: the last useful day is ${spoken(lastUseful)}`);
  }
}

/**
 * The work without its dates: what it says, writes, takes and needs.
 * @param {BatchState} state
 * @param {number} index
 * @param {string} job
 * @param {number | null} wanted
 * @param {Knowledge} know
 * @returns {Work}
 */
function bare(state, index, job, wanted, know) {
  const step = state.steps[index];
  const verb = step.verb;
  const place = placeOf(state, index, know);
  let count = wanted;
  /** @type {number | null} */
  let seeds = null;
  if (verb === "sow" && state.path.comesUp) {
    seeds = know.seedsFor(state, count);
    count = seeds;
  }
  let say = step.say;
  let lead = step.lead;
  let potL = step.pot_l ?? null;
  const finishing = index === state.finalStep ? (state.fields.pot_l ?? null) : null;
  if (finishing !== null) {
    say = `Stand {plants} in ${litres(finishing)} L pots`;
    lead = "Stand".length;
    potL = finishing;
  }
  /** @type {any} */
  const writes = { did: verb, batch: state.id };
  if (step.stage) {
    const cameFrom = state.mainPlace({ below: index });
    if (place !== null) {
      writes.to_place = place;
      if (cameFrom !== null && cameFrom !== place) writes.place = cameFrom;
    }
    if (potL !== null) writes.pot_l = potL;
  } else if (place !== null) {
    writes.place = place;
  }
  const work = new Work({
    id: job,
    verb,
    title: fill(say, state.know, count, know.ground.name(state.final), seeds),
    lead,
    subject: state.varietyName,
    writes,
    batch: state.id,
    place,
    count,
  });
  work.goesIn = Boolean(step.stage) && step.where === "final";
  const [fixed, each] = step.minutes || [5, 0];
  work.minutes = fixed + Math.ceil((each * (count !== null ? count : 10)) / 10);
  work.needs = needsOf(step, count, finishing);
  work.cautions = [...(step.cautions || [])];
  work.hint = step.hint ?? null;
  work.waysOut = step.ways_out ?? null;
  return work;
}

/**
 * Where the work of a step is: where plants end, where they are raised, or where they stand now.
 * @param {BatchState} state
 * @param {number} index
 * @param {Knowledge} know
 * @returns {string | null}
 */
function placeOf(state, index, know) {
  const step = state.steps[index];
  const before = state.path.before[index];
  let here;
  if (step.stage) {
    if (step.where === "final" && state.final !== null) return state.final;
    here = state.mainPlace({ below: index });
  } else {
    here = before !== null ? state.mainPlace({ atLeast: before }) : null;
  }
  if (here !== null) return here;
  const anywhere = state.mainPlace();
  if (anywhere !== null) return anywhere;
  const afterPlanting = index >= state.finalStep;
  if ((afterPlanting || step.where === "final" || state.steps[0].where === "final") && state.final) return state.final;
  return know.raising || state.final;
}

/** @param {Work} work @param {BatchState} state @param {number} index @param {Knowledge} know */
function ownDates(work, state, index, know) {
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
    }
  }
  const gate = step.gate ?? null;
  if (gate === null) return;
  const heated = know.ground.heatedToC(state.final);
  if (heated !== null && heated >= gate.night_c) {
    work.notes.push(`kept at ${heated} °C, so no waiting for warm nights`);
    return;
  }
  const opens = atClimate(gate.at, state.climate, state.cover);
  if (opens) {
    work.gate = [inSeason(opens, state.year), gate.text];
    work.gateId = `${step.id}.${state.cover}`;
  }
  const sure = (gate.sure || {})[state.climate];
  if (sure) work.notes.push(`nine nights in ten stay above ${gate.least_c} °C from ${spoken(inSeason(sure, state.year))}`);
  const says = (know.rulebook.house_says || {})[state.climate];
  if (says) work.notes.push(says);
}

/**
 * @param {Work} work
 * @param {BatchState} state
 * @param {number} index
 * @param {Earlier} earlier
 * @param {Knowledge} know
 */
function pathDates(work, state, index, earlier, know) {
  const { byId, before } = state.path;
  const last = before[index];
  let links = (state.steps[index].after || []).filter((/** @type {any} */ link) => byId.has(link.step));
  if (!links.length && last !== null) links = [{ step: state.steps[last].id, min: 0, aim: null, max: null }];
  for (const link of links) if (/** @type {number} */ (byId.get(link.step)) < index) follow(work, state, link, earlier, know);
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
    bound(work, joined, since, `${past(step.verb)} ${spoken(since)}`, know);
  } else if (stands.open) {
    work.links.push(joined);
  } else {
    const passed = passedOn(state, on);
    if (passed !== null) bound(work, joined, passed, `${past(step.verb)} by ${spoken(passed)}`, know);
  }
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
