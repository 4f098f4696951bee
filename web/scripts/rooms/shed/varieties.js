// @ts-check
/** The varieties the household has seed of. */
import { fill, h } from "../../lib/dom.js";
import { glyph } from "../../ui/glyphs.js";

/** @param {any} context */
export function room(context) {
  const { book, go, back } = context;
  const element = h("main", { class: "page", id: "room" });

  function refresh() {
    const rows = book.ofKind("variety").sort((/** @type {any} */ a, /** @type {any} */ b) => String(a.fields.name).localeCompare(String(b.fields.name)));
    fill(
      element,
      h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "Varieties")),
      !rows.length && h("div", { class: "board empty" }, h("p", null, "No seed is in the book yet: put down what a packet says, or bring a list.")),
      rows.length > 0 && h("div", { class: "board" }, rows.map((/** @type {any} */ variety) => h("button", { class: "line", type: "button", onclick: () => go("form", "variety", variety.id) }, h("b", null, variety.fields.name || "?"), h("span", { class: "soft" }, book.rulebook.crops?.[variety.fields.crop]?.many || variety.fields.crop || "")))),
      h("button", { class: "key", type: "button", onclick: () => go("form", "variety", "new") }, "Add a variety"),
      h("button", { class: "key", type: "button", style: { "margin-top": "10px" }, onclick: () => go("seed-list") }, "From a list of seeds"),
    );
  }

  refresh();
  return { element, title: "Varieties", refresh };
}
