// @ts-check
/** Season: every batch of a year as labels on one line of time. */
import { fill, h } from "../../lib/dom.js";
import { findLine } from "../../ui/find.js";
import { setWide } from "../../ui/season-bar.js";
import { drawSeason } from "./draw.js";
import { seeSeason } from "./seen.js";

/** What was asked for stays so while the app is open. @type {import("./seen.js").Asked} */
const asked = { year: null, order: "when", words: "" };

/** @param {import("../../types.js").Context} context */
export function room(context) {
  const { book, go } = context;
  const element = h("main", { class: "page", id: "room" });

  const find = findLine({
    value: asked.words,
    name: "Find in the season",
    hint: "a crop, a place",
    onType: (words) => {
      asked.words = words;
      draw();
    },
  });

  function draw() {
    setWide(element.clientWidth > 560 || matchMedia("(min-width: 1000px)").matches);
    const order = (/** @type {import("./seen.js").Order} */ order) => {
      asked.order = order;
      draw();
    };
    const does = { show: (/** @type {number} */ year) => void show(year), order, howItRuns: () => go("year"), plan: () => go("plan") };
    fill(element, drawSeason(seeSeason(book, context.today(), asked), find, does));
  }

  /** @param {number} year */
  async function show(year) {
    asked.year = year;
    if (/** @type {number[]} */ (book.restingYears).includes(year)) await book.wakeAll();
    draw();
  }

  if (asked.year !== null) void show(asked.year);
  else draw();
  return { element, title: "Season", refresh: (/** @type {string} */ what) => what === "records" && draw() };
}
