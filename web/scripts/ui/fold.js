// @ts-check
/** A fold: a firm line that opens what lies under it. */
import { h } from "../lib/dom.js";
import { glyph } from "./glyphs.js";

/**
 * @param {{title: string, open: boolean, onToggle: (open: boolean) => void, inside: () => any}} given
 * @returns {HTMLElement}
 */
export function fold({ title, open, onToggle, inside }) {
  return h(
    "section",
    null,
    h(
      "button",
      { class: "later", type: "button", "aria-expanded": String(open), onclick: () => onToggle(!open) },
      h("span", null, title),
      glyph("forward", 26),
    ),
    open && inside(),
  );
}
