// @ts-check
/** The varieties the household has seed of. */
import { fill, h } from "../../../lib/dom.js";
import { drawVarieties } from "./draw.js";
import { seeVarieties } from "./seen.js";

/** @param {import("../../../types.js").Context} context */
export function room({ book, go, back }) {
  const element = h("main", { class: "page", id: "room" });
  const does = { back, open: (/** @type {string} */ id) => go("form", "variety", id), fromList: () => go("seed-list") };
  const refresh = () => fill(element, drawVarieties(seeVarieties(book), does));
  refresh();
  return { element, title: "Varieties", refresh };
}
