// @ts-check
/** How the year runs: each crop's usual course here as a small picture, with the household's own years laid over it. */
import { fill, h } from "../../../lib/dom.js";
import { setWide } from "../../../ui/season-bar.js";
import { top } from "../../../ui/top.js";
import { room as cropYear } from "../crop-year/room.js";
import { asked } from "../year-asked.js";
import { drawCrop, drawYear } from "./draw.js";
import { seeCrop, seeYear } from "./seen.js";

const AT_ONCE = 8;

/** @param {import("../../../types.js").Context} context params: none for all crops, or one */
export function room(context) {
  if (context.params[0]) return cropYear(context);
  const { book, back } = context;
  const list = h("div");
  const search = h("input", { type: "search", "aria-label": "Find a crop", placeholder: "Find a crop", autocomplete: "off", value: asked.name, oninput: () => choose({ name: search.value }) });
  let drawn = 0;

  /** @param {Partial<typeof asked>} choice */
  function choose(choice) {
    Object.assign(asked, choice);
    draw();
  }

  function draw() {
    const seen = seeYear(book, context.today(), asked);
    const rows = h("div", { class: "season" });
    const mine = (drawn += 1);
    setWide(false);
    fill(list, drawYear(seen, rows, (cover) => choose({ cover })));
    /** A few at a time, so that the first stand at once. @param {number} from */
    const more = (from) => {
      if (mine !== drawn) return;
      rows.append(...seen.crops.slice(from, from + AT_ONCE).map((crop) => drawCrop(seeCrop(book, crop, seen), seen)));
      if (from + AT_ONCE < seen.crops.length) setTimeout(() => more(from + AT_ONCE));
    };
    more(0);
  }

  const element = h("main", { class: "page", id: "room" }, top(back, "How the year runs"), h("label", { class: "field" }, search), list);
  draw();
  return { element, title: "How the year runs", refresh: (/** @type {string} */ what) => what === "records" && draw() };
}
