// @ts-check
/** What it takes: seed, pots, trays, compost and all else for a stretch of days, against what the shed holds. Pure. */
import { boughtSteps, isBought } from "../kernel/read/bought.js";
import { LABELS } from "../kernel/follow/needs.js";
import { addDays, daysBetween } from "../lib/dates.js";
import { batchName, cropOf, pathOf } from "./names.js";
import { seedsInHand } from "./seeds.js";
import { vesselNames } from "./vessel-words.js";

/**
 * @typedef {import("../store/book.js").Book} Book
 * @typedef {import("./bed-working.js").Room} Room
 * @typedef {import("../types.js").Job} Job
 * @typedef {{from: string, to: string, batch?: string | null, place?: string | null}} Stretch batch, place: only for these
 * @typedef {{key: string, what: string, unit: string, need: number, held: number, lack: number, lasts: boolean, variety: string | null, of: string[]}} Take
 *   lasts: it is used again, and so many are needed as are in use at one time; of: the batches it is for
 */

const OPEN = ["ready", "waiting", "early", "later"];
const SEEDS = "seeds";

/** The id under which an item's count is kept: its name in small letters and figures. @param {string} what @param {string} unit */
export function supplyId(what, unit) {
  const letters = [...`${what} ${unit}`.trim().toLowerCase()].map((one) => (/[a-z0-9]/.test(one) ? one : /\s/.test(one) ? "-" : `_${(one.codePointAt(0) || 0).toString(36)}`));
  return `supply.${letters.join("").slice(0, 140)}`;
}

/**
 * Every item with what is needed, held and lacking, by name. What is past its day and still asked for counts too.
 * @param {Book} book
 * @param {Room} room
 * @param {Stretch} stretch
 * @param {string} today
 * @returns {Take[]}
 */
export function takesOf(book, room, stretch, today) {
  const items = new Items(book);
  for (const job of book.jobs(today)) {
    if (!OPEN.includes(job.state) || !isFor(book, job, stretch)) continue;
    for (const time of timesOf(book, job, stretch, today)) items.addJob(job, time);
  }
  for (const vessel of vesselsAtOnce(book, room, stretch)) items.add(vessel.what, "", vessel.many, { lasts: true, batches: vessel.batches });
  return items.counted({ stock: new Map(room.stock.map(({ what, unit, held }) => [supplyId(what, unit), held])), tin: seedsInHand(book, today) });
}

/** @param {Book} book @param {Job} job @param {Stretch} stretch */
function isFor(book, job, { batch, place }) {
  if (batch) return job.batch === batch;
  return !place || pathOf(book, job.place).includes(place) || pathOf(book, book.fields(job.batch).for_place).includes(place);
}

/** How many times a job is done in a stretch: once, or each turn of what comes again until its plants are cleared. @param {Book} book @param {Job} job @param {Stretch} stretch @param {string} today @returns {number[]} */
function timesOf(book, job, { from, to }, today) {
  const first = job.aim < today ? today : job.aim;
  if (first > to || (first < from && !job.repeat)) return [];
  if (!job.repeat || !job.needs.length) return [1];
  const cleared = book.jobs(today).find((other) => other.batch === job.batch && other.verb === "clear");
  const last = cleared && cleared.aim < to ? cleared.aim : to;
  const turns = Math.floor(Math.max(0, daysBetween(first, last)) / job.repeat) + 1;
  const before = first < from ? Math.ceil(daysBetween(first, from) / job.repeat) : 0;
  return Array.from({ length: Math.max(0, turns - before) }, () => 1);
}

/** The items as they are gathered. */
class Items {
  /** @type {Map<string, Take & {batches: Set<string>}>} */
  #items = new Map();

  /** @param {Book} book */
  constructor(book) {
    this.book = book;
    this.tools = /** @type {string[]} */ (book.rulebook.vessels?.tools || []);
    this.lasting = /** @type {string[]} */ (book.rulebook.vessels?.lasts || []);
  }

  /** @param {string} what @param {string} unit @param {number} amount @param {{lasts?: boolean, variety?: string | null, batches?: string[]}} [more] */
  add(what, unit, amount, { lasts = this.lasting.some((word) => what.includes(word)), variety = null, batches = [] } = {}) {
    const key = variety ? `seed.${variety}` : supplyId(what, unit);
    const tool = !variety && this.tools.some((word) => what.includes(word));
    const held = this.#items.get(key) || { key, what, unit, need: 0, held: 0, lack: 0, lasts: lasts || tool, variety, of: [], batches: new Set() };
    held.need = tool ? 1 : held.need + amount;
    for (const batch of batches) held.batches.add(batch);
    this.#items.set(key, held);
  }

