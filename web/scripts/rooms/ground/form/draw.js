// @ts-check
/** A plain form, as elements. */
import { h } from "../../../lib/dom.js";
import { finishing, key } from "../../../ui/key.js";
import { top } from "../../../ui/top.js";

/**
 * @typedef {ReturnType<typeof import("./seen.js").seeForm>} Seen
 * @typedef {{rows: import("../../parts/form.js").Field[], starter: HTMLElement | undefined, months: HTMLElement | undefined, trouble: HTMLElement}} Parts
 * @typedef {{back: () => void, keep: () => void, save: (event: Event) => void, newVariety: () => void, numbers: () => void, putAway: () => void}} Does
 */

/** @param {() => void} back */
export function drawNoForm(back) {
  return [top(back, "Form"), h("p", { class: "opening" }, "There is no such form.")];
}

/** @param {Seen} seen @param {Parts} parts @param {Does} does */
export function drawForm(seen, { rows, starter, months, trouble }, does) {
  return [
    top(does.back, seen.title),
    h(
      "form",
      { novalidate: true, oninput: does.keep, onsubmit: does.save },
      seen.trouble && h("p", { class: "trouble" }, seen.trouble),
      starter,
      rows.map((row) => row.element),
      seen.newVariety && h("div", { class: "gap-below" }, key("A variety that is not there yet", does.newVariety)),
      months,
      trouble,
      finishing(h("button", { class: "key solid great", type: "submit" }, seen.key)),
    ),
    seen.numbersOf && key("Its own numbers", does.numbers, { look: "gap-l" }),
    seen.putAway && key("Put it away", does.putAway, { look: "gap-l" }),
  ];
}
