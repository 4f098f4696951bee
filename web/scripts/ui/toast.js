// @ts-check
/** The undo strip: says what was written, and takes it back for twelve seconds. */
import { fill, h } from "../lib/dom.js";
import { onTap } from "./touch.js";

const SHOWN_MS = 12_000;

/** @typedef {{say: string, undo?: () => void, key?: string}} Toast */

/** One strip for the whole app. */
export class UndoStrip {
  /** @type {any} */
  #timer = null;
  /** @type {(() => void) | null} */
  #undo = null;

  constructor() {
    this.element = h("div", { class: "undo", role: "status", "aria-live": "polite", hidden: true });
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
        undo && h("button", { type: "button", onclick: onTap(() => this.undo()) }, key),
        undo && h("span", { class: "run" }),
      ),
    );
    this.element.hidden = false;
    this.#timer = setTimeout(() => this.hide(), SHOWN_MS);
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
    fill(this.element);
  }
}
