// @ts-check
/**
 * The forward pass: the earliest and the best day of each open job, what it follows counted in. Knows work, links and
 * gaps; knows no crop. Order is total: work is walked by id, so that a circle is broken at the same place in any order.
 */
import { seasonAt, spoken } from "../read/days.js";
import { gap, gapWords, readSooner } from "./gaps.js";
import { lowerFirst } from "../read/words.js";

/**
 * @typedef {import("./work.js").Work} Work
 * @typedef {import("./work.js").Bound} Bound
 */

/** @param {Work[]} work @returns {Map<string, Work>} */
export function indexById(work) {
  const sorted = [...work].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
  return new Map(sorted.map((job) => [job.id, job]));
}

/**
 * The work so that whatever is waited on comes first. A link that closes a circle is marked broken.
 * @param {Work[]} work
 * @returns {Work[]}
 */
export function inOrder(work) {
  const byId = indexById(work);
  /** @type {Work[]} */
  const ordered = [];
  /** @type {Map<string, number>} 1 while its links are walked, 2 when it is placed */
  const seen = new Map();
  for (const first of byId.values()) {
    if (seen.has(first.id)) continue;
    /** @type {[Work, number][]} */
    const stack = [[first, 0]];
    seen.set(first.id, 1);
    while (stack.length) {
      const [job, at] = /** @type {[Work, number]} */ (stack.pop());
      if (at === job.links.length) {
        seen.set(job.id, 2);
        ordered.push(job);
        continue;
      }
      stack.push([job, at + 1]);
      const link = job.links[at];
      const before = byId.get(link.on);
      if (before === undefined) continue;
      if (seen.get(before.id) === 1) {
        link.broken = true;
      } else if (!seen.has(before.id)) {
        seen.set(before.id, 1);
        stack.push([before, 0]);
      }
    }
  }
  return ordered;
}

/**
 * The open work behind a link; null where it is done, let go or not known.
 * @param {string} on
 * @param {Map<string, Work>} byId
 * @returns {Work | null}
 */
export function waitsFor(on, byId) {
  const job = byId.get(on);
  return job === undefined || job.letGo || job.dropped ? null : job;
}

/**
 * Find start, aim and own latest day of each job, in place.
 * @param {Work[]} ordered
 * @param {import("./heat.js").Heat} heat
 * @param {number} today
 */
export function forward(ordered, heat, today) {
  const byId = new Map(ordered.map((job) => [job.id, job]));
  for (const job of ordered) {
    const lower = [...job.lower];
    const aims = [...job.aims];
    const upper = [...job.upper];
    const soonest = job.lower.map(([day]) => day);
    /** @type {Bound[]} */
    const guessed = [];
    /** @type {Bound[]} */
    const waited = [];
    for (const link of job.links) {
      const before = waitsFor(link.on, byId);
      if (link.soft) continue;
      if (link.broken) {
        job.notes.push("waits on itself in a circle; that link is left out");
      } else if (before !== null && link.path) {
        const taken = before.takenOn(today);
        const done = taken !== null ? taken : Math.max(today, before.aim);
        const days = byTheEnd(link, gap(link, done, heat));
        let first = days[0];
        const [, aim, last] = days;
        const sooner = readSooner(link, done, days, heat);
        link.shortest = first - done;
        const could = gap(link, before.could, heat)[0];
        soonest.push(could);
        if (job.goesIn && before.believable()) first = Math.min(first, could);
        const words = `${link.text} about ${spoken(done)}${taken !== null ? ", by the calendar" : ""}`;
        lower.push([first, first >= done ? gapWords(link, words, first - done, sooner[0]) : words]);
        if (aim !== null) aims.push([aim, gapWords(link, words, aim - done, sooner[1])]);
        if (last !== null) guessed.push([last, gapWords(link, words, last - done, sooner[2])]);
      } else if (before !== null) {
        waited.push([Math.max(today, before.start), `waits for ${link.text || lowerFirst(before.title)}`]);
      } else {
        lower.push(...afterDropped(link, byId));
      }
    }
    job.could = soonest.length ? Math.max(...soonest) : Math.min(today, ...aims.map(([day]) => day), ...upper.map(([day]) => day));
    if (job.season !== null) keepToSeason(job.season, lower, aims, [upper, guessed], today);
    setStart(job, lower, [...aims, ...upper, ...guessed], waited, today);
    setAimAndBy(job, aims, upper, guessed);
    if (job.notAfter !== null && job.bareStart > job.notAfter) {
      job.dropped = true;
    } else if (job.notAfter !== null && job.aim > job.notAfter) {
      job.aim = Math.max(job.start, job.notAfter);
      job.aimWhy = "";
    }
  }
  for (const job of ordered) if (job.dropped && job.firstPicking) sayUnripe(job, ordered);
}

