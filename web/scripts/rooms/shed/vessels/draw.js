// @ts-check
/** Pots and trays, as elements. */
import { board, emptyBoard, lead, line, named } from "../../../ui/board.js";
import { glyph } from "../../../ui/glyphs.js";
import { key } from "../../../ui/key.js";
import { top } from "../../../ui/top.js";

/** @param {ReturnType<typeof import("./seen.js").seeVessels>} vessels @param {{back: () => void, open: (id: string) => void}} does */
export function drawVessels(vessels, { back, open }) {
  return [
    top(back, "Pots and trays"),
    lead("Your own go before the usual ones wherever room and compost are counted."),
    vessels.length ? board(vessels.map(({ id, name, says }) => line(() => open(id), named(name, says), glyph("forward", 26)))) : emptyBoard("None put down yet: pots and trays are counted as they are usually sold."),
    key("Add a pot or tray", () => open("new"), { look: "gap" }),
  ];
}
