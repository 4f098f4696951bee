// @ts-check
/** The household's own pots and trays. */
import { fill, h } from "../../../lib/dom.js";
import { drawVessels } from "./draw.js";
import { seeVessels } from "./seen.js";

/** @param {import("../../../types.js").Context} context */
export function room({ book, go, back }) {
  const element = h("main", { class: "page", id: "room" });
  const refresh = () => fill(element, drawVessels(seeVessels(book), { back, open: (id) => go("form", "vessel", id) }));
  refresh();
  return { element, title: "Pots and trays", refresh };
}
