// @ts-check
/** One place, as elements. */
import { h } from "../../../lib/dom.js";
import { board, emptyBoard, heading, line, named, soft, titled } from "../../../ui/board.js";
import { chain } from "../../../ui/chain.js";
import { glyph } from "../../../ui/glyphs.js";
import { heldKey, key, keys } from "../../../ui/key.js";
import { plate } from "../../../ui/plate.js";
import { topRow } from "../../../ui/top.js";
import { onTap } from "../../../ui/touch.js";
import { carryList } from "../../parts/carrying.js";

/**
 * @typedef {NonNullable<ReturnType<typeof import("./seen.js").seePlace>>} Seen
 * @typedef {{back: () => void, go: (...way: [string, ...string[]]) => void, change: (fixture: import("./seen.js").Fixture) => void,
 *   carrying: boolean, toCarry: (on: boolean) => void, carry: import("../../parts/carrying.js").Carry, bed: HTMLElement, next: HTMLElement}} Does bed: the bed to scale, next: what comes next in it, each drawn by itself; carrying: whether the order of its
 *   beds is being changed
 */

/** @param {() => void} back */
export function drawGone(back) {
  return [topRow(back), emptyBoard("This place is not in the book any more.")];
}

/** @param {Seen} seen @param {Does} does */
export function drawPlace(seen, { back, go, change, carrying, toCarry, carry, bed: plan, next }) {
  const { id, name, house, bed, jobs, beds, chains, frost, plants, none, stored, store, fixtures } = seen;
  return [
    topRow(back, plate(house.walk, house.name), bed && h("span", { class: "bed" }, bed)),
    h("h1", { class: "unseen" }, name),
    plan,
    titled("To do here", jobs.map((job) => line(() => go("job", job.id), h("b", null, job.title), h("span", { class: job.past ? "past" : "soft" }, job.says)))),
    chains.length > 0 && [heading("What hangs on what"), chains.map((links) => chain(links, (one) => go("job", one)))],
    carrying ? [heading("In it"), carryList(beds, carry)] : titled("In it", beds.map((one) => line(() => go("place", one.id), named(one.name, one.holds), glyph("forward", 26)))),
    beds.length > 1 && heldKey(carrying ? "Their order is right so" : "Change their order", carrying, () => toCarry(!carrying), { look: "slim" }),
    frost && h("p", { class: "soft note gap" }, frost),
    store && [heading("What lies here"), board(stored.length ? stored.map((/** @type {any} */ one) => line(() => go("batch", one.batch), named(one.words, one.name), glyph("forward", 26))) : h("p", { class: "line soft" }, "Nothing yet. What you pick can go here when you jot it."))],
    !store && heading("What stands here"),
    !store && board(plants.length ? plants.map((/** @type {any} */ one) => line(() => go("batch", one.batch), named(one.words, one.name), soft(one.stage))) : h("p", { class: "line soft" }, none)),
    next,
    titled("Put up here", fixtures.map((fixture) => drawFixture(fixture, go, change))),
    h(
      "div",
      { class: "gap-l" },
      keys(
        "two",
        !store && key("A batch for here", () => go("plan", `place=${id}`)),
        !store && !bed && key("A bed in it", () => go("form", "place", "new", `within=${id}`, "sort=bed")),
        beds.length > 0 && !store && key("Lay out", () => go("layout", id)),
        !store && key("Last year's plan again", () => go("again", id)),
        key("Something put up here", () => go("form", "fixture", "new", `place=${id}`)),
        !store && key("What it takes", () => go("takes", `place=${id}`)),
        key("Thermometer", () => go("readings", id)),
        key("Change this place", () => go("form", "place", id)),
      ),
    ),
  ];
}

/** @param {import("./seen.js").Fixture} fixture @param {Does["go"]} go @param {Does["change"]} change */
function drawFixture(fixture, go, change) {
  const { id, name, says, key: words } = fixture;
  return h(
    "div",
    { class: "line" },
    h("button", { type: "button", class: "open", onclick: () => go("form", "fixture", id) }, h("b", null, name), h("br"), soft(says)),
    key(words, onTap(() => change(fixture)), { look: "slim", "aria-label": `${words}: ${name}` }),
  );
}
