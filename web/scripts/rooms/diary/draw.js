// @ts-check
/** The Diary, as elements. */
import { h } from "../../lib/dom.js";
import { board, emptyBoard, soft } from "../../ui/board.js";
import { heldKey, key } from "../../ui/key.js";
import { photoImage } from "../parts/photo-views.js";
import { smallPrint } from "./seen.js";

/**
 * @typedef {import("./seen.js").Line} Line
 * @typedef {import("./seen.js").Asked} Asked
 * @typedef {{open: (id: string) => void, takeBack: (line: Line) => void, ask: (part: Partial<Asked>) => void, jot: () => void}} Does
 */

/** What holds still while lines come. @param {{find: HTMLElement, head: HTMLElement, keys: HTMLElement, list: HTMLElement, more: HTMLElement}} parts */
export function drawAround({ find, head, keys, list, more }) {
  return [
    h("header", { class: "head" }, h("h1", null, "Diary"), head),
    find,
    keys,
    list,
    more,
  ];
}

/** @param {Asked} asked @param {Does} does */
export function drawKeys(asked, { ask, jot }) {
  return [
    heldKey("This week last year", asked.lastYear, () => ask({ lastYear: !asked.lastYear, all: asked.all || !asked.lastYear })),
    heldKey("Only picked", asked.picked, () => ask({ picked: !asked.picked })),
    key("Jot", jot),
  ];
}

/** @param {ReturnType<typeof import("./seen.js").seeDiary>} seen @param {Does} does */
export function drawDays({ days, none, older }, does) {
  return [
    days.map(({ name, read, lines }) =>
      h("section", null, h("div", { class: "dayhead" }, h("h2", null, name), h("span", { class: "soft note" }, read)), board(lines.map((line) => drawLine(line, does)))),
    ),
    none && h("div", { class: "gap-l" }, emptyBoard(none)),
    older && key("Older seasons too", () => does.ask({ all: true }), { look: "gap-l" }),
  ];
}

/** @param {Line} line @param {Does} does */
function drawLine(line, { open, takeBack }) {
  const small = smallPrint(line);
  const inside = [
    h("b", null, line.verb),
    ` ${line.what}`,
    small && soft(small),
    line.extra && soft(line.extra),
    line.note && h("span", { class: "quote" }, `“${line.note}”`),
    line.thumbs.length > 0 && h("span", { class: "photos" }, line.thumbs.map((thumb) => photoImage(thumb, { words: "photo", keep: true }))),
    line.kept && soft("on this phone only"),
  ];
  if (line.sort === "deed") return h("button", { class: "entry", type: "button", onclick: () => open(line.id) }, inside);
  return h("div", { class: "entry with-key" }, h("div", null, inside), key("Take back", () => takeBack(line), { look: "slim", "aria-label": `Take back: ${line.verb} ${line.what}` }));
}
