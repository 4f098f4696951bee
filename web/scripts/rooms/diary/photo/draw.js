// @ts-check
/** One photo, as elements. */
import { h } from "../../../lib/dom.js";
import { emptyBoard } from "../../../ui/board.js";
import { top } from "../../../ui/top.js";
import { photoImage } from "../../parts/photo-views.js";

/** @param {ReturnType<typeof import("./seen.js").seePhoto>} seen @param {() => void} back */
export function drawPhoto(seen, back) {
  if (!seen) return [top(back, "Photo"), emptyBoard("This photo is not in the book any more.")];
  return [top(back, "Photo"), h("div", { class: "photo-large" }, photoImage(seen.sha256, { words: `Photo of ${seen.day}`, keep: false })), h("p", { class: "soft note" }, seen.day)];
}
