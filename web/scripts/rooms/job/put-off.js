// @ts-check
/** Putting a job off: to a day, with what that costs said beside it. */
import { fill, h } from "../../lib/dom.js";
import { addDays, dayName, daysBetween, longDay, shortDay } from "../../lib/dates.js";
import { counted, kept } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { titleParts } from "../../ui/label.js";
import { largeBar } from "../../ui/leeway-bar.js";
import { putOffWish } from "../../household/wishes.js";
import { fullPlace } from "../../household/names.js";

/** @typedef {import("../../types.js").Job} Job */

/** @param {any} context */
export function room(context) {
  const { book, back, go, toast } = context;
  const id = context.params[0];
  const element = h("main", { class: "page", id: "room" });

  /** @param {Job} job @param {string} day */
  async function putOff(job, day) {
    try {
      await book.write([putOffWish(job, day, context.today())]);
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "Not written down yet. Try again." });
      return;
    }
    toast({ say: `Put off to ${longDay(day)}: ${kept(job.title)}`, undo: () => void book.write([putOffWish(job, null, context.today())]) });
    go("round");
  }

  function refresh() {
    const today = context.today();
    const jobs = /** @type {Job[]} */ (book.jobs(today));
    const job = jobs.find((one) => one.id === id && one.state !== "done");
    if (!job) {
      go("round");
      return;
    }
    const held = jobs.filter((other) => other.in_the_way.some((way) => way.job === id));
    const other = h("input", { type: "date", min: addDays(today, 1), "aria-label": "Another day", value: addDays(today, 1) });
    fill(
      element,
      h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back to the job", onclick: () => back() }, glyph("back", 32)), h("h1", null, "Put off to when?")),
      h("div", { class: "lab plain" }, h("div", { class: "in" }, h("div", { class: "sec" }, h("p", { class: "title", style: { "font-size": "var(--t-title)" } }, titleParts(job), job.place && `, ${fullPlace(book, job.place)}`), h("div", { class: "steel" }, largeBar(job, today))))),
      h(
        "div",
        { class: "board", style: { "margin-top": "12px" } },
        days(today, job.by).map((day) =>
          h("button", { class: "line", type: "button", onclick: () => void putOff(job, day) }, h("b", null, daysBetween(today, day) < 7 ? dayName(day) : shortDay(day)), h("span", { class: "soft" }, costWords(day, job.by))),
        ),
      ),
      h("div", { class: "field" }, h("span", null, "Another day"), other),
      h("button", { class: "key", type: "button", onclick: () => other.value && void putOff(job, other.value) }, "Put off to that day"),
      job.by && h("p", { class: "soft", style: { margin: "12px 2px 0" } }, `Its by-day is ${longDay(job.by)}. Past it, the job stays on the list and says what it cost.`),
      held.length > 0 && h("p", { class: "soft", style: { margin: "12px 2px 0" } }, `Holds back ${counted(held.length, "job")}: ${held.slice(0, 3).map((one) => kept(one.title)).join("; ")}.`),
    );
  }

  refresh();
  return { element, title: "Put off", refresh };
}

/** Days worth offering: soon, within the leeway, the last good one. @param {string} today @param {string | null} by */
function days(today, by) {
  const offers = new Set([addDays(today, 1), addDays(today, 2)]);
  for (let ahead = 1; ahead <= 7; ahead += 1) if (dayName(addDays(today, ahead)) === "Saturday") offers.add(addDays(today, ahead));
  offers.add(addDays(today, 7));
  if (by !== null && by > today) offers.add(by);
  return [...offers].sort().slice(0, 6);
}

/** @param {string} day @param {string | null} by */
function costWords(day, by) {
  if (by === null) return "nothing bounds it";
  const left = daysBetween(day, by);
  if (left > 0) return `then ${counted(left, "day")} in hand`;
  return left === 0 ? "the last good day" : `${counted(-left, "day")} past its by-day`;
}
