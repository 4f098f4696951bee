// @ts-check
/** Season: every batch of a year as labels on one line of time. */
import { fill, h } from "../../lib/dom.js";
import { setWide } from "../../ui/season-bar.js";
import { drawSeason } from "./draw.js";
import { seeSeason } from "./seen.js";

/** @type {{year: number | null}} The year asked for stays so while the app is open. */
const asked = { year: null };

/** @param {import("../../types.js").Context} context */
export function room(context) {
  const { book, go } = context;
  const element = h("main", { class: "page", id: "room" });

  function draw() {
    setWide(element.clientWidth > 560 || matchMedia("(min-width: 1000px)").matches);
    const does = { show: (/** @type {number} */ year) => void show(year), howItRuns: () => go("year"), plan: () => go("plan") };
    fill(element, drawSeason(seeSeason(book, context.today(), asked.year), does));
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
