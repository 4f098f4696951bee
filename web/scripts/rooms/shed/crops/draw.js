// @ts-check
/** All crops, as elements. */
import { h } from "../../../lib/dom.js";
import { emptyBoard, line, named, titled } from "../../../ui/board.js";
import { glyph } from "../../../ui/glyphs.js";
import { key } from "../../../ui/key.js";
import { top } from "../../../ui/top.js";

/** @param {ReturnType<typeof import("./seen.js").seeCrops>} seen @param {(crop: string) => void} open */
export function drawCrops({ none, parts }, open) {
  return [none && emptyBoard(none), parts.map(({ title, crops }) => titled(title, crops.map(({ id, name, says }) => line(() => open(id), named(name, says), glyph("forward", 26)))))];
}

/** What holds still around the list. @param {HTMLElement} search @param {HTMLElement} list @param {{back: () => void, add: () => void}} does */
export function drawAround(search, list, { back, add }) {
  return [top(back, "Crops"), h("label", { class: "field" }, search), list, key("A crop of your own", add)];
}
