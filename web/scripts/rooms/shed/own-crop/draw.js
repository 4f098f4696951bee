// @ts-check
/** A crop of one's own, as elements. */
import { h } from "../../../lib/dom.js";
import { heading, lead } from "../../../ui/board.js";
import { finishing } from "../../../ui/key.js";
import { top } from "../../../ui/top.js";
import { fileKey } from "../../parts/file.js";

/**
 * @param {import("../../parts/form.js").Field[]} rows
 * @param {HTMLElement} trouble
 * @param {{back: () => void, keep: () => void, save: (event: Event) => void, choose: (file: File) => void}} does
 */
export function drawOwnCrop(rows, trouble, { back, keep, save, choose }) {
  return [
    top(back, "A crop of your own"),
    lead("Choose what it grows most like: its path from seed to picking is taken from there. Then change any of its numbers."),
    h("form", { novalidate: true, oninput: keep, onsubmit: save }, rows.map((row) => row.element), trouble, finishing(h("button", { class: "key solid great", type: "submit" }, "Write it down"))),
    heading("Or a whole calendar"),
    lead("Every crop's page gives its calendar as a file. Change that on a computer, steps and all, give it an id and names of its own, and bring it here."),
    fileKey("A calendar file", choose, ".toml,text/plain"),
  ];
}

/** What is wrong with a file, each in a line of its own. @param {string[]} faults */
export function drawFaults(faults) {
  return faults.map((fault) => h("span", { class: "block-line" }, fault));
}
