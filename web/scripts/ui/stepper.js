// @ts-check
/** The count: great minus and plus keys, a figure that can also be typed, and keys that jump to usual numbers. */
import { readCount } from "../lib/amounts.js";
import { h } from "../lib/dom.js";

/**
 * @param {{value: number, least?: number, most?: number, offers?: number, step?: number, name: string, small?: boolean, decimals?: number,
 *   under?: string, reads?: (text: string) => import("../lib/amounts.js").Amount, onChange?: (value: number) => void}} given reads: what
 *   is typed; offers: as far as the key goes, though more can be typed
 * @returns {{element: HTMLElement, value: () => number | null, set: (value: number) => void}} value: null while what is typed is not
 *   understood; asked for, it says so at the field
 */
export function stepper({ value, least = 0, most = 99999, offers = most, step = 1, name, small = false, decimals = 0, under, reads = readCount, onChange }) {
  let now = value;
  let wrong = "";
  const trouble = h("p", { class: "trouble", role: "alert", hidden: true });
  /** @param {string} words */
  const say = (words) => {
    wrong = words;
    trouble.textContent = words;
    trouble.hidden = !words;
    input.setAttribute("aria-invalid", String(Boolean(words)));
  };
  const input = h("input", {
    type: "text",
    inputmode: least < 0 || decimals ? "decimal" : "numeric",
    "aria-label": name,
    autocomplete: "off",
    oninput: () => {
      fit();
      const read = reads(input.value);
      wrong = read.why || "";
      if (read.value !== undefined) set(read.value, false);
      if (!wrong) say("");
    },
    onblur: () => (wrong ? say(wrong) : show()),
    onfocus: () => input.select(),
  });
  const fit = () => {
    input.classList.toggle("long", input.value.length > 3);
    input.classList.toggle("words", input.value.length > 5);
  };
  const show = () => {
    input.value = String(Number(now.toFixed(decimals)));
    fit();
  };
  /** @param {number} next @param {boolean} [write] */
  const set = (next, write = true) => {
    const scale = 10 ** decimals;
    now = Math.min(most, Math.max(least, Math.round(next * scale) / scale));
    if (write) {
      show();
      say("");
    }
    onChange?.(now);
  };
  const keys = h(
    "div",
    { class: small ? "stepper small" : "stepper", role: "group", "aria-label": name },
    h("button", { type: "button", "aria-label": `${name}: less`, onclick: () => set(now - step) }, "−"),
    h("div", { class: "fig" }, input, under && h("small", null, under)),
    h("button", { type: "button", "aria-label": `${name}: more`, onclick: () => set(Math.max(now, Math.min(offers, now + step))) }, "+"),
  );
  show();
  const ask = () => {
    if (!wrong) return now;
    say(wrong);
    input.focus();
    return null;
  };
  return { element: h("div", null, keys, trouble), value: ask, set: (next) => set(next) };
}
