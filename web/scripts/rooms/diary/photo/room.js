// @ts-check
/** One photo, large. */
import { h } from "../../../lib/dom.js";
import { drawPhoto } from "./draw.js";
import { seePhoto } from "./seen.js";

/** @param {import("../../../types.js").Context} context params: photo */
export function room({ book, back, params }) {
  return { element: h("main", { class: "page", id: "room" }, drawPhoto(seePhoto(book, params[0]), back)), title: "Photo" };
}
