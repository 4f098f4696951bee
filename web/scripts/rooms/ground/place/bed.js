// @ts-check
/** The bed of a place, to scale: which day of which year is looked at, and how close its next batch is to stand. */
import { asBefore } from "../../../household/writing.js";
import { addDays } from "../../../lib/dates.js";
import { fill, h } from "../../../lib/dom.js";
import { drawBed, drawBench, drawClose, drawHouse } from "./bed-draw.js";
import { seeBed, seeBench } from "./bed-seen.js";
import { seeClose } from "./close-seen.js";
import { seeHouse } from "./house-seen.js";

/** @param {import("../../../types.js").Context} context @param {string} id the place's @returns {{element: HTMLElement, draw: () => Promise<void>}} */
export function bedIn({ book, today, go, write }, id) {
  const element = h("div");
  const choice = { day: today(), year: yearOf(today()) };
  const does = {
    look: (/** @type {string} */ to) => move(/^[+-]/.test(to) ? addDays(choice.day, Number(to)) : to),
    year: (/** @type {number} */ year) => move(`${year}${choice.day.slice(4).replace("-02-29", "-02-28")}`),
    today: () => move(today()),
    batch: (/** @type {string} */ batch) => go("batch", batch),
    place: (/** @type {string} */ place) => go("place", place),
  };

  /** @param {string} day */
  function move(day) {
    Object.assign(choice, { day, year: yearOf(day) });
    if (choice.year < yearOf(today()) && book.restingYears.length) void book.wakeAll();
    void draw();
  }

  /** @param {NonNullable<ReturnType<typeof seeClose>>} close @param {Record<string, any>} fields @param {string} words */
  async function take({ batch }, fields, words) {
    const wishes = [{ id: batch, kind: "batch", fields }];
    await write(wishes, { say: `${words}: so it is planned.`, undo: asBefore(book, wishes) });
  }

  async function draw() {
    const { day, year } = choice;
    const on = today();
    const room = await book.room(on, `${year}-01-01`);
    if (day !== choice.day || year !== choice.year) return; // moved on meanwhile
    if (!book.fields(id).name) return void fill(element);
    const bed = seeBed(book, room, id, choice, on);
    const bench = bed ? null : seeBench(book, room, id, choice, on);
    const house = bed || bench ? null : seeHouse(book, room, id, choice, on);
    const close = bed && seeClose(book, room, id, on);
    fill(element, bed && drawBed(bed, does), bench && drawBench(bench, does), house && drawHouse(house, does), close && drawClose(close, { look: does.look, take: (fields, words) => void take(close, fields, words) }));
  }

  return { element, draw };
}

/** @param {string} day */
function yearOf(day) {
  return Number(day.slice(0, 4));
}
