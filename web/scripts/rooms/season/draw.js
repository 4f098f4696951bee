// @ts-check
/** A season, as elements. */
import { h } from "../../lib/dom.js";
import { emptyBoard, heading, soft } from "../../ui/board.js";
import { heldKey, key, keyGroup } from "../../ui/key.js";
import { monthsHead, seasonBar, stageKey } from "../../ui/season-bar.js";

export const STAGES = ["raised", "potted", "planted", "picking"];

/** @typedef {import("./seen.js").BatchLine} BatchLine */

/**
 * @param {ReturnType<typeof import("./seen.js").seeSeason>} seen
 * @param {{show: (year: number) => void, howItRuns: () => void, plan: () => void}} does
 */
export function drawSeason({ year, years, span, families }, does) {
  return [
    h("header", { class: "head" }, h("h1", null, `Season ${year}`)),
    years.length > 0 && keyGroup("Year", "", years.map((one) => heldKey(one, one === year, () => does.show(one), { look: "slim" }))),
    drawStageKey(STAGES),
    families.length > 0 && h("div", { class: "season months-head" }, monthsHead(span)),
    families.map(({ family, batches }) => [heading(family), h("div", { class: "season" }, batches.map((batch) => drawBatch(batch, span)))]),
    !families.length && emptyBoard("No batch runs in this year yet.", key("Add a batch", does.plan)),
    key("How the year runs", does.howItRuns, { look: "gap-l" }),
  ];
}

/** What each shading is. @param {string[]} stages */
export function drawStageKey(stages) {
  return h("div", { class: "keyline" }, stages.map((stage) => h("span", null, stageKey(stage), stage)));
}

/** @param {BatchLine} batch @param {{from: string, to: string, today: string}} span */
function drawBatch({ id, says, soft: more, told, stages }, span) {
  return h("a", { class: "batch-row", href: `#/batch/${id}` }, h("span", { class: "name" }, h("b", null, says), " ", soft(more)), h("span", { class: "unseen" }, told), seasonBar(stages, span));
}
