// @ts-check
/** The count: great minus and plus keys, a figure that can also be typed, and keys that jump to usual numbers. */
import { readCount } from "../lib/amounts.js";
import { h } from "../lib/dom.js";
import { toShown, toStored, unitName } from "../lib/quantities.js";

const METRIC = new Set(["°C", "cm", "g", "L"]);
/** How the keys count in °F, inches and ounces, and in pints. */
const TURNED = { step: 1, decimals: 1 };
const PINTS = { step: 0.1, decimals: 2 };
/** What is kept of it: thousandths. */
const STORED = 1000;

/**
 * How a figure stands and counts: as the household measures, or as it is.
 * @param {import("../lib/quantities.js").Sort | null} of
 * @param {{step: number, decimals: number, least: number, most: number}} metric
 */
function measured(of, { step, decimals, least, most }) {
  if (of === null || METRIC.has(unitName(of))) return { turned: false, pace: { step, decimals }, shown: (/** @type {number} */ amount) => amount, stored: (/** @type {number} */ figure) => figure };
  const within = (/** @type {number} */ amount) => Math.min(most, Math.max(least, amount));
  return {
    turned: true,
    pace: of === "volume" ? PINTS : TURNED,
    shown: (/** @type {number} */ amount) => toShown(of, amount),
    stored: (/** @type {number} */ figure) => within(Math.round(toStored(of, figure) * STORED) / STORED),
  };
}

/**
 * Amounts go in and out in metric; where they are `of` something measured they stand here as the household measures.
 * @param {{value: number, least?: number, most?: number, offers?: number, step?: number, name: string, small?: boolean, decimals?: number,
 *   under?: string, of?: import("../lib/quantities.js").Sort | null, reads?: (text: string) => import("../lib/amounts.js").Amount, onChange?: (value: number) => void}} given reads: what
 *   is typed; offers: as far as the key goes, though more can be typed
 * @returns {{element: HTMLElement, value: () => number | null, set: (value: number) => void}} value: null while what is typed is not
 *   understood; asked for, it says so at the field
 */
export function stepper({ value, least = 0, most = 99999, offers = most, step = 1, name, small = false, decimals = 0, under, of = null, reads = readCount, onChange }) {
  const { turned, pace, shown, stored } = measured(of, { step, decimals, least, most });
  let now = shown(value);
  const even = () => (turned && pace.step === 1 ? Math.round(now) : now); // 51.8 °F goes on to 52 and 53
  let wrong = "";
  const trouble = h("p", { class: "trouble", role: "alert", hidden: true });
  const say = (/** @type {string} */ words) => {
    wrong = words;
    trouble.textContent = words;
    trouble.hidden = !words;
    input.setAttribute("aria-invalid", String(Boolean(words)));
  };
  const input = h("input", {
    type: "text",
    inputmode: least < 0 || pace.decimals ? "decimal" : "numeric",
    "aria-label": name,
    autocomplete: "off",
    oninput: () => {
      fit();
      const read = reads(input.value);
      wrong = read.why || "";
      if (read.value !== undefined) set(shown(read.value), false);
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
    input.value = String(Number(now.toFixed(pace.decimals)));
    fit();
  };
  /** @param {number} next @param {boolean} [write] */
  const set = (next, write = true) => {
    const scale = 10 ** pace.decimals;
    now = Math.min(shown(most), Math.max(shown(least), Math.round(next * scale) / scale));
    if (write) {
      show();
      say("");
    }
    onChange?.(stored(now));
  };
  const keys = h(
    "div",
    { class: small ? "stepper small" : "stepper", role: "group", "aria-label": name },
    h("button", { type: "button", "aria-label": `${name}: less`, onclick: () => set(even() - pace.step) }, "−"),
    h("div", { class: "fig" }, input, under && h("small", null, under)),
    h("button", { type: "button", "aria-label": `${name}: more`, onclick: () => set(Math.max(now, Math.min(shown(offers), even() + pace.step))) }, "+"),
  );
  show();
  const refuse = () => {
    say(wrong);
    input.focus();
    return null;
  };
  return { element: h("div", null, keys, trouble), value: () => (wrong ? refuse() : stored(now)), set: (next) => set(shown(next)) };
}
