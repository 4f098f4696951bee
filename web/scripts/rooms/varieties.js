// @ts-check
/** The varieties the household has seed of. */
import { fill, h } from "../lib/dom.js";
import { glyph } from "../ui/glyphs.js";

/** @param {any} context */
export function room(context) {
  const { book, go, back } = context;
  const element = h("main", { class: "page", id: "room" });

  function refresh() {
    const rows = book.ofKind("variety").sort((/** @type {any} */ a, /** @type {any} */ b) => String(a.fields.name).localeCompare(String(b.fields.name)));
    fill(
      element,
      h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "Varieties")),
      h("div", { class: "board" }, rows.map((/** @type {any} */ variety) => h("button", { class: "line", type: "button", onclick: () => go("form", "variety", variety.id) }, h("b", null, variety.fields.name || "?"), h("span", { class: "soft" }, book.rulebook.crops?.[variety.fields.crop]?.many || variety.fields.crop || "")))),
      h("button", { class: "key", type: "button", onclick: () => go("form", "variety", "new") }, "Add a variety"),
    );
  }

  refresh();
  return { element, title: "Varieties", refresh };
}
