// @ts-check
/** Keys: what is pressed. */
import { h } from "../lib/dom.js";

/**
 * @param {any} words
 * @param {(event: any) => void} act
 * @param {{look?: string} & Record<string, any>} [more] look: `slim`, `solid`, `done`; all others are attributes
 */
export function key(words, act, { look = "", ...more } = {}) {
  return h("button", { class: look ? `key ${look}` : "key", type: "button", onclick: act, ...more }, words);
}

/**
 * A key that is down or not.
 * @param {any} words
 * @param {boolean} down
 * @param {() => void} act
 * @param {{look?: string} & Record<string, any>} [more]
 */
export function heldKey(words, down, act, more = {}) {
  return key(words, act, { "aria-pressed": String(down), ...more });
}

/** The one key that finishes, always on the screen: it keeps to the bottom of what it belongs to. @param {...any} inside */
export function finishing(...inside) {
  return h("div", { class: "write-bar" }, inside);
}

/** Keys side by side. @param {"" | "two" | "three" | "four" | "many" | "stacked"} across @param {...any} inside */
export function keys(across, ...inside) {
  return h("div", { class: across ? `keys ${across}` : "keys" }, inside);
}

/** Keys of which one is down. @param {string} label @param {"" | "two" | "three" | "four" | "many" | "stacked"} across @param {...any} inside */
export function keyGroup(label, across, ...inside) {
  const element = keys(across, inside);
  element.setAttribute("role", "group");
  element.setAttribute("aria-label", label);
  return element;
}
