// @ts-check
/** Putting off, as elements. */
import { h } from "../../../lib/dom.js";
import { board, line, section, sheet, soft } from "../../../ui/board.js";
import { key } from "../../../ui/key.js";
import { titleParts } from "../../../ui/label.js";
import { largeBar } from "../../../ui/leeway-bar.js";
import { top } from "../../../ui/top.js";

/** @param {ReturnType<typeof import("./seen.js").seePutOff>} seen @param {{back: () => void, putOff: (day: string) => void}} does */
export function drawPutOff(seen, { back, putOff }) {
  const other = h("input", { type: "date", min: seen.tomorrow, "aria-label": "Another day", value: seen.tomorrow });
  return [
    top(back, "Put off to when?"),
    sheet(section(h("p", { class: "title" }, titleParts(seen.job), seen.place), h("div", { class: "steel" }, largeBar(seen.job, seen.today)))),
    board(seen.days.map(({ day, name, cost }) => line(() => putOff(day), h("b", null, name), soft(cost)))),
    h("div", { class: "field" }, h("span", null, "Another day"), other),
    key("Put off to that day", () => other.value && putOff(other.value)),
    seen.by && h("p", { class: "soft gap-l" }, seen.by),
    seen.holds && h("p", { class: "soft gap-l" }, seen.holds),
  ];
}