export const UNRIPE = "will hardly be picked";
/** Further past its end no day is told on which something would be ready. [days] */
const LATE_DAYS = 60;
const WAYS_TO_RIPEN = "cover it, take an earlier variety or bought plants, or pick it green";

/**
 * What would be picked only after its end is said on what comes next of the same plants, while something can be done.
 * @param {Work} pick
 * @param {Work[]} ordered
 */
function sayUnripe(pick, ordered) {
  const rest = ordered.filter((job) => job.batch === pick.batch && job.step !== null && !job.dropped);
  if (!rest.length || pick.notAfter === null) return;
  const next = rest.reduce((best, job) => (job.aim < best.aim || (job.aim === best.aim && job.id < best.id) ? job : best));
  const ends = `it ends about ${spoken(pick.notAfter)}`;
  const soon = pick.bareStart <= pick.notAfter + LATE_DAYS;
  const ready = soon ? `the first would be ready about ${spoken(pick.bareStart)}, and ${ends}` : `heat does not suffice before ${ends}`;
  next.notes.push(`${UNRIPE}: ${ready}; ${WAYS_TO_RIPEN}`);
}

/**
 * The days of a gap, none later than the end of what is followed allows.
 * @param {import("./work.js").Link} link
 * @param {[number, number | null, number | null]} days
 * @returns {[number, number | null, number | null]}
 */
function byTheEnd(link, [first, aim, last]) {
  if (link.latest === null) return [first, aim, last];
  const [best, most] = link.latest;
  return [first, aim === null ? null : Math.max(first, Math.min(aim, best)), last === null ? null : Math.max(first, Math.min(last, most))];
}

/**
 * What follows something that would have begun after its last day waits for that day all the same.
 * @param {import("./work.js").Link} link
 * @param {Map<string, Work>} byId
 * @returns {Bound[]}
 */
function afterDropped(link, byId) {
  const before = byId.get(link.on);
  if (before === undefined || !before.dropped || !link.path || before.notAfter === null) return [];
  return [[before.notAfter + link.min, `${link.text} until ${spoken(before.notAfter)}`]];
}

/**
 * Move what falls outside the weeks of the year in which it may be done to when they next begin, in place.
 * @param {{from: string, to: string}} season
 * @param {Bound[]} lower
 * @param {Bound[]} aims
 * @param {Bound[][]} limits
 * @param {number} today
 */
function keepToSeason(season, lower, aims, limits, today) {
  const known = [...lower, ...aims];
  const due = known.length ? latest(known)[0] : today;
  const [opens, closes] = seasonAt(season, Math.max(due, today));
  const words = `its season is ${spoken(opens)} to ${spoken(closes)}`;
  lower.push([opens, words]);
  if (opens > due) { // what was due in an earlier season is due in this one
    aims.push([opens, words]);
    for (const bounds of limits) bounds.length = 0; // they were those of the season that is gone
  }
  limits[1].push([closes, words]); // missed in one year it comes in the next, so what goes before is not hurried for it
}

/** @param {Work} job @param {Bound[]} lower @param {Bound[]} others @param {Bound[]} waited @param {number} today */
function setStart(job, lower, others, waited, today) {
  if (!lower.length) lower.push([Math.min(today, ...others.map(([day]) => day)), ""]);
  const own = latest(lower);
  job.ownFrom = own[0];
  const held = [...(job.gate !== null ? [job.gate] : []), own, ...waited];
  [job.bareStart, job.startWhy] = latest(held);
  job.start = job.bareStart;
  if (job.putOff !== null) {
    job.ownFrom = Math.max(job.ownFrom, job.putOff);
    if (job.putOff > job.start) {
      job.start = job.putOff;
      job.startWhy = "put off by hand";
    }
  }
}

/** @param {Work} job @param {Bound[]} aims @param {Bound[]} upper @param {Bound[]} guessed */
function setAimAndBy(job, aims, upper, guessed) {
  job.aim = job.start;
  job.aimWhy = "";
  if (aims.length && latest(aims)[0] > job.start) [job.aim, job.aimWhy] = latest(aims);
  job.firmBy = upper.length ? soonest(upper)[0] : null;
  const limits = [...upper, ...guessed];
  job.by = null;
  job.byWhy = "";
  if (limits.length) [job.by, job.byWhy] = soonest(limits);
  if (job.by !== null && job.aim > job.by) {
    job.aim = Math.max(job.start, job.by);
    job.aimWhy = "";
  }
}

/** @param {Bound[]} bounds @returns {Bound} */
function latest(bounds) {
  let best = bounds[0];
  for (const bound of bounds) if (bound[0] > best[0]) best = bound;
  return best;
}

/** @param {Bound[]} bounds @returns {Bound} */
function soonest(bounds) {
  let best = bounds[0];
  for (const bound of bounds) if (bound[0] < best[0]) best = bound;
  return best;
}
