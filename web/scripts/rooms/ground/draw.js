// @ts-check
/** Ground, as elements. */
import { h } from "../../lib/dom.js";
import { board, soft } from "../../ui/board.js";
import { glyph } from "../../ui/glyphs.js";
import { heldKey, key, keys } from "../../ui/key.js";
import { plate } from "../../ui/plate.js";
import { carryList } from "../parts/carrying.js";
import { fiveMetres, housePlan, scaleFor } from "../../ui/house-plan.js";

/**
 * @param {ReturnType<typeof import("./seen.js").seeGround>} seen
 * @param {{go: (...way: [string, ...string[]]) => void, carrying: boolean, toCarry: (on: boolean) => void, carry: import("../parts/carrying.js").Carry}} does
 *   carrying: whether the walking order is being changed
 */
export function drawGround({ words, houses, drawn }, { go, carrying, toCarry, carry }) {
  const scale = scaleFor(houses.map(({ beds }) => beds));
  return [
    h("header", { class: "head" }, h("h1", null, "Ground"), h("p", { class: "two soft" }, h("span", null, words), drawn && h("span", { class: "scale" }, fiveMetres(scale), "5\u00a0m"))),
    carrying ? carryList(houses, carry) : houses.length ? board(houses.map((house) => drawHouse(house, scale))) : drawNone(),
    houses.length > 1 && h("div", { class: "gap-below" }, heldKey(carrying ? "The walk is right so" : "Change the walking order", carrying, () => toCarry(!carrying))),
    keys("two", key("Add a place", () => go("form", "place", "new", "sort=house")), key("Add a batch", () => go("plan"))),
    h("div", { class: "gap" }, keys("two", key("Room through the year", () => go("fullness")), key("Add something put up", () => go("form", "fixture", "new")), key("A job by hand", () => go("form", "job", "new")))),
  ];
}

function drawNone() {
  return h(
    "div",
    { class: "board empty" },
    h("p", null, "No places yet. A house, the tunnel, the plot: each has its number in the order you walk."),
    h("p", { class: "soft" }, "Beds, benches and propagators go inside them."),
  );
}

/** @param {import("./seen.js").House} house @param {number} scale pixels a centimetre */
function drawHouse({ id, walk, name, cover, says, past, holds, beds }, scale) {
  return h(
    "a",
    { class: "place-row", href: `#/place/${id}` },
    h("span", null, plate(walk, name), h("span", { class: "says" }, h("b", null, says), past && h("b", { class: "past" }, past), h("br"), soft(holds))),
    h("span", { class: "plan" }, housePlan(beds, cover, scale) || glyph("forward", 26)),
  );
}
