// @ts-check
/** What still ripens in a gap: every crop that can be planted in a place once it is free and is picked before it is wanted again. Pure. */
import { inSeason, iso, parse, yearOf } from "../kernel/read/days.js";
import { settle } from "../kernel/settle.js";
import { addDays } from "../lib/dates.js";
import { DRAFT, draftRecords, firstWindow } from "./plan-working.js";

/**
 * @typedef {{rulebook: any, ground: any[], today: string}} World ground: the household's places
 * @typedef {{from: string, to: string}} Gap from: the first day it is free; to: the day on which it is wanted again
 * @typedef {{crop: string, name: string, sow: string, verb: string, plant: string, pick: string, stays: boolean, turn: number, year: number}} Filler sow: the day of the
 *   first step; verb: what it is; plant: the day it goes into the bed; pick: of the first picking;
 *   stays: it lives for years
 */

/**
 * Crop by crop what fits a gap, each begun as soon as it can be; a crop that does not fit gives null, so that one can pause between.
 *
 * The later a crop is begun the later it is planted and picked. So the first day on which planting falls into the gap is looked for by
 * halving; what is not ripe in time from then is not ripe in time at all.
 * @param {any} rulebook
 * @param {any[]} records the household's
 * @param {string} place
 * @param {Gap} gap
 * @param {string} today
 * @returns {Generator<Filler | null>}
 */
export function* fillersOf(rulebook, records, place, gap, today) {
  const world = { rulebook, ground: records.filter((record) => record.kind === "place"), today };
  for (const crop of Object.keys(rulebook.crops || {}).sort()) yield best(cropFits(world, crop, place, gap));
}

/** The soonest picked of several times of the year. @param {Filler[]} found @returns {Filler | null} */
function best(found) {
  return found.reduce((/** @type {Filler | null} */ one, other) => (one === null || other.pick < one.pick ? other : one), null);
}

/** @param {World} world @param {string} crop @param {string} place @param {Gap} gap @returns {Filler[]} */
function cropFits(world, crop, place, gap) {
  const know = world.rulebook.crops[crop];
  /** @type {Filler[]} */
  const found = [];
  const wish = { crop, variety: null, want: 1, for_place: place, year: 0, sow_on: null, spacing_cm: null, pot_l: null };
  for (let turn = 0; turn <= (know.turns || []).length; turn += 1) {
    const window = firstWindow(world.rulebook, world.ground, wish, turn);
    if (!window?.from || !window.by || window.unfit) continue;
    for (let year = yearOf(parse(gap.from)) - 1; year <= yearOf(parse(gap.to)); year += 1) {
      const [from, by] = [window.from, window.by].map((day) => iso(inSeason(day, year)));
      const since = from < world.today ? world.today : from;
      if (since > by || since > gap.to) continue;
      const tried = soonest(world, { ...wish, turn, year }, { since, by: by < gap.to ? by : gap.to }, gap);
      if (tried) found.push({ crop, name: know.many, turn, year, ...tried });
    }
  }
  return found;
}

/** The first day to begin on so that planting falls into the gap; null where it is not picked in time then. @param {World} world @param {import("./plan-working.js").Wish} wish @param {{since: string, by: string}} days @param {Gap} gap */
function soonest(world, wish, { since, by }, gap) {
  let [low, high] = [0, parse(by) - parse(since)];
  const at = (/** @type {number} */ days) => courseOn(world, { ...wish, sow_on: addDays(since, days) });
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    const course = at(middle);
    if (course && course.plant >= gap.from) high = middle;
    else low = middle + 1;
  }
  const course = at(low);
  return course && course.plant >= gap.from && course.pick <= gap.to ? course : null;
}

/** What is cleared so long after planting lives for years. [days] */
const FOR_YEARS = 540;

/** When a batch begun on its own day goes into the bed and is first picked, as the list has it. @param {World} world @param {import("./plan-working.js").Wish} wish @returns {{sow: string, verb: string, plant: string, pick: string, stays: boolean} | null} */
export function courseOn({ rulebook, ground, today }, wish) {
  const jobs = settle(rulebook, [...ground, ...draftRecords(wish)], today).filter((/** @type {any} */ job) => job.batch === DRAFT && job.state !== "lapsed" && !job.low);
  const know = rulebook.crops[wish.crop];
  const byStep = new Map(jobs.map((/** @type {any} */ job) => [job.id.slice(DRAFT.length + 1).split(".")[0], job]));
  const first = byStep.get(know.steps[0].id);
  const direct = know.steps[0].where === "final";
  const planted = direct ? first : jobs.find((/** @type {any} */ job) => job.verb === "plant_out");
  const pick = jobs.find((/** @type {any} */ job) => job.verb === "pick");
  const clear = jobs.find((/** @type {any} */ job) => job.verb === "clear");
  if (!first || !planted || !pick) return null;
  return { sow: first.aim, verb: first.verb, plant: planted.aim, pick: pick.aim, stays: clear !== undefined && parse(clear.aim) - parse(planted.aim) > FOR_YEARS };
}
