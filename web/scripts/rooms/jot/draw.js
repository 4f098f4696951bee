// @ts-check
/** Jot, as elements: the slip, and the lists of which each answer is one tap. */
import { h } from "../../lib/dom.js";
import { line, named, soft } from "../../ui/board.js";
import { glyph } from "../../ui/glyphs.js";
import { key } from "../../ui/key.js";

/**
 * @typedef {import("./slip.js").Slip} Slip
 * @typedef {import("./slip.js").More} More
 * @typedef {{set: (part: Partial<Slip>) => void, unsay: (verbToo: boolean) => void, again: () => void, showAll: () => void, write: (said: Record<string, any>) => void,
 *   choose: (more: More) => void, type: (part: {note?: string, on?: string, more?: More}) => void, back: () => void, newBatch: () => void}} Does
 *   set: answers a question; choose: at the last question, drawn anew; type: kept as it is typed, not drawn
 */

/** @param {ReturnType<typeof import("./seen.js").seeFrame>} seen @param {string | null} trouble @param {Does} does */
export function drawFrame({ begun, who, did, to, last }, trouble, does) {
  const part = (/** @type {string} */ word, /** @type {{words: string, now: boolean}} */ seen, /** @type {() => void} */ act) =>
    h("button", { type: "button", "aria-current": seen.now ? "step" : null, onclick: act }, word, h("b", null, seen.words || "\u00a0"));
  return [
    h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": begun ? "Back" : "Close", onclick: does.back }, glyph(begun ? "back" : "cross", 32)), h("h1", null, "Jot")),
    h("div", { class: "slip" }, h("div", { class: "in" }, part("did", did, () => does.unsay(true)), part("to", to, () => begun && does.unsay(false)), part("how many", last, () => {}))),
    h("p", { class: "soft note lead-note" }, who),
    trouble && h("p", { class: "trouble", role: "alert" }, trouble),
  ];
}

/** @param {ReturnType<typeof import("./seen.js").seeVerbs>} seen @param {Does} does */
export function drawVerbs({ verbs, more, again }, does) {
  return h(
    "div",
    null,
    h(
      "div",
      { class: "verbs" },
      verbs.map(({ verb, words }) => h("button", { type: "button", onclick: () => does.set({ did: verb }) }, glyph(verb, 46, 2.3), words)),
      more && h("button", { type: "button", onclick: does.showAll }, glyph("more", 46), "More"),
    ),
    again && h("div", { class: "jot-below" }, key(["Same again", h("small", null, again)], does.again)),
  );
}

/** @param {ReturnType<typeof import("./seen.js").seeBatches>} seen @param {Does} does */
export function drawBatches({ verb, batches, more, wholePlace }, does) {
  return list(
    [h("b", null, verb), " which plants?"],
    [
      batches.map(({ id, name, crop, where, says }) => line(() => does.set({ batch: id }), h("span", null, h("b", null, name), " ", crop, h("br"), soft(where)), soft(says))),
      !batches.length && none("Nothing grows that this could be done to. Put down a batch first, in Ground."),
      more && h("button", { class: "line firm", type: "button", onclick: does.showAll }, h("b", null, more), glyph("forward", 26)),
    ],
    [wholePlace && key("A whole place, not one batch", () => does.set(wholePlace)), !batches.length && key("Put down a batch", does.newBatch)],
  );
}

/** @param {ReturnType<typeof import("./seen.js").seePlaces>} seen @param {Does} does */
export function drawPlaces({ verb, places }, does) {
  return list(
    [h("b", null, verb), " where?"],
    [places.map(({ id, name }) => line(() => does.set({ place: id }), h("b", null, name), glyph("forward", 26))), !places.length && none("No places yet. Put them down first, in Ground.")],
  );
}

/** The last question for a fixture: one tap writes. @param {ReturnType<typeof import("./seen.js").seeFixtures>} seen @param {Does} does */
export function drawFixtures({ verb, fixtures }, does) {
  const tapped = (/** @type {string} */ fixture, /** @type {string | null} */ place) => {
    does.set({ fixture, place });
    does.write({});
  };
  return list(
    [h("b", null, verb), " what?"],
    [
      fixtures.map(({ id, name, place, where }) => line(() => tapped(id, place), named(name, where), glyph("tick", 26))),
      !fixtures.length && none("Nothing of that kind to hand. Shelves, strings, nets and hoses are put down in Ground."),
    ],
  );
}

/** @param {any} question @param {any} lines @param {any} [below] */
export function list(question, lines, below) {
  return h("div", null, h("h2", { class: "ask" }, question), h("div", { class: "board" }, lines), below);
}

/** @param {string} words */
function none(words) {
  return h("p", { class: "line" }, words);
}
