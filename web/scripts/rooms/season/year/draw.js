// @ts-check
/** How the year runs, as elements. */
import { h } from "../../../lib/dom.js";
import { emptyBoard, soft } from "../../../ui/board.js";
import { heldKey, keyGroup } from "../../../ui/key.js";
import { monthsHead } from "../../../ui/season-bar.js";
import { yearPicture } from "../../../ui/year-picture.js";
import { STAGES, drawStageKey } from "../draw.js";
import { COVERS } from "../year-asked.js";

/**
 * All but the rows, which come a few at a time.
 * @param {ReturnType<typeof import("./seen.js").seeYear>} seen
 * @param {HTMLElement} rows
 * @param {(cover: string) => void} choose
 */
export function drawYear({ today, cover, axis, crops, none }, rows, choose) {
  return [
    drawCovers(cover, choose),
    drawStageKey(STAGES),
    h("p", { class: "soft note" }, "The line above is when to begin, its point the best day. Thin lines below are your own years."),
    none && emptyBoard(none),
    crops.length > 0 && h("div", { class: "season months-head" }, monthsHead({ ...axis, today })),
    rows,
  ];
}

/** @param {string} cover @param {(cover: string) => void} choose */
export function drawCovers(cover, choose) {
  return keyGroup("Over them", "four", COVERS.map(([id, words]) => heldKey(words, id === cover, () => choose(id), { look: "slim" })));
}

/** @param {ReturnType<typeof import("./seen.js").seeCrop>} crop @param {{axis: {from: string, to: string}, today: string}} seen */
export function drawCrop({ id, many, begins, told, windows, stages, years }, { axis, today }) {
  return h(
    "a",
    { class: "batch-row", href: `#/year/${id}` },
    h("span", { class: "name" }, h("b", null, many), " ", soft(begins)),
    h("span", { class: "unseen" }, told),
    yearPicture({ axis, windows, stages, years, today }),
  );
}
