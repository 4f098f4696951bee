// @ts-check
/** Ground: the places in walking order, what stands there, and what is to do there. */
import { houses } from "../../household/names.js";
import { fill, h } from "../../lib/dom.js";
import { carrier, keepingArrow } from "../parts/carrying.js";
import { drawGround } from "./draw.js";
import { seeGround } from "./seen.js";

/** @param {import("../../types.js").Context} context */
export function room(context) {
  const { book, go, today } = context;
  const element = h("main", { class: "page", id: "room" });
  let carrying = false;
  const carry = carrier(context, () => houses(book), "on the walk");
  const toCarry = (/** @type {boolean} */ on) => {
    carrying = on;
    draw();
  };
  const draw = () => keepingArrow(element, () => fill(element, drawGround(seeGround(book, today()), { go, carrying, toCarry, carry })));
  draw();
  return { element, title: "Ground", refresh: (/** @type {string} */ what) => what === "records" && draw() };
}
