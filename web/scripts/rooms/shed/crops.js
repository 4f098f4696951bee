// @ts-check
/** Every crop there is a calendar for: what the household grows first, then the rest; and crops of its own. */
import { fill, h } from "../../lib/dom.js";
import { counted } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { ownNumbers } from "../../household/crop-numbers.js";
import { familyName } from "../../household/names.js";

const asked = { name: "" };

/** @param {any} context */
export function room(context) {
  const { book, go, back } = context;
  const element = h("main", { class: "page", id: "room" });
  const list = h("div");
  const search = h("input", { type: "search", class: "field-like", "aria-label": "Find a crop", placeholder: "Find a crop", autocomplete: "off", value: asked.name, oninput: () => { asked.name = search.value; draw(); } });

  function draw() {
    const crops = Object.entries(book.rulebook.crops || {}).map(([id, crop]) => ({ id, many: /** @type {any} */ (crop).many, family: familyName(/** @type {any} */ (crop).family) }));
    const wanted = asked.name.trim().toLowerCase();
    const found = crops.filter((crop) => `${crop.many} ${crop.family}`.toLowerCase().includes(wanted)).sort((a, b) => a.many.localeCompare(b.many));
    const grown = new Set(book.ofKind("variety").map((/** @type {any} */ one) => one.fields.crop));
    const parts = [["Grown here", found.filter((crop) => grown.has(crop.id))], [grown.size ? "Known too" : "Known", found.filter((crop) => !grown.has(crop.id))]];
    fill(
      list,
      !crops.length && h("div", { class: "board empty" }, h("p", null, "What is known of crops has not come from the server yet. Open the app once where it answers.")),
      crops.length > 0 && !found.length && h("div", { class: "board empty" }, h("p", null, `No crop is called “${asked.name.trim()}”. It may go by another name; or make it a crop of your own.`)),
      parts.map(([title, rows]) => rows.length > 0 && [h("h2", { class: "h" }, title), h("div", { class: "board" }, /** @type {any[]} */ (rows).map(row))]),
    );
  }

  /** @param {{id: string, many: string, family: string}} crop */
  function row(crop) {
    const own = ownNumbers(book, "crop", crop.id).size;
    const made = book.ofKind("crop").some((/** @type {any} */ one) => one.fields.crop === crop.id && (one.fields.like || one.fields.calendar));
    const words = [made && "your own crop", own > 0 && `${counted(own, "number")} of your own`].filter(Boolean).join(", ") || crop.family;
    return h("button", { class: "line", type: "button", onclick: () => go("crop", crop.id) }, h("span", null, h("b", null, crop.many), h("br"), h("span", { class: "soft" }, words)), glyph("forward", 26));
  }

  fill(
    element,
    h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "Crops")),
    h("label", { class: "field" }, search),
    list,
    h("button", { class: "key", type: "button", onclick: () => go("own-crop") }, "A crop of your own"),
  );
  draw();
  return { element, title: "Crops", refresh: (/** @type {string} */ what) => { if (what === "records") draw(); } };
}
