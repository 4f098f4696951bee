// @ts-check
/** A line to find by typing. */
import { h } from "../lib/dom.js";
import { glyph } from "./glyphs.js";

/**
 * @param {{value: string, name: string, hint: string, onType: (words: string) => void}} given name: what it is called to whoever cannot see it
 * @returns {HTMLElement}
 */
export function findLine({ value, name, hint, onType }) {
  const input = h("input", { type: "search", value, placeholder: hint, "aria-label": name, autocomplete: "off", oninput: () => onType(input.value) });
  const clear = () => {
    input.value = "";
    onType("");
    input.focus();
  };
  return h("div", { class: "find" }, glyph("search", 28), input, h("button", { type: "button", "aria-label": "Clear", onclick: clear }, glyph("cross", 24)));
}
