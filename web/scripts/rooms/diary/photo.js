// @ts-check
/** One photo, large. */
import { fill, h } from "../../lib/dom.js";
import { longDay } from "../../lib/dates.js";
import { glyph } from "../../ui/glyphs.js";
import { photoImage } from "../parts/photo-views.js";

/** @param {any} context params: photo */
export function room(context) {
  const { book, back } = context;
  const photo = book.fields(context.params[0]);
  const element = h("main", { class: "page", id: "room" });
  fill(
    element,
    h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "Photo")),
    photo.sha256 ? [h("div", { class: "photo-large" }, photoImage(photo.sha256, { words: `Photo of ${longDay(photo.taken)}`, keep: false })), h("p", { class: "soft note" }, longDay(photo.taken))] : h("div", { class: "board empty" }, h("p", null, "This photo is not in the book any more.")),
  );
  return { element, title: "Photo" };
}
