// @ts-check
/** Catching up, as elements. */
import { h } from "../../lib/dom.js";
import { board, emptyBoard, lead } from "../../ui/board.js";
import { key, keyGroup } from "../../ui/key.js";
import { plate } from "../../ui/plate.js";
import { top } from "../../ui/top.js";
import { onTap } from "../../ui/touch.js";

/**
 * @typedef {import("./seen.js").Row} Row
 * @typedef {{back: () => void, batch: (id: string) => void, answer: (row: Row, at: number, day: string | null) => void}} Does
 */

/** @param {ReturnType<typeof import("./seen.js").seeCatchUp>} seen @param {string} today @param {Does} does */
export function drawCatchUp({ lead: words, places }, today, does) {
  return [
    top(does.back, "Catch up"),
    places.length ? lead(words) : emptyBoard(words, key("Back to the Round", does.back)),
    places.map(({ walk, name, rows }) =>
      h(
        "section",
        { "aria-label": name },
        h("div", { class: "placehead" }, h("h2", null, plate(walk, name)), h("span", { class: "soft" }, `${rows.length}`)),
        board(rows.map((row) => drawRow(row, today, does))),
      ),
    ),
  ];
}

/** @param {Row} row @param {string} today @param {Does} does */
function drawRow(row, today, does) {
  const { line } = row;
  /** @type {HTMLInputElement | null} */
  const day = line.about ? /** @type {any} */ (h("input", { type: "date", value: line.about, max: today, "aria-label": `${row.title}: about when` })) : null;
  const write = (/** @type {number} */ at) => onTap(() => does.answer(row, at, day && day.value ? day.value : line.about));
  const [so, ...others] = line.ways;
  return h(
    "div",
    { class: "believed", "data-batch": row.batch },
    h("button", { class: "t", type: "button", onclick: () => does.batch(row.batch) }, h("b", null, row.title), row.beside && h("span", { class: "soft" }, ` ${row.beside}`), h("br"), h("span", null, row.says)),
    h("div", { class: "so" }, key(so.say, write(0), { look: "solid" }), day && h("label", { class: "about" }, h("span", null, "about"), day)),
    keyGroup(`${row.title}: or`, "three", others.map((way, at) => key(way.say, write(at + 1), { look: "slim" }))),
  );
}
