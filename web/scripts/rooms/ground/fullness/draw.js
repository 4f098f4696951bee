// @ts-check
/** Room through the year, as elements. */
import { h } from "../../../lib/dom.js";
import { bullets, emptyBoard, heading, lead, named } from "../../../ui/board.js";
import { glyph } from "../../../ui/glyphs.js";
import { roomStrip } from "../../../ui/room-strip.js";
import { top } from "../../../ui/top.js";

/** @typedef {ReturnType<typeof import("./seen.js").seeFullness>} Seen */

/** @param {Seen} seen @param {{back: () => void, place: (id: string) => void}} does */
export function drawFullness({ houses, over, unsized }, { back, place }) {
  return [
    top(back, "Room through the year"),
    houses.length > 0 && lead(over ? "What is hatched over its brim has more to hold than fits: what could move stands under it." : "Everything that is planned finds room."),
    houses.length ? houses.map(({ name, places }) => [heading(name), h("div", { class: "board" }, places.map((one) => drawPlace(one, place)))]) : emptyBoard("No place has a size yet. Say how long and wide the beds and benches are, and their weeks stand here."),
    unsized && h("p", { class: "soft note gap" }, unsized),
  ];
}

/** @param {Seen["houses"][0]["places"][0]} place @param {(id: string) => void} open */
function drawPlace({ id, name, says, over, strip }, open) {
  return h(
    "div",
    { class: "room-of" },
    h("button", { type: "button", class: "line", onclick: () => open(id) }, named(name, says), glyph("forward", 26)),
    roomStrip(strip, null),
    over.map((one) => [h("p", { class: "past note" }, one.says), one.ways.length > 0 && bullets(one.ways)]),
  );
}
