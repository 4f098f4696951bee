// @ts-check
/** Twelve pairs of mean night minimum and day maximum: asked for, read, and what is wrong with them said. */
import { readDegrees } from "../../../lib/amounts.js";
import { h } from "../../../lib/dom.js";
import { inField, unitName } from "../../../lib/quantities.js";

const MONTH_NAMES = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const MOST_C = 60;

/**
 * The months that were typed; all of them or none.
 * @param {string[]} texts 24, each month's night before its day
 * @returns {{value?: number[][] | null, wrong?: string}} °C
 */
export function readMonths(texts) {
  const typed = texts.map((text) => text.trim().replace(",", "."));
  if (typed.every((text) => !text)) return { value: null };
  const numbers = typed.map((text) => readDegrees(text).value ?? NaN);
  if (typed.some((text) => !text) || numbers.some((number) => !(Math.abs(number) <= MOST_C))) return { wrong: "Give all twelve pairs as numbers, or leave all of them empty." };
  const months = MONTH_NAMES.map((_, at) => [numbers[2 * at], numbers[2 * at + 1]]);
  const bad = months.findIndex(([low, high]) => low > high);
  return bad < 0 ? { value: months } : { wrong: `In ${MONTH_NAMES[bad]} the night is warmer than the day. Change one of them.` };
}

/** @param {number[][] | undefined} normals °C, as they are in the book */
export function monthFields(normals) {
  const wrong = h("small", { class: "bad", role: "alert" });
  const unit = unitName("degrees");
  const field = (/** @type {number} */ at, /** @type {number} */ end) =>
    h("input", { type: "text", inputmode: "decimal", "aria-label": `${MONTH_NAMES[at]}, mean ${end ? "day maximum" : "night minimum"} in ${unit}`, value: normals?.[at] ? inField("degrees", normals[at][end]) : "" });
  const pairs = MONTH_NAMES.map((_, at) => [field(at, 0), field(at, 1)]);
  const first = pairs.flat().map((input) => input.value);
  const element = h(
    "fieldset",
    { class: "field" },
    h("legend", null, `Mean night and day of each month, ${unit}`),
    h("small", null, "From a weather service near you. All twelve, or none: then a lowland site at 53° north stands in."),
    h("div", { class: "months" }, MONTH_NAMES.map((month, at) => [h("span", null, month), ...pairs[at]])),
    wrong,
  );
  return {
    element,
    /** @param {number[][]} given °C */
    put: (given) => given.forEach((pair, at) => pair.forEach((degrees, end) => (pairs[at][end].value = inField("degrees", degrees)))),
    /** @param {string | null} words */
    say: (words) => (wrong.textContent = words || ""),
    /** What is new in them; null for nothing. */
    read: () => {
      const typed = pairs.flat().map((input) => input.value);
      if (typed.every((text, at) => text === first[at])) return { value: null };
      const read = readMonths(typed);
      return JSON.stringify(read.value) === JSON.stringify(normals) ? { value: null } : read;
    },
  };
}
