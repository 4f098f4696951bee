// @ts-check
/** Room: how full every bed, bench, shelf and propagator is, week by week, what stands there when, and what the shed holds. */
import { arrange, runFor, stripOf } from "./beds.js";
import { staysOf } from "./follow/stays.js";
import { stockOf } from "./follow/stock.js";
import { mmOf, vesselsOf } from "./follow/vessels.js";
import { iso, parse } from "./read/days.js";
import { visible } from "./read/merge.js";
import { Settled } from "./settle.js";
import { stageName } from "./stand.js";

/**
 * @typedef {import("./follow/stays.js").Stay} Stay
 * @typedef {import("./follow/knowledge.js").Knowledge} Knowledge
 * @typedef {import("./read/batch-state.js").BatchState} BatchState
 * @typedef {import("../types.js").RecordForm} RecordForm
 * @typedef {{stay: Stay, cm2: number | null, filled?: import("./follow/vessels.js").Filled | null, restOf?: string}} Taken a stay with the room it
 *   takes [whole cm²], null where that is not known, and what it stands in; restOf: the strip of which it takes what others leave, since
 *   nobody counts it
 * @typedef {{length: number, width: number, sort: string}} Size of a place [mm], the longer first
 */

const WEEKS = 53;
const WEEK = 7;
/** Plants apart where nothing is known of the crop. */
const USUAL_MM = 300;
/** Sorts of places on which plants stand in pots and trays alone. */
export const ABOVE_GROUND = ["bench", "shelf", "propagator"];
const TRAINED = ["string", "train"];

/** 53 weeks from the Monday of a day's week, or of that of `since`. A place without a size is not named; what takes no known room counts nothing. @param {any} rulebook @param {RecordForm[]} records @param {string} today @param {string | null} [since] */
export function room(rulebook, records, today, since = null) {
  return roomOf(new Settled(rulebook, records, today), records, since);
}

/** The same from a list that is kept. @param {Settled} settled @param {RecordForm[]} records those with the places' sizes and the household's own vessels @param {string | null} [since] */
export function roomOf(settled, records, since = null) {
  const { know } = settled;
  const sizes = sizesOf(records, know);
  const vessels = vesselsOf(know.rulebook, records);
  const day = since === null ? know.today : parse(since);
  const first = day - ((day + 3) % WEEK);
  const taken = staysOf(know, settled.jobs()).map((stay) => ({ stay, ...roomTaken(stay, stateOf(know, stay), sizes, vessels) }));
  /** @type {Map<string, Taken[]>} */
  const byPlace = new Map();
  for (const one of taken) {
    const there = byPlace.get(one.stay.place);
    if (there) there.push(one);
    else byPlace.set(one.stay.place, [one]);
  }
  return {
    from: iso(first),
    stays: taken.map((one) => told(one, know)),
    places: [...sizes].map(([id, { length, width }]) => {
      const cm2 = Math.floor((length * width) / 100);
      return { id, cm2, weeks: weeksOf(byPlace.get(id) || [], cm2, first) };
    }),
    stock: stockOf(know, records),
  };
}

/** @param {Knowledge} know @param {Stay} stay @returns {BatchState} */
function stateOf(know, stay) {
  return /** @type {BatchState} */ (know.states.get(stay.batch));
}

/** Sizes of the places that have one and hold plants themselves, in order of id; a fixture's is nowhere told. @param {RecordForm[]} records @param {Knowledge} know @returns {Map<string, Size>} */
export function sizesOf(records, know) {
  const outer = new Set([...know.ground.places.values()].map((place) => place.path[1]));
  /** @type {Map<string, Size>} */
  const sizes = new Map();
  for (const { id, fields } of records.filter((one) => one.kind === "place" && visible(one)).sort((a, b) => (a.id < b.id ? -1 : 1))) {
    if ((fields.length_cm ?? null) === null || (fields.width_cm ?? null) === null || outer.has(id)) continue;
    const [length, width] = [fields.length_cm, fields.width_cm].map((cm) => Math.floor(cm * 10 + 0.5)).sort((a, b) => b - a);
    sizes.set(id, { length, width, sort: fields.sort || "bed" });
  }
  return sizes;
}

/** A batch as what takes part of a bed: by its own spacings, else the crop's. @param {BatchState} state @param {number | null} count @param {boolean} stands whether they are there already @returns {import("./beds.js").Taker} */
function takerOf(state, count, stands) {
  const own = state.fields;
  const spacing = own.spacing_cm || state.know.spacing_cm?.[2] || USUAL_MM / 10;
  const row = own.row_cm || rowAt(state.know, spacing);
  return {
    batch: state.id,
    count,
    spacing: Math.max(1, Math.floor(spacing * 10 + 0.5)),
    row: Math.max(1, Math.floor(row * 10 + 0.5)),
    pattern: own.pattern || "",
    turned: own.turned === true,
    rows: own.rows ?? null,
    at: mmOf(own.at_cm),
    run: mmOf(own.run_cm),
    footOf: own.near ?? null,
    trained: state.steps.some((step) => TRAINED.includes(step.verb)),
    stands,
    end: mmOf(own.end_cm),
    left: mmOf(own.left_cm),
    wide: mmOf(own.wide_cm),
  };
}

