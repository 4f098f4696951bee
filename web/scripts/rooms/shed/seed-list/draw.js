// @ts-check
/** A seed list, as elements. */
import { h } from "../../../lib/dom.js";
import { board, heading, lead, named, soft } from "../../../ui/board.js";
import { finishing, key, keys } from "../../../ui/key.js";
import { top } from "../../../ui/top.js";
import { fileKey, rowsLeftOut } from "../../parts/file.js";

/**
 * @typedef {ReturnType<typeof import("./seen.js").seeFound>} Seen
 * @typedef {{back: () => void, choose: (file: File) => void, take: () => void, tell: (name: string, crop: string) => void, pass: (name: string) => void}} Does
 */

/** @param {Seen | null} found @param {{said: string, busy: boolean, again: boolean}} state @param {Does} does */
export function drawSeedList(found, { said, busy, again }, does) {
  return [
    top(does.back, "A seed list"),
    !found && lead("A table saved as CSV, a row a packet. It needs a column for the variety and one for the crop; germination in per cent, the number of seeds and their weight are taken too where they stand there."),
    said && h("p", { class: "trouble", role: "alert" }, said),
    busy && h("p", { class: "soft note", role: "status" }, "Reading the file."),
    found?.problem && h("p", { class: "trouble", role: "alert" }, found.problem),
    found?.question && drawQuestion(found.question, does),
    found?.packets && drawPackets(found.packets, does.take),
    fileKey(again ? "Another file" : "A file of seeds", does.choose),
  ];
}

/** @param {NonNullable<Seen["packets"]>} seen @param {() => void} take */
function drawPackets({ title, lines, more, key: words, leftOut }, take) {
  return [
    heading(title),
    lines.length > 0 && board(lines.map(({ name, crop, facts }) => h("p", { class: "line" }, named(name, crop), facts && soft(facts))), more && h("p", { class: "line soft" }, more)),
    rowsLeftOut(leftOut),
    lines.length > 0 && finishing(key(words, take, { look: "done" })),
  ];
}

/** @param {NonNullable<Seen["question"]>} question @param {Does} does */
function drawQuestion({ name, words, near, crops }, { tell, pass }) {
  const select = h("select", { onchange: () => select.value && tell(name, select.value) }, h("option", { value: "" }, "choose a crop"), crops.map(([id, many]) => h("option", { value: id }, many)));
  return [
    h("p", { class: "ask" }, words),
    near.length > 0 && keys("two", near.map(({ id, many }) => key(many, () => tell(name, id)))),
    h("label", { class: "field gap-l" }, h("span", null, near.length ? "Or" : "It is"), select),
    key("Leave these out", () => pass(name)),
  ];
}
