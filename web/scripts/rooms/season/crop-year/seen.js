// @ts-check
/** What is to be seen of one crop's year: its course here, what gives each date, and the household's own years. Pure. */
import { batchName } from "../../../household/names.js";
import { daySpan, plainDay } from "../../../lib/dates.js";
import { counted, kept, weightWords } from "../../../lib/words.js";
import { stagesTold } from "../seen.js";
import { usualCover } from "../year-asked.js";
import { axisOf, courseOf, ownYears, wrapped, wrappedWindows } from "../year-course.js";

/** @typedef {import("../../../store/book.js").Book} Book */

const VERB = /** @type {Record<string, string>} */ ({ sow: "Sow", plant_out: "Plant", prick_out: "Prick out", pot_up: "Pot up", harden_off: "Harden off" });

/**
 * @param {Book} book
 * @param {string} crop
 * @param {string} today
 * @param {string} asked the cover that was asked for
 */
export function seeCropYear(book, crop, today, asked) {
  const cover = asked || usualCover(book, today);
  const axis = axisOf(book, today);
  const course = courseOf(book.rulebook, crop, cover, axis);
  return {
    today,
    cover,
    axis,
    stageNames: [...new Set(course.stages.map((one) => one.stage))],
    windows: wrappedWindows(course.windows, axis),
    stages: wrapped(course.stages, axis),
    dates: course.windows.map(({ verb, from, by, aim, why }) => ({
      verb: VERB[verb] || "Do",
      days: kept(`${daySpan(from, by, today)}, best ${plainDay(aim, today)}`),
      why: kept(why || ""),
    })),
    pick: seePick(course, today),
    years: ownYears(book.stand(today).batches, crop, book).map((one) => seeOwnYear(book, one, axis)),
    older: book.restingYears.length > 0,
  };
}

/** @param {import("../year-course.js").Course} course @param {string} today */
function seePick({ stages, season, why }, today) {
  const stage = stages.find((one) => one.stage === "picking");
  if (!stage) return null;
  const days = season ? `each year ${seasonDay(season.from)} to ${seasonDay(season.to)}` : `about ${daySpan(stage.from, stage.to, today)}, begun on the best day`;
  return { days: kept(days), why: why.map(kept) };
}

/** @param {string} day `MM-DD` */
function seasonDay(day) {
  return plainDay(`2000-${day}`, "2000-01-01");
}

/** @param {Book} book @param {ReturnType<typeof ownYears>[0]} one @param {{from: string, to: string}} axis */
function seeOwnYear(book, one, axis) {
  const sums = [counted(one.batches.length, "batch", "batches"), one.picked_g ? `${weightWords(one.picked_g)} picked` : "", one.picked ? `${one.picked} picked` : ""].filter(Boolean).join(", ");
  return {
    year: one.year,
    sums: kept(sums),
    batches: one.batches.map((batch) => ({ id: batch.id, name: batchName(book, batch.id), told: stagesTold(batch.stages, batch.stages[0].from), stages: wrapped(batch.stages, axis) })),
  };
}
