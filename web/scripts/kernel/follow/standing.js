// @ts-check
/** Standing jobs of places: look over each house, water by hand until the watering is connected, check it after. */
import { civil, inSeason, spoken, yearOf } from "../read/days.js";
import { WATER_LINES } from "../read/ground.js";
import { occurrence, rolled } from "./knowledge.js";
import { lotsOf } from "./store.js";
import { Work } from "../when/work.js";

/**
 * @typedef {import("../read/deeds.js").Deed} Deed
 * @typedef {import("../read/ground.js").Fixture} Fixture
 * @typedef {import("../read/ground.js").Place} Place
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 */

const UNDER_COVER = ["glass", "tunnel", "frame", "indoors"];

/** When each place was last looked over and watered, and since when plants stand there. */
export class Rounds {
  /** @param {Knowledge} know */
  constructor(know) {
    this.diary = know.diary;
    this.ground = know.ground;
    /** @type {Map<string, number>} House or watered place to the first day on which what stands there now came. */
    this.since = new Map();
    /** @type {Map<string, number>} The same for plants that have come to the end of their path. */
    this.planted = new Map();
    /** @type {Map<string, number>} Store to the first day on which what lies there now came. */
    this.stored = new Map();
    for (const state of know.states.values()) {
      for (const lot of lotsOf(state, know)) earliest(this.stored, lot.place, lot.since);
      if (state.overOn !== null) continue;
      for (const stay of state.stays) {
        if (stay.until !== null) continue;
        for (const place of know.ground.path(stay.place)) earliest(this.since, place, stay.since);
      }
      const final = state.finalStep;
      const planted = final >= 0 ? state.first[final] : null;
      if (planted === null) continue;
      for (const cell of state.cells.values()) {
        if (cell.step !== final || cell.count <= 0) continue;
        for (const place of know.ground.path(cell.where)) earliest(this.planted, place, planted);
      }
    }
  }

  /** When a place, or a place it lies in, was looked over. @param {string} place @returns {number | null} */
  looked(place) {
    return this.#last(this.diary.looked, place);
  }

  /** When a place, or a place it lies in, was watered. @param {string} place @returns {number | null} */
  watered(place) {
    return this.#last(this.diary.watered, place);
  }

  /** When a drip line or hose was looked at. @param {string} line @returns {number | null} */
  checked(line) {
    /** @type {number | null} */
    let latest = null;
    for (const deed of this.diary.byFixture.get(line) || []) if (deed.did === "look") latest = deed.on;
    return latest;
  }

  /** @param {Map<string, Deed[]>} done @param {string} place @returns {number | null} */
  #last(done, place) {
    /** @type {number | null} */
    let latest = null;
    for (const outer of this.ground.path(place)) {
      const shelf = done.get(outer);
      const day = shelf?.length ? shelf[shelf.length - 1].on : null;
      if (day !== null && (latest === null || day > latest)) latest = day;
    }
    return latest;
  }

  /** All that the standing jobs of a place hang on, to be held against what it was. @param {string} place @param {Knowledge} know @returns {string} */
  allOf(place, know) {
    const lines = linesIn(place, know).map((line) => [line.id, line.connected, line.since, line.drained, this.checked(line.id)]);
    return [this.since.get(place), this.stored.get(place), this.planted.get(place), this.looked(place), this.watered(place), lines].join();
  }
}

/** @param {Map<string, number>} table @param {string} key @param {number} day */
function earliest(table, key, day) {
  const held = table.get(key);
  if (held === undefined || day < held) table.set(key, day);
}

/** The standing jobs of a place, if something grows in it. @param {string} id @param {Rounds} rounds @param {Knowledge} know @returns {Work[]} */
export function standingWork(id, rounds, know) {
  const place = /** @type {Place} */ (know.ground.places.get(id));
  /** @type {Work[]} */
  const work = [];
  if (rounds.stored.has(id)) work.push(lookThrough(id, rounds, know));
  if (!rounds.since.has(id)) return work.filter((job) => !job.letGo);
  if (place.house === id && UNDER_COVER.includes(place.cover)) work.push(lookOver(id, rounds, know));
  if (wateredHere(place, know)) work.push(...watering(place, rounds, know));
  return work.filter((job) => !(job.letGo && job.repeat));
}

