// @ts-check
/** Varieties, as elements. */
import { h } from "../../../lib/dom.js";
import { board, emptyBoard, line, soft } from "../../../ui/board.js";
import { key } from "../../../ui/key.js";
import { top } from "../../../ui/top.js";

/**
 * @param {ReturnType<typeof import("./seen.js").seeVarieties>} varieties
 * @param {{back: () => void, open: (id: string) => void, fromList: () => void}} does
 */
export function drawVarieties(varieties, { back, open, fromList }) {
  return [
    top(back, "Varieties"),
    varieties.length
      ? board(varieties.map(({ id, name, crop }) => line(() => open(id), h("b", null, name), soft(crop))))
      : emptyBoard("No seed is in the book yet: put down what a packet says, or bring a list."),
    key("Add a variety", () => open("new")),
    key("From a list of seeds", fromList, { look: "gap" }),
  ];
}
