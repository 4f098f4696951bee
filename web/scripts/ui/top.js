// @ts-check
/** The top of a room that was opened from another one: the way back, and what this is. */
import { h } from "../lib/dom.js";
import { glyph } from "./glyphs.js";

/** @param {() => void} back @param {...any} beside */
export function topRow(back, ...beside) {
  return h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), beside);
}

/** @param {() => void} back @param {string} title */
export function top(back, title) {
  return topRow(back, h("h1", null, title));
}
