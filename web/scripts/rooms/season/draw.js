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
 * @param {HTMLElement} find the line to type in
 * @param {{show: (year: number) => void, order: (order: import("./seen.js").Order) => void, howItRuns: () => void, plan: () => void}} does
 */
export function drawSeason({ year, years, span, orders, groups, none, any }, find, does) {
  return [
    h("header", { class: "head" }, h("h1", null, `Season ${year}`)),
    years.length > 0 && h("div", { class: "gap-below" }, keyGroup("Year", "", years.map((one) => heldKey(one, one === year, () => does.show(one), { look: "slim" })))),
    any && find,
    any && keyGroup("In order of", "four", orders.map(({ id, words, chosen }) => heldKey(words, chosen, () => does.order(id), { look: "slim" }))),
    groups.length > 0 && drawStageKey(STAGES),
    groups.length > 0 && h("div", { class: "season months-head" }, monthsHead(span)),
    groups.map(({ title, batches }) => [heading(title), h("div", { class: "season" }, batches.map((batch) => drawBatch(batch, span)))]),
    !groups.length && emptyBoard(none, !any && key("Add a batch", does.plan)),
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
