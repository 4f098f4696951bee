// @ts-check
/** Last year's plan taken again, as elements. */
import { h } from "../../../lib/dom.js";
import { counted } from "../../../lib/words.js";
import { emptyBoard, lead, named } from "../../../ui/board.js";
import { finishing, heldKey, key, keyGroup } from "../../../ui/key.js";
import { top } from "../../../ui/top.js";
import { choice } from "../../parts/ask.js";

/**
 * @typedef {import("./seen.js").Seen} Seen
 * @typedef {{back: () => void, year: (year: number) => void, take: (id: string, taken: boolean) => void, place: (id: string, place: string) => void, save: () => void}} Does
 */

/** @param {Seen} seen @param {Does} does */
export function drawAgain({ name, year, years, rows, places, empty }, does) {
  const taken = rows.filter((row) => row.taken).length;
  return [
    top(does.back, "Last year's plan again"),
    lead(`${name}: what was planned in ${year - 1} is taken over into ${year}. Leave out what is not to come again, and move what should stand elsewhere.`),
    keyGroup("Which year", "two", years.map((one) => heldKey(one.words, one.chosen, () => does.year(one.year), { look: "slim" }))),
    rows.length ? h("div", { class: "board gap" }, rows.map((row) => drawRow(row, places, does))) : h("div", { class: "gap" }, emptyBoard(empty)),
    taken > 0 && finishing(key(`Take ${counted(taken, "batch", "batches")} over`, does.save, { look: "done" })),
  ];
}

/** @param {Seen["rows"][0]} row @param {string[][]} places @param {Does} does */
function drawRow({ id, words, stood, place, there, taken, caution }, places, { take, place: toPlace }) {
  return h(
    "div",
    { class: "line counting" },
    named(words, there ? "in the book for that year already" : stood),
    !there && heldKey(taken ? "Taken over" : "Left out", taken, () => take(id, !taken), { look: "slim", "aria-label": `${words}: taken over` }),
    taken && choice(`Where ${words} end`, place, places, (value) => value && toPlace(id, value), "where they stood"),
    taken && caution && h("p", { class: "note rotation-note" }, caution),
  );
}
