// @ts-check
/** The Round as elements: from what is to be seen, and what its keys do. */
import { fill, h } from "../../lib/dom.js";
import { fold } from "../../ui/fold.js";
import { glyph } from "../../ui/glyphs.js";
import { mark } from "../../ui/mark.js";
import { plate } from "../../ui/plate.js";

/**
 * @typedef {import("../../types.js").Job} Job
 * @typedef {import("./seen.js").Section} Section
 * @typedef {import("./seen.js").Fold} Fold
 * @typedef {(name: string, ...params: string[]) => void} Go
 */

const TIMES = [0, 20, 45, 90];

/** @param {{day: string, sharing: string, words: string, light: string}} seen @returns {any[]} */
export function drawHead({ day, sharing, words, light }) {
  return [
    h("div", { class: "two" }, h("h1", null, day), h("span", { class: "light" }, light)),
    h("p", { class: "two" }, h("b", { "aria-live": "polite" }, words), h("span", { class: "soft" }, sharing)),
  ];
}

/** The keys for how long there is. @param {number} chosen @param {(minutes: number) => void} choose */
export function drawTimes(chosen, choose) {
  return h(
    "div",
    { class: "timer", role: "group", "aria-label": "How long have you got?" },
    h("span", { class: "lead" }, "I have"),
    TIMES.map((minutes) =>
      h(
        "button",
        { type: "button", "aria-pressed": String(chosen === minutes), "data-minutes": minutes, onclick: () => choose(minutes) },
        minutes ? [minutes, " ", h("small", null, "min")] : "any",
      ),
    ),
  );
}

/** @param {string | null} words @param {() => void} act */
export function drawCatchUp(words, act) {
  return words && h("div", { class: "board" }, h("button", { class: "line tall", type: "button", onclick: act }, h("span", null, h("b", null, "Catch up"), h("br"), words), glyph("forward", 26)));
}

/** What the time leaves out, and what of it runs out. @param {{all: string, pressing: string, calm: string}} seen */
export function drawLeftOut({ all, pressing, calm }) {
  if (!all) return h("p", { class: "left-out soft" }, calm);
  return h("p", { class: "left-out" }, all, pressing ? h("b", null, pressing) : h("span", { class: "soft" }, calm));
}

/**
 * A house and its rows, in the element it had before.
 * @param {HTMLElement} element
 * @param {Section} section
 * @param {{row: (job: Job) => HTMLElement, left: number, unfold: () => void, done: boolean, showDone: (open: boolean) => void}} given left:
 *   rows to draw at most; done: whether what was done a while ago is shown
 */
export function drawSection(element, section, { row, left, unfold, done, showDone }) {
  element.setAttribute("aria-label", section.name);
  return fill(
    element,
    h("div", { class: "placehead" }, h("h2", null, plate(section.walk, section.name)), h("span", { class: "soft" }, section.says)),
    section.rows.slice(0, left).map(row),
    section.folded
      ? fold({ title: `${section.waiting.length} waiting here`, open: false, onToggle: unfold, inside: () => null })
      : section.waiting.map(row),
    section.done.length > 0 && fold({ title: `${section.done.length} done`, open: done, onToggle: showDone, inside: () => section.done.map(row) }),
  );
}

/**
 * @param {Fold} seen
 * @param {{row: (job: Job) => HTMLElement, go: Go, toggle: (open: boolean) => void}} given
 */
export function drawFold(seen, { row, go, toggle }) {
  return fold({
    title: seen.title,
    open: seen.open,
    onToggle: toggle,
    inside: () => (seen.rows.length ? seen.rows.map(row) : drawDays(seen, go)),
  });
}

/** @param {Fold} seen @param {Go} go */
function drawDays({ days, more }, go) {
  const line = (/** @type {{id: string, title: string, subject: string}} */ { id, title, subject }) =>
    h("button", { class: "line", type: "button", onclick: () => go("job", id) }, h("span", null, h("b", null, title), " ", h("span", { class: "soft" }, subject)), glyph("forward", 26));
  return [days.map(({ day, lines }) => [h("h3", { class: "h" }, day), h("div", { class: "board" }, lines.map(line))]), more && h("p", { class: "soft" }, more)];
}

/** @param {ReturnType<typeof import("./seen.js").seeEnd>} seen @param {{row: (job: Job) => HTMLElement, go: Go}} given */
export function drawEnd({ title, marks, next, rows }, { row, go }) {
  return h(
    "div",
    { class: "end-of-day" },
    h("div", { class: "keys", "aria-hidden": "true" }, Array.from({ length: marks }, () => mark("done"))),
    h("h2", { class: "h" }, title),
    h("p", null, "Nothing more can be done today."),
    h(
      "div",
      { class: "board" },
      next &&
        h(
          "button",
          { class: "line tall", type: "button", onclick: () => go("job", next.id) },
          h("span", null, h("span", { class: "soft" }, "next by-day"), h("br"), h("b", null, next.words)),
          glyph("forward", 26),
        ),
      h("button", { class: "line", type: "button", onclick: () => go("diary") }, h("b", null, "What was done today"), glyph("forward", 26)),
    ),
    rows.map(row),
  );
}

/** @param {string} words */
export function drawLack(words) {
  return h("div", { class: "board" }, h("p", { class: "line", role: "status" }, words));
}

/** @param {ReturnType<typeof import("./seen.js").seeNothing>} seen @param {() => void} act */
export function drawNothing({ title, words, key }, act) {
  return h("div", { class: "board empty" }, title && h("h2", { class: "h" }, title), h("p", { role: "status" }, words), key && h("button", { class: "key solid", type: "button", onclick: act }, key));
}
