// @ts-check
/** One crop's year: its picture large, what gives each date, and each year of one's own beneath it. */
import { plainDay } from "../../lib/dates.js";
import { fill, h } from "../../lib/dom.js";
import { counted, kept, weightWords } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { yearPicture } from "../../ui/year-picture.js";
import { batchName } from "../../household/names.js";
import { monthsHead, seasonBar, setWide, stageKey } from "../../ui/season-bar.js";
import { COVERS, asked, usualCover } from "./year-asked.js";
import { axisOf, courseOf, ownYears, wrapped, wrappedWindows } from "./year-course.js";

const VERB = /** @type {Record<string, string>} */ ({ sow: "Sow", plant_out: "Plant", prick_out: "Prick out", pot_up: "Pot up", harden_off: "Harden off" });

/** @param {any} context params: crop */
export function room(context) {
  const { book, back, go } = context;
  const crop = context.params[0];
  const element = h("main", { class: "page", id: "room" });
  const know = () => book.rulebook.crops?.[crop];

  function draw() {
    const many = know()?.many || "Crop";
    const head = h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, many.slice(0, 1).toUpperCase() + many.slice(1)));
    if (!know()) {
      fill(element, head, h("div", { class: "board empty" }, h("p", null, "This crop has not come from the server yet. Open the app once where it answers.")));
      return;
    }
    const today = context.today();
    const cover = asked.cover || usualCover(book, today);
    const axis = axisOf(book, today);
    const course = courseOf(book.rulebook, crop, cover, axis);
    const years = ownYears(book.stand(today).batches, crop, book);
    setWide(false);
    fill(
      element,
      head,
      h("div", { class: "keys four", role: "group", "aria-label": "Over them" }, COVERS.map(([id, words]) => h("button", { class: "key slim", type: "button", "aria-pressed": String(id === cover), onclick: () => { asked.cover = id; draw(); } }, words))),
      h("div", { class: "keyline", style: { "margin-top": "10px" } }, [...new Set(course.stages.map((one) => one.stage))].map((stage) => h("span", null, stageKey(stage), stage))),
      h("div", { class: "season" }, monthsHead({ ...axis, today }), yearPicture({ axis, windows: wrappedWindows(course.windows, axis), stages: wrapped(course.stages, axis), years: [], today })),
      h(
        "div",
        { class: "lab plain", style: { "margin-top": "10px" } },
        h(
          "div",
          { class: "in" },
          course.windows.map((window) => h("div", { class: "sec row" }, h("h2", null, VERB[window.verb] || "Do"), h("p", null, kept(`${plainDay(window.from, today)} to ${plainDay(window.by, today)}, best ${plainDay(window.aim, today)}`), h("br"), h("span", { class: "soft note" }, kept(window.why || ""))))),
          pickRow(course, today),
        ),
      ),
      years.length > 0 && [h("h2", { class: "h" }, "Your own years"), years.map((one) => yearRow(one, axis, today))],
      !years.length && h("p", { class: "soft note", style: { margin: "10px 2px" } }, "No year of your own yet: what you write down of it will stand here."),
      book.restingYears.length > 0 && h("button", { class: "key", type: "button", onclick: () => void book.wakeAll() }, "Older years too"),
      h("div", { class: "keys two", style: { "margin-top": "14px" } }, h("button", { class: "key", type: "button", onclick: () => go("successions", crop) }, "One after another"), h("button", { class: "key", type: "button", onclick: () => go("crop", crop) }, "Its numbers")),
      h("button", { class: "key solid", type: "button", style: { "margin-top": "10px" }, onclick: () => go("plan", `crop=${crop}`) }, "Plan a batch"),
    );
  }

  /** @param {import("./year-course.js").Course} course @param {string} today */
  function pickRow(course, today) {
    const stage = course.stages.find((one) => one.stage === "picking");
    if (!stage) return null;
    const season = course.season ? `each year ${seasonDay(course.season.from)} to ${seasonDay(course.season.to)}` : `about ${plainDay(stage.from, today)} to ${plainDay(stage.to, today)}, begun on the best day`;
    return h("div", { class: "sec row" }, h("h2", null, "Pick"), h("p", null, kept(season), course.why.map((words) => [h("br"), h("span", { class: "soft note" }, kept(words))])));
  }

  /** @param {string} day */
  function seasonDay(day) {
    return plainDay(`2000-${day}`, "2000-01-01");
  }

  /** @param {ReturnType<typeof ownYears>[0]} one @param {{from: string, to: string}} axis @param {string} today */
  function yearRow(one, axis, today) {
    const sums = [counted(one.batches.length, "batch", "batches"), one.picked_g ? `${weightWords(one.picked_g)} picked` : "", one.picked ? `${one.picked} picked` : ""].filter(Boolean).join(", ");
    return h(
      "section",
      { class: "season", "aria-label": String(one.year) },
      h("p", { style: { margin: "8px 2px 2px" } }, h("b", null, one.year), " ", h("span", { class: "soft" }, kept(sums))),
      one.batches.map((batch) => h("a", { class: "batch-row", href: `#/batch/${batch.id}` }, h("span", { class: "name soft" }, batchName(book, batch.id)), h("span", { class: "unseen" }, batch.stages.map((/** @type {any} */ stage) => `${stage.stage} from ${stage.from} to ${stage.to}`).join(", ")), seasonBar(wrapped(batch.stages, axis), { ...axis, today: "" }))),
    );
  }

  draw();
  return { element, title: know()?.many || "Crop", refresh: (/** @type {string} */ what) => { if (what === "records") draw(); } };
}