/** @param {string} place @param {Rounds} rounds @param {Knowledge} know @returns {Work} */
function lookThrough(place, rounds, know) {
  const every = know.standing.store_every || 21;
  const looked = rounds.looked(place);
  const stored = /** @type {number} */ (rounds.stored.get(place));
  let since = looked === null || looked < stored ? stored : looked;
  const [job, last] = occurrence(`${place}.store`, rolled(since, every, know.today), know);
  if (last !== null) since = last;
  const name = know.ground.name(place) || place;
  const work = new Work({
    id: job,
    verb: "look",
    title: `Look through ${name}`,
    lead: "Look through".length,
    subject: name,
    writes: { did: "look", place },
    place,
    minutes: know.minutes("look"),
    repeat: every,
    hint: "One rotten takes the rest: out with it, and use first what has begun to soften, sprout or shrivel.",
  });
  const why = `what lies there is looked through every ${every} days`;
  setDates(work, since + every - Math.floor(every / 3), since + every, since + every + Math.floor(every / 2), why);
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/** @param {Work} work @param {number} from @param {number} aim @param {number} by @param {string} why */
function setDates(work, from, aim, by, why) {
  work.lower.push([from, why]);
  work.aims.push([aim, why]);
  work.upper.push([by, why]);
}

/** @param {number | null} last @param {number} every @param {Knowledge} know @returns {number | null} */
function lastTurn(last, every, know) {
  return last === null ? null : rolled(last, every, know.today);
}

/** @param {string} place @param {Rounds} rounds @param {Knowledge} know @returns {Work} */
function lookOver(place, rounds, know) {
  const every = know.standing.look_every || 7;
  const [job, last] = occurrence(`${place}.over`, lastTurn(rounds.looked(place), every, know), know);
  const name = know.ground.name(place) || place;
  const work = new Work({
    id: job,
    verb: "look",
    title: `Look over ${name}`,
    lead: "Look over".length,
    subject: name,
    writes: { did: "look", place },
    place,
    minutes: know.minutes("look"),
    repeat: every,
    hint: "Under the leaves, at the tips, on the floor. Jot what you find.",
  });
  if (last === null) {
    const start = Math.max(/** @type {number} */ (rounds.since.get(place)), know.today - every);
    setDates(work, start, start, start + every, "plants stand here, and nobody has looked over them yet");
  } else {
    setDates(
      work,
      last + every - Math.floor(every / 3),
      last + every,
      last + every + Math.floor(every / 2),
      `every ${every} days`,
    );
  }
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/**
 * Whether watering is a matter of this very place: it says how it is watered, or it is a house under cover.
 * @param {Place} place
 * @param {Knowledge} know
 * @returns {boolean}
 */
function wateredHere(place, know) {
  if (place.watering !== null) return place.watering !== "none";
  const says = place.path
    .slice(1)
    .some((outer) => /** @type {Place} */ (know.ground.places.get(outer)).watering !== null);
  return place.house === place.id && UNDER_COVER.includes(place.cover) && !says;
}

/** @param {string} place @param {Knowledge} know @returns {Fixture[]} */
export function linesIn(place, know) {
  return [...know.ground.fixtures.values()].filter(
    (fixture) => WATER_LINES.includes(fixture.sort) && fixture.place !== null && know.ground.inside(fixture.place, place),
  );
}

/** @param {Place} place @param {Rounds} rounds @param {Knowledge} know @returns {Work[]} */
function watering(place, rounds, know) {
  const lines = linesIn(place.id, know);
  const connected = lines.filter((line) => line.connected);
  if (connected.length) return connected.map((line) => check(line, know, rounds));
  if (!lines.length && (place.watering === "drip" || place.watering === "soaker")) return [];
  const month = civil(know.today)[1];
  const byMonth = (know.standing.water_every || {})[know.ground.cover(place.id)] || new Array(12).fill(0);
  const every = byMonth[month - 1];
  if (!every) return [];
  const work = [waterByHand(place.id, every, rounds, know)];
  const since = rounds.planted.get(place.id);
  if (since !== undefined) for (const line of lines) work.push(connect(line, since, know));
  return work;
}

/** @param {string} place @param {number} every @param {Rounds} rounds @param {Knowledge} know @returns {Work} */
function waterByHand(place, every, rounds, know) {
  const [job, last] = occurrence(`${place}.water`, lastTurn(rounds.watered(place), every, know), know);
  const name = know.ground.name(place) || place;
  const work = new Work({
    id: job,
    verb: "water",
    title: `Water ${name} by hand`,
    lead: "Water".length,
    subject: name,
    writes: { did: "water", place },
    place,
    minutes: know.minutes("water"),
    repeat: every,
  });
  const day = last === null ? know.today : Math.max(last + every, know.today);
  const often = every === 1 ? "every day" : `every ${every} days`;
  setDates(work, last === null ? day : last + every, day, day, `${often} until the watering is connected`);
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/** @param {Fixture} line @param {number} since @param {Knowledge} know @returns {Work} */
function connect(line, since, know) {
  const [first, aim, last] = know.standing.connect || [0, 7, 14];
  const job = `${line.id}.connect`;
  const work = new Work({
    id: job,
    verb: "connect",
    title: `Connect ${line.name}`,
    lead: "Connect".length,
    subject: line.name,
    writes: { did: "connect", fixture: line.id, place: line.place },
    place: line.place,
    fixture: line.id,
    minutes: know.minutes("connect"),
    cautions: "electricity" in (know.rulebook.cautions || {}) ? ["electricity"] : [],
    hint: "This can wait: until it is done, water by hand.",
  });
  let why = "plants stand here to stay, and are watered by hand";
  if (line.drained !== null) {
    since = Math.max(since, refill(line.drained, know));
    why = `drained ${spoken(line.drained)}: filled again when hard frosts are over`;
  }
  setDates(work, since + first, since + aim, since + last, why);
  work.letGo = know.letGoOn(job) !== null;
  return work;
}

/** The first day after it was drained on which a line is filled again. @param {number} drained @param {Knowledge} know @returns {number} */
function refill(drained, know) {
  const day = know.rulebook.upkeep?.drain?.refill ?? null;
  if (day === null) return drained;
  const days = [0, 1].map((more) => inSeason(`0-${day}`, yearOf(drained) + more));
  return days[0] > drained ? days[0] : days[1];
}

/** @param {Fixture} line @param {Knowledge} know @param {Rounds} rounds @returns {Work} */
function check(line, know, rounds) {
  const every = know.standing.check_every || 7;
  let since = rounds.checked(line.id);
  if (since === null || (line.since !== null && line.since > since)) since = line.since !== null ? line.since : know.today;
  const [job, last] = occurrence(`${line.id}.check`, rolled(since, every, know.today), know);
  if (last !== null) since = last;
  const work = new Work({
    id: job,
    verb: "look",
    title: `Check ${line.name}`,
    lead: "Check".length,
    subject: line.name,
    writes: { did: "look", fixture: line.id, place: line.place },
    place: line.place,
    fixture: line.id,
    minutes: know.minutes("check"),
    repeat: every,
    hint: "Every emitter drips, nothing leaks, the timer runs.",
  });
  setDates(
    work,
    since + every - Math.floor(every / 3),
    since + every,
    since + every + Math.floor(every / 2),
    `checked every ${every} days`,
  );
  work.letGo = know.letGoOn(job) !== null;
  return work;
}