/** How far rows are apart where plants stand so close: less than usual where they stand closer than usual. [cm] @param {any} know @param {number} spacing @returns {number} */
export function rowAt(know, spacing) {
  const row = know.row_cm ?? null;
  if (row === null || !know.spacing_cm) return spacing;
  return Math.min(row, (row * spacing) / know.spacing_cm[2]);
}

/** Room that plants take where they stand. [whole cm²] Null for what nobody counts over the whole width, and where nothing is known. @param {Stay} stay @param {BatchState} state @param {Map<string, Size>} sizes @param {import("./follow/vessels.js").Vessels} vessels @returns {Omit<Taken, "stay">} */
function roomTaken(stay, state, sizes, vessels) {
  const { length, width, sort } = sizes.get(stay.place) ?? { length: 0, width: 0, sort: "" };
  if (!stay.ground || ABOVE_GROUND.includes(sort)) {
    const filled = vessels.of(state, stay.step, stay.count, stay.potMl);
    return { cm2: filled?.cm2 ?? null, filled };
  }
  const taker = takerOf(state, stay.count, stay.told);
  const [left, wide] = stripOf(width, taker);
  const cm2 = (/** @type {number} */ run) => Math.floor((run * wide) / 100);
  if (taker.run !== null) return { cm2: length ? cm2(Math.min(taker.run, length)) : null };
  if (taker.footOf !== null) return { cm2: 0 };
  if (stay.count === null || !length) return wide < width ? { cm2: cm2(length), restOf: `${left} ${wide}` } : { cm2: null };
  if (stay.told) {
    const [own] = arrange(length, width, [{ ...taker, at: null }]);
    if (!own.without) return { cm2: cm2(own.run) };
  }
  const oneARow = stay.count * Math.max(taker.spacing, taker.row) + 2 * taker.spacing;
  return { cm2: cm2(runFor(wide, taker, stay.count, oneARow)) };
}

/**
 * The most room taken on any day of each week. [cm²] Where drills nobody counts stand, a bed or their strip of it counts as
 * full; they take what others leave, so that a bed never overflows by them.
 * @param {Taken[]} given
 * @param {number} full
 * @param {number} first
 * @returns {number[]}
 */
function weeksOf(given, full, first) {
  const days = WEEKS * WEEK;
  const change = new Array(days + 1).fill(0);
  /** @type {Map<string | undefined, {area: number, many: number[], now: number}>} */
  const rests = new Map();
  for (const { stay, cm2, restOf } of given) {
    const since = Math.max(0, stay.since - first);
    const until = Math.min(days, stay.until - first);
    if (since >= until) continue;
    let [many, by] = [change, cm2 ?? 0];
    if (cm2 === null || restOf !== undefined) {
      const rest = rests.get(restOf) ?? { area: cm2 ?? full, many: new Array(days + 1).fill(0), now: 0 };
      rests.set(restOf, rest);
      [many, by] = [rest.many, 1];
    }
    many[since] += by;
    many[until] -= by;
  }
  const weeks = new Array(WEEKS).fill(0);
  let counted = 0;
  for (let day = 0; day < days; day += 1) {
    counted += change[day];
    let rest = 0;
    for (const one of rests.values()) {
      one.now += one.many[day];
      rest += one.now ? one.area : 0;
    }
    const week = Math.floor(day / WEEK);
    weeks[week] = Math.max(weeks[week], counted, Math.min(full, counted + rest));
  }
  return weeks;
}

/** @param {Taken} taken @param {Knowledge} know */
function told({ stay, cm2, filled = null }, know) {
  return {
    batch: stay.batch,
    place: stay.place,
    stage: stageName(stateOf(know, stay), stay.step),
    from: iso(stay.since),
    to: iso(stay.until),
    count: stay.count,
    pot_ml: stay.potMl,
    ground: stay.ground,
    cm2,
    told: stay.told,
    layout: stay.ground ? layoutOf(takerOf(stateOf(know, stay), stay.count, stay.told), stateOf(know, stay).stems()) : null,
    vessel: filled && vesselOf(filled),
  };
}

/** So many pots or trays. [mm] @param {import("./follow/vessels.js").Filled} filled */
function vesselOf({ vessel: { sort, length, width, cells }, many }) {
  return { sort, length, width, cells, many };
}

/** How it takes part of a bed [mm], and on how many stems each of its plants is led, if that is known. @param {import("./beds.js").Taker} taker @param {number | null} stems */
function layoutOf({ spacing, row, pattern, turned, rows, at, run, footOf, trained, end, left, wide }, stems) {
  return { spacing, row, pattern, turned, rows, at, run, foot_of: footOf, trained, end, left, wide, stems };
}
