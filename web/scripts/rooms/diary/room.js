// @ts-check
/** The Diary: what was done and seen, newest first; read, searched, corrected. */
import { letGoWish, putOffWish } from "../../household/wishes.js";
import { NOT_TAKEN_BACK, ON_THE_LIST_AGAIN, takenBack } from "../../household/writing.js";
import { fill, h } from "../../lib/dom.js";
import { sharingWords } from "../../lib/words.js";
import { findLine } from "../../ui/find.js";
import { drawAround, drawDays, drawKeys } from "./draw.js";
import { seeDiary, seeLines } from "./seen.js";

const A_SLICE = 60;
const MOST_UNSENT = 5000;
/** What was asked for stays asked while the app is open. @type {import("./seen.js").Asked} */
const asked = { words: "", picked: false, lastYear: false, all: false };

/** @param {import("../../types.js").Context} context */
export function room(context) {
  const diary = new Diary(context);
  void diary.refresh();
  diary.draw();
  return { element: diary.element, title: "Diary", refresh: () => void diary.refresh(), leave: () => diary.watcher.disconnect() };
}

class Diary {
  /** @type {Set<string>} Ids that are on this phone only. */
  #unsent = new Set();
  #shown = A_SLICE;
  /** @type {import("./seen.js").Line[]} */
  #lines = [];

  /** @param {import("../../types.js").Context} context */
  constructor(context) {
    this.context = context;
    const find = findLine({ value: asked.words, name: "Search the diary", hint: "a crop, a place, a word", onType: (words) => this.#search(words) });
    this.parts = { find, head: h("p", { class: "soft note gap-s" }), keys: h("div", { class: "keys three" }), list: h("div"), more: h("div", { "aria-hidden": "true", class: "sentinel" }) };
    this.element = h("main", { class: "page", id: "room" }, drawAround(this.parts));
    this.watcher = new IntersectionObserver((entries) => entries.some((entry) => entry.isIntersecting) && this.#showMore(), { rootMargin: "600px" });
    this.watcher.observe(this.parts.more);
    /** @type {import("./draw.js").Does} */
    this.does = {
      open: (id) => context.go("deed", id),
      takeBack: (line) => void this.#takeBack(line),
      ask: (part) => {
        Object.assign(asked, part);
        if (!part.all) this.#shown = A_SLICE;
        void this.refresh();
      },
      jot: () => context.go("jot"),
    };
  }

  /** @param {string} words */
  #search(words) {
    asked.words = words;
    this.#shown = A_SLICE;
    this.draw();
  }

  #showMore() {
    if (this.#shown >= this.#lines.length) return;
    this.#shown += A_SLICE;
    this.draw();
  }

  async refresh() {
    const { book } = this.context;
    const rows = await book.store.outbox(MOST_UNSENT);
    this.#unsent = new Set(rows.map((/** @type {any} */ row) => row.change.id));
    if (asked.all) await book.wakeAll();
    this.draw();
  }

  draw() {
    const { book, now, zone } = this.context;
    const today = this.context.today();
    this.#lines = seeLines(book, asked, { today, unsent: this.#unsent });
    fill(this.parts.head, sharingWords(book.sharing, now(), zone()));
    fill(this.parts.keys, drawKeys(asked, this.does));
    fill(this.parts.list, drawDays(seeDiary(this.#lines, asked, { today, shown: this.#shown }), this.does));
  }

  /** @param {import("./seen.js").Line} line */
  async #takeBack(line) {
    const { today, write } = this.context;
    const wish = line.sort === "let go" ? letGoWish(line.id, false, today(), "") : putOffWish({ ...line.record, id: line.id }, null, today());
    await write([wish], { say: takenBack([line.sort, line.what].join(" "), ON_THE_LIST_AGAIN), still: NOT_TAKEN_BACK });
  }
}
