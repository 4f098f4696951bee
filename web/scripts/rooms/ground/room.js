// @ts-check
/** Ground: the places in walking order, what stands there, and what is to do there. */
import { fill, h } from "../../lib/dom.js";
import { drawGround } from "./draw.js";
import { seeGround } from "./seen.js";

/** @param {import("../../types.js").Context} context */
export function room({ book, go, today }) {
  const element = h("main", { class: "page", id: "room" });
  const draw = () => fill(element, drawGround(seeGround(book, today()), go));
  draw();
  return { element, title: "Ground", refresh: (/** @type {string} */ what) => what === "records" && draw() };
}
