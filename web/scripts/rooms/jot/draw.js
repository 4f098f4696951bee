// @ts-check
/** Jot, as elements: the slip, and the lists of which each answer is one tap. */
import { h } from "../../lib/dom.js";
import { board, heading, line, named, soft } from "../../ui/board.js";
import { glyph } from "../../ui/glyphs.js";
import { key } from "../../ui/key.js";
import { verbGlyph } from "./verb-glyphs.js";

/**
 * @typedef {import("./slip.js").Slip} Slip
 * @typedef {import("./slip.js").More} More
 * @typedef {{verb: (verb: string) => void, set: (part: Partial<Slip>) => void, elsewhere: () => void, unsay: (verbToo: boolean) => void, again: () => void, showAll: () => void, write: (said: Record<string, any>) => void,
 *   choose: (more: More) => void, type: (part: {note?: string, on?: string, more?: More}) => void, back: () => void, newBatch: () => void}} Does
 *   verb: says what was done; set: answers a question; elsewhere: not where one stands; choose: at the last question, drawn anew; type: kept as it is typed, not drawn
 */

/** @param {ReturnType<typeof import("./seen.js").seeFrame>} seen @param {string | null} trouble @param {Does} does */
export function drawFrame({ begun, who, did, to, last }, trouble, does) {
  const part = (/** @type {string} */ word, /** @type {{words: string, now: boolean}} */ seen, /** @type {() => void} */ act) =>
    h("button", { type: "button", "aria-current": seen.now ? "step" : null, onclick: act }, word, h("b", null, seen.words || "\u00a0"));
  return [
    h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": begun ? "Back" : "Close", onclick: does.back }, glyph(begun ? "back" : "cross", 32)), h("h1", null, "Jot")),
    h("div", { class: "slip" }, h("div", { class: "in" }, part("did", did, () => does.unsay(true)), part("to", to, () => (begun ? does.unsay(false) : does.elsewhere())), part("how many", last, () => {}))),
    h("p", { class: "soft note lead-note" }, who),
    trouble && h("p", { class: "trouble", role: "alert" }, trouble),
  ];
}

/** @param {ReturnType<typeof import("./seen.js").seeVerbs>} seen @param {Does} does */
export function drawVerbs({ verbs, others, more, again }, does) {
  return h(
    "div",
    null,
    h(
      "div",
      { class: "verbs" },
      verbs.map(({ verb, words }) => h("button", { type: "button", onclick: () => does.verb(verb) }, verbGlyph(verb), words)),
      more && h("button", { type: "button", onclick: does.showAll }, verbGlyph("more"), "More"),
    ),
    others.length > 0 && h("div", { class: "verbs words gap" }, others.map(({ verb, words }) => h("button", { type: "button", onclick: () => does.verb(verb) }, verbGlyph(verb, 30), words))),
    again && h("div", { class: "jot-below" }, key(["Same again", h("small", null, again)], does.again)),
  );
}

/** @param {ReturnType<typeof import("./seen.js").seeBatches>} seen @param {HTMLElement} find the line to type in: not moved, so that it keeps the keyboard @param {Does} does */
export function drawBatches({ verb, find: long, groups, none, toBook, more, wholePlace }, find, does) {
  return [
    asks(verb, " which plants?"),
    long && find,
    groups.map(({ title, lines }) => [title && heading(title), board(lines.map((one) => drawBatch(one, does)))]),
    none && board(h("p", { class: "line" }, none)),
    more && board(line(does.showAll, h("b", null, more), glyph("forward", 26))),
    wholePlace && key("A whole place, not one batch", () => does.set(wholePlace)),
    toBook && key(toBook, does.newBatch),
  ];
}

/** @param {{id: string, crop: string, name: string, where: string, says: string}} batch @param {Does} does */
function drawBatch({ id, crop, name, where, says }, does) {
  return line(() => does.set({ batch: id }), h("span", null, h("b", null, crop), name && ` ${name}`, h("br"), soft(where)), soft(says));
}

/** @param {ReturnType<typeof import("./seen.js").seePlaces>} seen @param {HTMLElement} find the line to type in @param {Does} does */
export function drawPlaces({ verb, find: long, places, none }, find, does) {
  return [
    asks(verb, " where?"),
    long && find,
    board(places.map(({ id, name, says }) => line(() => does.set({ place: id }), h("b", null, name), says ? soft(says) : glyph("forward", 26))), !places.length && h("p", { class: "line" }, none)),
  ];
}

/** @param {string} verb @param {string} words */
function asks(verb, words) {
  return h("h2", { class: "ask" }, h("b", null, verb), words);
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
      !fixtures.length && h("p", { class: "line" }, "Nothing of that kind to hand. Shelves, strings, nets and hoses are put down in Ground."),
    ],
  );
}

/** @param {any} question @param {any} lines @param {any} [below] */
export function list(question, lines, below) {
  return h("div", null, h("h2", { class: "ask" }, question), h("div", { class: "board" }, lines), below);
}
