// @ts-check
/** One crop (or one variety of it) as this household grows it: each number, the calendar's beside it where they differ. */
import { ownWish, valueWords } from "../../../household/crop-numbers.js";
import { fill, h } from "../../../lib/dom.js";
import { kept } from "../../../lib/words.js";
import { drawCrop } from "./draw.js";
import { madeCrop, nameOf, seeCrop } from "./seen.js";

/** @param {import("../../../types.js").Context} context params: crop, and the id of a variety */
export function room(context) {
  const crop = new CropNumbers(context);
  void crop.ask();
  return { element: crop.element, title: crop.name, refresh: (/** @type {string} */ what) => crop.refresh(what) };
}

class CropNumbers {
  /** @type {any} The server's answer. */
  #calendar = null;

  /** @param {import("../../../types.js").Context} context */
  constructor(context) {
    const { back, go, params } = context;
    const [crop, variety = null] = params;
    this.context = context;
    this.whose = { crop, variety };
    this.element = h("main", { class: "page", id: "room" });
    /** @type {import("./draw.js").State} */
    this.state = { open: new Set(["The plant"]), editing: "", typed: 0, trouble: "", waits: true };
    /** @type {import("./draw.js").Does} */
    this.does = {
      back,
      year: () => go("year", crop),
      successions: () => go("successions", crop),
      again: () => void this.ask(),
      putAway: () => void this.#putAway(),
      toggle: (group, open) => {
        if (open) this.state.open.add(group);
        else this.state.open.delete(group);
        this.draw();
      },
      edit: (path, value) => this.#edit(path, value),
      type: (value) => {
        this.state.typed = value;
      },
      keep: (number, value) => void this.#keep(number, value),
    };
  }

  get name() {
    return nameOf(this.context.book, this.whose, this.#calendar);
  }

  /** @param {string} what */
  refresh(what) {
    if (what === "records" && !this.state.editing) this.draw();
  }

  draw() {
    fill(this.element, drawCrop(seeCrop(this.context.book, this.whose, this.#calendar), this.state, this.does));
  }

  /** @param {string} path */
  #line(path) {
    return [...this.element.querySelectorAll("[data-number]")].find((line) => line.getAttribute("data-number") === path);
  }

  /** @param {string} path @param {number} value */
  #edit(path, value) {
    const at = path || this.state.editing; // the line that is touched holds still; what it opens is brought on the screen
    const stood = this.#line(at)?.getBoundingClientRect().top ?? 0;
    Object.assign(this.state, { editing: path, typed: value });
    this.draw();
    const line = this.#line(at);
    if (line) window.scrollBy(0, line.getBoundingClientRect().top - stood);
    if (path) line?.nextElementSibling?.scrollIntoView({ block: "nearest" });
  }

  /** @param {import("./seen.js").SeenNumber} seen @param {number | null} value null: the calendar's own */
  async #keep({ number, own }, value) {
    const { book, write } = this.context;
    const wish = (/** @type {number | null} */ to) => [ownWish(book, this.whose, number.path, to)];
    const say = kept(value === null ? `${number.label}: as before.` : `${number.label}: ${valueWords(number, value)}. The list follows when it has met the server.`);
    if (own === value || (await write(wish(value), { say, undo: () => wish(own) }))) this.#edit("", 0);
  }

  async #putAway() {
    const { book, toast, write, back } = this.context;
    const used = book.ofKind("variety").find((one) => one.fields.crop === this.whose.crop);
    if (used) {
      toast({ say: `${used.fields.name} is a variety of it. Put that away first.` });
      return;
    }
    const made = madeCrop(book, this.whose.crop);
    const wish = (/** @type {boolean} */ gone) => [{ id: made?.id || "", kind: "crop", fields: { gone } }];
    if (made && (await write(wish(true), { say: "Put away.", undo: wish(false), undone: "It is back." }))) back();
  }

  async ask() {
    const { book, askKept } = this.context;
    Object.assign(this.state, { trouble: "", waits: this.#calendar === null });
    this.draw();
    try {
      await askKept(`/api/crops/${madeCrop(book, this.whose.crop)?.fields.like || this.whose.crop}`, (answer) => {
        this.#calendar = answer;
        this.state.waits = false;
        if (!this.state.editing) this.draw(); // what somebody types into holds still; all is drawn anew once that is kept
      });
    } catch (/** @type {any} */ error) {
      this.state.trouble = error.say || "The numbers of this crop have not been on this phone yet, and the server does not answer. Open this page once near it; then they stay.";
      this.state.waits = false;
      this.draw();
    }
  }
}
