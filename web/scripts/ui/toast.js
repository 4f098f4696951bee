// @ts-check
/** The undo strip: says what was written, and takes it back for twelve seconds. */
import { fill, h } from "../lib/dom.js";
import { glyph } from "./glyphs.js";
import { onRowTap } from "./touch.js";

const SHOWN_MS = 12_000;

/** @typedef {{say: string, undo?: () => void, key?: string}} Toast */

/** One strip for the whole app. */
export class UndoStrip {
  /** @type {any} */
  #timer = null;
  /** @type {(() => void) | null} */
  #undo = null;
  /** Nothing was touched since it was shown: the room that opens now is the way back of what it tells. */
  #fresh = false;

  constructor() {
    this.element = h("div", { class: "undo", role: "status", "aria-live": "polite", hidden: true });
    for (const name of ["pointerdown", "keydown"]) document.addEventListener(name, () => (this.#fresh = false), { capture: true, passive: true });
  }

  /** @param {Toast} toast */
  show({ say, undo, key = "Undo" }) {
    clearTimeout(this.#timer);
    this.#undo = undo || null;
    fill(
      this.element,
      h(
        "div",
        { class: "in" },
        h("p", { class: "t" }, say),
        undo && h("button", { type: "button", class: "back-key", onclick: onRowTap(() => this.undo()) }, key),
        h("button", { type: "button", class: "put-away", "aria-label": "Put this away", onclick: onRowTap(() => this.hide()) }, glyph("cross", 26)),
        undo && h("span", { class: "run" }),
      ),
    );
    this.element.hidden = false;
    document.documentElement.classList.add("tells");
    this.#fresh = true;
    this.#timer = setTimeout(() => this.hide(), SHOWN_MS);
  }

  /** Another room opens: the strip goes, unless it tells of what led there. What it offers stays on the row and in the Diary. */
  leave() {
    if (this.#fresh) this.#fresh = false;
    else this.hide();
  }

  /** Take back what the strip offers to. */
  undo() {
    const act = this.#undo;
    this.hide();
    act?.();
  }

  /** Put the strip away. */
  hide() {
    clearTimeout(this.#timer);
    this.#undo = null;
    this.element.hidden = true;
    document.documentElement.classList.remove("tells");
    fill(this.element);
  }
}
