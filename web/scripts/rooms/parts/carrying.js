// @ts-check
/** Places carried up and down, one key press at a time. */
import { h } from "../../lib/dom.js";
import { board } from "../../ui/board.js";
import { glyph } from "../../ui/glyphs.js";
import { onRowTap } from "../../ui/touch.js";
import { carried } from "../../household/walk.js";

/** @typedef {(id: string, step: -1 | 1) => void} Carry */

/** @param {{id: string, name: string}[]} places in their order @param {Carry} carry */
export function carryList(places, carry) {
  const arrow = (/** @type {string} */ id, /** @type {string} */ name, /** @type {-1 | 1} */ step, /** @type {boolean} */ end) =>
    h("button", { class: step < 0 ? "carry up" : "carry down", type: "button", "data-carry": `${id} ${step}`, "aria-disabled": String(end), "aria-label": `Carry ${name} ${step < 0 ? "up" : "down"}`, onclick: onRowTap(() => end || carry(id, step)) }, glyph("forward", 28));
  return board(
    places.map(({ id, name }, at) =>
      h("div", { class: "carry-row" }, h("b", { class: "number" }, at + 1), h("b", null, name), arrow(id, name, -1, at === 0), arrow(id, name, 1, at === places.length - 1)),
    ),
  );
}

/**
 * Carry one, and say where it is now.
 * @param {import("../../types.js").Context} context
 * @param {() => any[]} among the places as they are now
 * @param {string} on what they are in order on
 * @returns {Carry}
 */
export function carrier({ write, book }, among, on) {
  return (id, step) => {
    const made = carried(among(), id, step);
    if (made) void write(made.wishes, { say: `${book.fields(id).name || "It"} is number ${made.number} ${on}.`, undo: made.undo });
  };
}

/** Draw anew, and keep the arrow under the finger that had it. @param {HTMLElement} element where the list stands @param {() => void} draw */
export function keepingArrow(element, draw) {
  const held = document.activeElement?.getAttribute("data-carry");
  draw();
  const key = held && [...element.querySelectorAll("[data-carry]")].find((one) => one.getAttribute("data-carry") === held);
  if (key) /** @type {HTMLElement} */ (key).focus();
}
