// @ts-check
/** Stores: what was picked and brought in, by the batch it came of; when it is to be used, and what is still to be brought in. */
import { spoken } from "../read/days.js";
import { daysWords } from "../read/words.js";
import { Work } from "../when/work.js";
import { makeWay } from "./ways.js";

/**
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {import("../read/batch-state.js").BatchState} BatchState
 * @typedef {{place: string, since: number, ends: number, grams: number | null, count: number | null}} Lot What lies in a store of one
 *   batch. Amounts are what is left; null where nobody weighed or counted
 */

/** The sort of a place, and the verb by which something comes into it. */
export const STORE = "store";
/** Best and last day to bring in what is cured. */
const BROUGHT_IN_DAYS = [2, 21];
/** So long after it could be brought in nobody is asked for it any more: it was eaten. */
const ASKED_DAYS = 35;
/** So long past its last day what lies in a store is taken as used. */
const FORGOTTEN_DAYS = 60;
/** Plants cleared within so many days of a picking were lifted with it; what is cleared later was eaten by then. */
const WITH_THE_LAST_DAYS = 2;
const MINUTES = 15;
const USE_MINUTES = 5;

/** Places that are stores, in walking order. @param {Knowledge} know @returns {string[]} */
export function stores(know) {
  const { ground } = know;
  return [...ground.places.values()]
    .filter((place) => place.sort === STORE)
    .sort((a, b) => ground.walk(a.house) - ground.walk(b.house) || a.walk - b.walk || (a.id < b.id ? -1 : 1))
    .map((place) => place.id);
}

/** What lies in stores of a batch, in order of place. @param {BatchState} state @param {Knowledge} know @returns {Lot[]} */
export function lotsOf(state, know) {
  const rule = state.know.store ?? null;
  if (rule === null) return [];
  /** @type {Map<string, Lot>} */
  const lots = new Map();
  for (const { deed } of state.deeds) {
    if ((deed.did === "pick" || deed.did === STORE) && deed.toPlace !== null && know.ground.places.get(deed.toPlace)?.sort === STORE) {
      const lot = lots.get(deed.toPlace) ?? { place: deed.toPlace, since: deed.on, ends: deed.on + rule.keeps, grams: null, count: null };
      lots.set(deed.toPlace, lot);
      if (deed.weightG !== null) lot.grams = (lot.grams ?? 0) + deed.weightG;
      if (deed.count !== null) lot.count = (lot.count ?? 0) + deed.count;
    } else if (deed.did === "use") {
      for (const place of deed.place !== null && lots.has(deed.place) ? [deed.place] : [...lots.keys()]) {
        if (used(/** @type {Lot} */ (lots.get(place)), deed.weightG, deed.count)) lots.delete(place);
      }
    }
  }
  return [...lots.values()].sort((a, b) => (a.place < b.place ? -1 : 1)).filter((lot) => know.today <= lot.ends + FORGOTTEN_DAYS);
}

/** What is picked of a batch: `apples` of apple trees. @param {BatchState} state @returns {string} */
function harvestWords(state) {
  return state.know.harvest || state.know.many || "it";
}

/** Take something from a lot, in place; whether nothing is left of it. @param {Lot} lot @param {number | null} grams @param {number | null} count @returns {boolean} */
function used(lot, grams, count) {
  if (grams === null && count === null) return true;
  if (grams !== null && lot.grams !== null) lot.grams = Math.max(0, lot.grams - grams);
  if (count !== null && lot.count !== null) lot.count = Math.max(0, lot.count - count);
  return lot.grams === 0 || lot.count === 0;
}

/**
 * What is to be done with the harvest of a batch: nothing where the household has no store, or it keeps in none.
 * @param {string} id
 * @param {Knowledge} know
 * @returns {Work[]}
 */
export function storeWork(id, know) {
  const state = /** @type {BatchState} */ (know.states.get(id));
  const rule = state.know.store ?? null;
  const places = rule === null ? [] : stores(know);
  if (!places.length) return [];
  const work = lotsOf(state, know).map((lot) => use(state, lot, rule, know));
  const bring = bringIn(state, rule, places, know);
  if (bring !== null) work.push(bring);
  return work.filter((job) => !job.letGo);
}

/**
 * Into the store once cured: of what was lifted or picked whole, and neither stored nor eaten since.
 * @param {BatchState} state
 * @param {any} rule
 * @param {string[]} places
 * @param {Knowledge} know
 * @returns {Work | null}
 */
function bringIn(state, rule, places, know) {
  const told = state.deeds.map(({ deed }) => deed);
  const picked = told.filter((deed) => deed.did === "pick" && !deed.believed);
  const gone = told.some((deed) => deed.did === "use" || ((deed.did === "pick" || deed.did === STORE) && deed.toPlace !== null && places.includes(deed.toPlace)));
  if (!picked.length || gone || state.overOn === null) return null;
  const lifted = picked[picked.length - 1].on;
  if (state.overOn - lifted > WITH_THE_LAST_DAYS) return null;
  const cure = rule.cure || 0;
  if (know.today > lifted + cure + ASKED_DAYS) return null;
  const work = new Work({
    id: `${state.id}.store`,
    verb: STORE,
    title: `Bring ${harvestWords(state)} into store`,
    lead: "Bring".length,
    subject: state.varietyName,
    writes: { did: STORE, batch: state.id, to_place: places[0] },
    batch: state.id,
    place: places[0],
    minutes: MINUTES,
    hint: rule.how,
  });
  const cured = cure ? `, cured for ${daysWords(cure)}` : "";
  const why = `picked ${spoken(lifted)}${cured}`;
  work.lower.push([lifted + cure, why]);
  work.aims.push([lifted + cure + BROUGHT_IN_DAYS[0], why]);
  work.upper.push([lifted + cure + BROUGHT_IN_DAYS[1], why]);
  work.notes.push(`it keeps best at ${rule.best}`);
  const tells = { did: STORE, batch: state.id };
  work.ways = places.map((place, at) => makeWay(`into${at}`, `Into ${know.ground.name(place)}`, [{ ...tells, to_place: place }], { asks: "weight" }));
  work.ways.push(makeWay("eaten", "Eaten or given away", [{ did: "use", batch: state.id }]));
  work.letGo = know.letGoOn(work.id) !== null;
  return work;
}

/**
 * To be used from a third of the days that it keeps at best, since a house is no cold store.
 * @param {BatchState} state
 * @param {Lot} lot
 * @param {any} rule
 * @param {Knowledge} know
 * @returns {Work}
 */
function use(state, lot, rule, know) {
  const writes = { did: "use", batch: state.id, place: lot.place };
  const work = new Work({
    id: `${state.id}.use.${lot.place}`,
    verb: "use",
    title: `Use ${harvestWords(state)} from ${know.ground.name(lot.place) || lot.place}`,
    lead: "Use".length,
    subject: state.varietyName,
    writes,
    batch: state.id,
    place: lot.place,
    minutes: USE_MINUTES,
    hint: rule.how,
  });
  const why = `in store since ${spoken(lot.since)}; ${daysWords(rule.keeps)} at best, at ${rule.best}`;
  work.lower.push([lot.since + Math.floor(rule.keeps / 3), why]);
  work.aims.push([lot.since + Math.floor(rule.keeps / 2), why]);
  work.upper.push([lot.ends, why]);
  work.ways = [
    makeWay("all", "All used", [writes]),
    makeWay("some", "Some used", [writes], { asks: "weight" }),
    makeWay("bad", "What is left went bad", [{ ...writes, answer: "bad" }]),
  ];
  work.letGo = know.letGoOn(work.id) !== null;
  return work;
}
