// @ts-check
/** Questions whose answer works at once: a choice, a line, a day, a count. Forms that are written down have `form-parts`. */
import { h } from "../../lib/dom.js";
import { stepper } from "../../ui/stepper.js";

/** @param {string} label @param {string} value @param {string[][]} options @param {(value: string) => void} act @param {string} [none] */
export function choice(label, value, options, act, none = "—") {
  const select = h("select", { onchange: () => act(select.value) }, h("option", { value: "" }, none), options.map(([id, words]) => h("option", { value: id }, words)));
  select.value = options.some(([id]) => id === value) ? value : "";
  return h("label", { class: "field" }, h("span", null, label), select);
}

/** @param {string} label @param {string} value @param {(value: string) => void} act @param {string} help */
export function line(label, value, act, help) {
  const input = h("input", { type: "text", maxlength: 200, autocomplete: "off", value, oninput: () => act(input.value) });
  return h("label", { class: "field" }, h("span", null, label), input, h("small", null, help));
}

/** @param {string} label @param {string} value @param {(value: string) => void} act @param {string} [help] */
export function dateLine(label, value, act, help) {
  const input = h("input", { type: "date", value, onchange: () => act(input.value) });
  return h("label", { class: "field" }, h("span", null, label), input, help && h("small", null, help));
}

/** @param {string} label @param {number} value @param {(value: number) => void} act @param {number} [most] */
export function count(label, value, act, most) {
  return h("div", { class: "field" }, h("span", null, label), stepper({ value: Number(value) || 1, least: 1, most, name: label, small: true, onChange: act }).element);
}
