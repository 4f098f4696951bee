// @ts-check
/** The count: great minus and plus keys, a figure that can also be typed, and keys that jump to usual numbers. */
import { h } from "../lib/dom.js";

/**
 * @param {{value: number, least?: number, most?: number, step?: number, name: string, small?: boolean, decimals?: number,
 *   under?: string, onChange?: (value: number) => void}} given
 * @returns {{element: HTMLElement, value: () => number, set: (value: number) => void}}
 */
export function stepper({ value, least = 0, most = 99999, step = 1, name, small = false, decimals = 0, under, onChange }) {
  let now = value;
  const input = h("input", {
    type: "text",
    inputmode: least < 0 || decimals ? "decimal" : "numeric",
    "aria-label": name,
    autocomplete: "off",
    oninput: () => {
      const read = Number(input.value.replace(",", "."));
      if (input.value.trim() !== "" && Number.isFinite(read)) set(read, false);
    },
    onblur: () => show(),
    onfocus: () => input.select(),
  });
  const show = () => {
    input.value = String(Number(now.toFixed(decimals)));
    input.classList.toggle("long", input.value.length > 3);
  };
  /** @param {number} next @param {boolean} [write] */
  const set = (next, write = true) => {
    const scale = 10 ** decimals;
    now = Math.min(most, Math.max(least, Math.round(next * scale) / scale));
    if (write) show();
    onChange?.(now);
  };
  const element = h(
    "div",
    { class: small ? "stepper small" : "stepper", role: "group", "aria-label": name },
    h("button", { type: "button", "aria-label": `${name}: less`, onclick: () => set(now - step) }, "−"),
    h("div", { class: "fig" }, input, under && h("small", null, under)),
    h("button", { type: "button", "aria-label": `${name}: more`, onclick: () => set(now + step) }, "+"),
  );
  show();
  return { element, value: () => now, set: (next) => set(next) };
}
