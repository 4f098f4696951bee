// @ts-check
/** How the year runs: each crop's usual course here as a small picture, with the household's own years laid over it. */
import { plainDay } from "../../lib/dates.js";
import { fill, h } from "../../lib/dom.js";
import { kept } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { yearPicture } from "../../ui/year-picture.js";
import { monthsHead, setWide, stageKey } from "../../ui/season-bar.js";
import { COVERS, asked, usualCover } from "./year-asked.js";
import { room as yearOfCrop } from "./year-of-crop.js";
import { axisOf, beginWords, courseOf, ownYears, wrapped, wrappedWindows } from "./year-course.js";

const STAGES = ["raised", "potted", "planted", "picking"];
const AT_ONCE = 8;
const OWN_LINES = 4;

/** @param {any} context params: none for all crops, or one */
export function room(context) {
  if (context.params[0]) return yearOfCrop(context);
  const { book, back } = context;
  const element = h("main", { class: "page", id: "room" });
  const list = h("div");
  const search = h("input", { type: "search", "aria-label": "Find a crop", placeholder: "Find a crop", autocomplete: "off", value: asked.name, oninput: () => { asked.name = search.value; draw(); } });
  let round = 0;

  function draw() {
    round += 1;
    const mine = round;
    const today = context.today();
    const cover = asked.cover || usualCover(book, today);
    const axis = axisOf(book, today);
    const grown = new Set(book.ofKind("variety").map((/** @type {any} */ one) => one.fields.crop));
    const wanted = asked.name.trim().toLowerCase();
    const crops = Object.entries(book.rulebook.crops || {})
      .map(([id, crop]) => ({ id, many: /** @type {any} */ (crop).many, grown: grown.has(id) }))
      .filter((crop) => crop.many.toLowerCase().includes(wanted))
      .sort((a, b) => Number(b.grown) - Number(a.grown) || a.many.localeCompare(b.many));
    const batches = book.stand(today).batches;
    setWide(false);
    const rows = h("div", { class: "season" });
    fill(
      list,
      h("div", { class: "keys four", role: "group", "aria-label": "Over them" }, COVERS.map(([id, words]) => h("button", { class: "key slim", type: "button", "aria-pressed": String(id === cover), onclick: () => { asked.cover = id; draw(); } }, words))),
      h("div", { class: "keyline", style: { "margin-top": "10px" } }, STAGES.map((stage) => h("span", null, stageKey(stage), stage))),
      h("p", { class: "soft note" }, "The line above is when to begin, its point the best day. Thin lines below are your own years."),
      !crops.length && h("div", { class: "board empty" }, h("p", null, wanted ? `No crop is called “${asked.name.trim()}”.` : "What is known of crops has not come from the server yet. Open the app once where it answers.")),
      crops.length > 0 && h("div", { class: "season months-head" }, monthsHead({ ...axis, today })),
      rows,
    );
    /** @param {number} from */
    const more = (from) => {
      if (mine !== round) return;
      rows.append(...crops.slice(from, from + AT_ONCE).map((crop) => row(crop, cover, axis, batches, today)));
      if (from + AT_ONCE < crops.length) setTimeout(() => more(from + AT_ONCE));
    };
    more(0);
  }

  /** @param {{id: string, many: string}} crop @param {string} cover @param {{from: string, to: string}} axis @param {any[]} batches @param {string} today */
  function row(crop, cover, axis, batches, today) {
    const course = courseOf(book.rulebook, crop.id, cover, axis);
    const years = ownYears(batches, crop.id, book).slice(0, OWN_LINES);
    return h(
      "a",
      { class: "batch-row", href: `#/year/${crop.id}` },
      h("span", { class: "name" }, h("b", null, crop.many), " ", h("span", { class: "soft" }, kept(beginWords(course, today)))),
      h("span", { class: "unseen" }, course.stages.map((one) => `${one.stage} from ${plainDay(one.from, today)} to ${plainDay(one.to, today)}`).join(", ")),
      yearPicture({ axis, windows: wrappedWindows(course.windows.slice(0, 1), axis), stages: wrapped(course.stages, axis), years: years.map((one) => wrapped(one.batches.flatMap((batch) => batch.stages), axis)), today }),
    );
  }

  fill(
    element,
    h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "How the year runs")),
    h("label", { class: "field" }, search),
    list,
  );
  draw();
  return { element, title: "How the year runs", refresh: (/** @type {string} */ what) => { if (what === "records") draw(); } };
}
