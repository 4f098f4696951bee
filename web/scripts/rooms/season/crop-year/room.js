// @ts-check
/** One crop's year: its picture large, what gives each date, and each year of one's own beneath it. */
import { fill, h } from "../../../lib/dom.js";
import { capital } from "../../../lib/words.js";
import { emptyBoard } from "../../../ui/board.js";
import { setWide } from "../../../ui/season-bar.js";
import { top } from "../../../ui/top.js";
import { asked } from "../year-asked.js";
import { drawCropYear } from "./draw.js";
import { seeCropYear } from "./seen.js";

/** @param {import("../../../types.js").Context} context params: crop */
export function room(context) {
  const { book, back, go } = context;
  const crop = context.params[0];
  const element = h("main", { class: "page", id: "room" });
  const does = {
    choose: (/** @type {string} */ cover) => {
      asked.cover = cover;
      draw();
    },
    older: () => void book.wakeAll(),
    successions: () => go("successions", crop),
    numbers: () => go("crop", crop),
    plan: () => go("plan", `crop=${crop}`),
  };

  function draw() {
    const many = book.rulebook.crops?.[crop]?.many;
    const head = top(back, many ? capital(many) : "Crop");
    setWide(false);
    if (!many) fill(element, head, emptyBoard("This crop has not come from the server yet. Open the app once where it answers."));
    else fill(element, head, drawCropYear(seeCropYear(book, crop, context.today(), asked.cover), does));
  }

  draw();
  return { element, title: book.rulebook.crops?.[crop]?.many || "Crop", refresh: (/** @type {string} */ what) => what === "records" && draw() };
}
