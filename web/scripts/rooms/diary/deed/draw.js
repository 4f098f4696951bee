// @ts-check
/** One entry, as elements. */
import { h } from "../../../lib/dom.js";
import { board, section, sheet, soft } from "../../../ui/board.js";
import { finishing, key } from "../../../ui/key.js";

/**
 * @typedef {ReturnType<typeof import("./seen.js").seeDeed>} Seen
 * @typedef {{takeBack: () => void, bringBack: () => void, before: () => void, plants: (batch: string) => void}} Does
 */

/** @param {Seen} seen @param {any} photos */
export function drawDeed({ verb, what, facts, gone, toldBy }, photos) {
  return sheet(
    section(
      h("h1", { class: "big" }, h("b", null, verb), ` ${what}`),
      h("p", { class: "soft" }, facts),
      photos,
      gone && h("p", null, h("b", null, "Taken back."), " It counts for nothing now."),
      toldBy && h("p", null, toldBy),
    ),
  );
}

/** @param {Seen} seen @param {HTMLElement} before where it is shown what it said before @param {Does} does */
export function drawKeys({ gone, fields }, before, does) {
  return [
    gone ? key("Bring it back", does.bringBack, { look: "solid" }) : key("Take it back", does.takeBack, { look: "gap" }),
    key("What it said before", does.before, { look: "gap" }),
    before,
    fields.batch && key("These plants", () => does.plants(fields.batch), { look: "gap" }),
  ];
}

/** @param {import("../../parts/form.js").Field[]} rows @param {{keep: () => void, correct: (event: Event) => void}} does */
export function drawCorrection(rows, { keep, correct }) {
  return h("form", { novalidate: true, oninput: keep, onsubmit: correct }, rows.map((row) => row.element), finishing(h("button", { class: "key solid", type: "submit" }, "Correct it")));
}

/** @param {ReturnType<typeof import("./seen.js").seeBefore>} rows */
export function drawBefore(rows) {
  return rows.length ? board(rows.map(({ field, words }) => h("p", { class: "line" }, h("b", null, field), soft(words)))) : h("p", { class: "soft note" }, "Nobody else has changed it.");
}

/** @param {string} words */
export function drawTrouble(words) {
  return h("p", { class: "trouble", role: "alert" }, words);
}
