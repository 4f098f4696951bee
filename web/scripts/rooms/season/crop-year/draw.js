// @ts-check
/** One crop's year, as elements. */
import { h } from "../../../lib/dom.js";
import { heading, row, sheet, soft } from "../../../ui/board.js";
import { key, keys } from "../../../ui/key.js";
import { monthsHead, seasonBar } from "../../../ui/season-bar.js";
import { yearPicture } from "../../../ui/year-picture.js";
import { drawStageKey } from "../draw.js";
import { drawCovers } from "../year/draw.js";

/**
 * @typedef {ReturnType<typeof import("./seen.js").seeCropYear>} Seen
 * @param {Seen} seen
 * @param {{choose: (cover: string) => void, older: () => void, successions: () => void, numbers: () => void, plan: () => void}} does
 */
export function drawCropYear(seen, does) {
  const { axis, today, windows, stages, years } = seen;
  return [
    drawCovers(seen.cover, does.choose),
    drawStageKey(seen.stageNames),
    h("div", { class: "season" }, monthsHead({ ...axis, today }), yearPicture({ axis, windows, stages, years: [], today })),
    sheet(
      seen.dates.map(({ verb, days, why }) => row(verb, h("p", null, days, reason(why)))),
      seen.pick && row("Pick", h("p", null, seen.pick.days, seen.pick.why.map(reason))),
    ),
    years.length > 0 ? [heading("Your own years"), years.map((one) => drawOwnYear(one, axis))] : h("p", { class: "soft note gap" }, "No year of your own yet: what you write down of it will stand here."),
    seen.older && key("Older years too", does.older),
    h("div", { class: "gap-l" }, keys("two", key("One after another", does.successions), key("Its numbers", does.numbers))),
    key("Plan a batch", does.plan, { look: "solid gap" }),
  ];
}

/** @param {string} why */
function reason(why) {
  return [h("br"), h("span", { class: "soft note" }, why)];
}

/** @param {Seen["years"][0]} one @param {{from: string, to: string}} axis */
function drawOwnYear({ year, sums, batches }, axis) {
  return h(
    "section",
    { class: "season", "aria-label": String(year) },
    h("p", { class: "gap" }, h("b", null, year), " ", soft(sums)),
    batches.map(({ id, name, told, stages }) => h("a", { class: "batch-row", href: `#/batch/${id}` }, h("span", { class: "name soft" }, name), h("span", { class: "unseen" }, told), seasonBar(stages, { ...axis, today: "" }))),
  );
}