  /** @param {Job} job @param {number} times */
  addJob(job, times) {
    const batches = job.batch ? [job.batch] : [];
    const variety = this.book.fields(job.batch).variety || null;
    for (const { what, amount, unit } of job.needs) if (!isVessel(what) && !(what === "seed") && unit !== SEEDS) this.add(what, unit, amount * times, { batches });
    if (job.verb === "sow" && job.count && variety && cropOf(this.book, job.batch).seeds_for) this.add(batchName(this.book, job.batch), SEEDS, job.count, { lasts: false, variety, batches });
    if (job.batch && isFirst(this.book, job)) this.add(LABELS.what, LABELS.unit, LABELS.amount, { lasts: false, batches });
    if (job.verb === "plant_out" && job.count && this.#drips(job)) this.add("drippers", "", job.count, { lasts: true, batches });
  }

  /** @param {Job} job */
  #drips(job) {
    return pathOf(this.book, job.writes.to_place || job.place).some((place) => this.book.fields(place).watering === "drip");
  }

  /** With what is held and what lacks. @param {{stock: Map<string, number>, tin: Map<string, number>}} shed @returns {Take[]} */
  counted({ stock, tin }) {
    return [...this.#items.values()]
      .map(({ batches, ...item }) => {
        const held = (item.variety ? tin.get(item.variety) : stock.get(item.key)) ?? 0;
        return { ...item, need: whole(item.need), held, lack: whole(Math.max(0, item.need - held)), of: [...batches] };
      })
      .filter(({ need }) => need > 0)
      .sort((a, b) => (a.what < b.what ? -1 : a.what > b.what ? 1 : a.key < b.key ? -1 : 1));
  }
}

/** To a tenth: sums of tenths have no others. @param {number} amount */
function whole(amount) {
  return Math.round(amount * 10) / 10;
}

/** Whether it is the first step of its batch's path: of plants that are bought their planting. @param {Book} book @param {Job} job */
function isFirst(book, job) {
  const steps = cropOf(book, job.batch).steps || [];
  return (isBought(book.fields(job.batch)) && steps.length ? boughtSteps(steps) : steps)[0]?.id === job.id.slice(String(job.batch).length + 1).split(".")[0];
}

/** Pots and modules are counted by what stands in them at one time. @param {string} what */
function isVessel(what) {
  return what === "cells" || /\bL pots$/.test(what.replace("\u00a0", " "));
}

/** The most of each pot and tray that is in use on any one day of a stretch. @param {Book} book @param {Room} room @param {Stretch} stretch @returns {{what: string, many: number, batches: string[]}[]} */
function vesselsAtOnce(book, room, { from, to, batch, place }) {
  const mine = (/** @type {Room["stays"][0]} */ stay) => (batch ? stay.batch === batch : !place || pathOf(book, stay.place).includes(place) || pathOf(book, book.fields(stay.batch).for_place).includes(place));
  const stays = room.stays.filter((stay) => stay.vessel && stay.from <= to && from < stay.to && mine(stay));
  /** @type {Map<string, {what: string, change: Map<string, number>, batches: Set<string>}>} */
  const byVessel = new Map();
  for (const stay of stays) {
    const [, what] = vesselNames(/** @type {NonNullable<typeof stay.vessel>} */ (stay.vessel));
    const held = byVessel.get(what) || { what, change: new Map(), batches: new Set() };
    const begins = stay.from < from ? from : stay.from;
    held.change.set(begins, (held.change.get(begins) || 0) + (stay.vessel?.many || 0));
    held.change.set(stay.to, (held.change.get(stay.to) || 0) - (stay.vessel?.many || 0));
    held.batches.add(stay.batch);
    byVessel.set(what, held);
  }
  return [...byVessel.values()].map(({ what, change, batches }) => {
    let [now, most] = [0, 0];
    for (const [day, by] of [...change].sort((a, b) => (a[0] < b[0] ? -1 : 1))) {
      now += by;
      if (day <= to) most = Math.max(most, now);
    }
    return { what, many: most, batches: [...batches] };
  });
}

/** So many bags of compost, of the usual size. @param {Book} book @param {number} litres @returns {string} */
export function bagWords(book, litres) {
  const [, usual] = book.rulebook.vessels?.bags || [[], 0];
  if (!usual || litres < usual / 2) return "";
  const bags = Math.ceil(litres / usual);
  return `${bags} ${bags === 1 ? "bag" : "bags"} of ${usual}\u00a0L`;
}

/** The last day of a stretch so many days long. @param {string} today @param {number} days */
export function stretchOf(today, days) {
  return { from: today, to: addDays(today, days) };
}
