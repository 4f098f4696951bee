// @ts-check
/** The enamel plate of a place: its number in walking order, and its name. */
import { h } from "../lib/dom.js";

/**
 * @param {number | null | undefined} number
 * @param {string} name
 * @returns {HTMLElement}
 */
export function plate(number, name) {
  const numbered = number !== null && number !== undefined && number < 9999;
  return h("span", { class: "plate" }, h("span", null, numbered && h("b", null, number), h("i", null, name)));
}
