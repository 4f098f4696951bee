// @ts-check
/** The Diary: what was done and seen, newest first; read, searched, corrected. */
import { visible } from "../../kernel/read/merge.js";
import { fill, h } from "../../lib/dom.js";
import { addDays, dayName, plainDay } from "../../lib/dates.js";
import { sharingWords } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { letGoWish, putOffWish } from "../../household/wishes.js";
import { photoImage } from "../parts/photo-views.js";
import { answers, byDay, linesOf, readingWords } from "../../household/diary-lines.js";

const A_SLICE = 60;
/** What was asked for stays asked while the app is open. */
const asked = { words: "", picked: false, lastYear: false, all: false };

/** @param {any} context */
export function room(context) {
  const { book, go, toast } = context;
  const list = h("div");
  const head = h("p", { class: "soft note", style: { "margin-top": "4px" } });
  const more = h("div", { "aria-hidden": "true", style: { height: "1px" } });
  /** @type {Set<string>} */
  let unsent = new Set();
  let shown = A_SLICE;
  /** @type {any[]} */
  let lines = [];

  const input = h("input", {
    type: "search",
    value: asked.words,
    placeholder: "a crop, a place, a word",
    "aria-label": "Search the diary",
    oninput: () => {
      asked.words = input.value;
      shown = A_SLICE;
      draw();
    },
  });
  const keys = h("div", { class: "keys three" });
  const element = h(
    "main",
    { class: "page", id: "room" },
    h("header", { class: "head" }, h("h1", null, "Diary"), head),
    h("div", { class: "find" }, glyph("search", 28), input, h("button", { type: "button", "aria-label": "Clear the search", onclick: () => { asked.words = input.value = ""; draw(); } }, glyph("cross", 24))),
    keys,
    list,
    more,
  );
  const watcher = new IntersectionObserver((entries) => {
    if (entries.some((entry) => entry.isIntersecting) && shown < lines.length) {
      shown += A_SLICE;
      draw();
    }
  }, { rootMargin: "600px" });
  watcher.observe(more);

  async function refresh() {
    const rows = await book.store.outbox(5000);
    unsent = new Set(rows.map((/** @type {any} */ row) => row.change.id));
    if (asked.all) await book.wakeAll();
    draw();
  }

  function draw() {
    const today = context.today();
    fill(head, sharingWords(book.sharing, context.now(), context.zone()));
    drawKeys();
    const records = book.records.filter((/** @type {any} */ record) => (record.kind === "diary" || record.kind === "job") && visible(record));
    book.titles = new Map(book.jobs(today).map((/** @type {any} */ job) => [job.id, job.title]));
    lines = linesOf(book, records, unsent).filter((line) => wanted(line, today) && answers(line, asked.words));
    const days = byDay(lines.slice(0, shown));
    fill(
      list,
      days.map((day) => dayBlock(day, today)),
      !lines.length && h("div", { class: "board empty", style: { "margin-top": "14px" } }, h("p", null, asked.words || asked.picked || asked.lastYear ? "Nothing in the diary answers that." : "Nothing is written down yet. Tick a job on the Round, or tap Jot.")),
      !asked.all && lines.length <= shown && h("button", { class: "key", type: "button", style: { "margin-top": "14px" }, onclick: () => { asked.all = true; void refresh(); } }, "Older seasons too"),
    );
  }

  function drawKeys() {
    const key = (/** @type {"lastYear" | "picked"} */ name, /** @type {string} */ words) =>
      h("button", { class: "key", type: "button", "aria-pressed": String(asked[name]), onclick: () => { asked[name] = !asked[name]; if (asked.lastYear) asked.all = true; shown = A_SLICE; void refresh(); } }, words);
    fill(keys, key("lastYear", "This week last year"), key("picked", "Only picked"), h("button", { class: "key", type: "button", onclick: () => go("jot") }, "Jot"));
  }

  /** @param {any} line @param {string} today */
  function wanted(line, today) {
    if (asked.picked && line.record.fields.did !== "pick") return false;
    if (!asked.lastYear) return true;
    const then = addDays(today, -365);
    return line.on >= addDays(then, -4) && line.on <= addDays(then, 4);
  }

  /** @param {{on: string, lines: any[]}} day @param {string} today */
  function dayBlock(day, today) {
    return h(
      "section",
      null,
      h("div", { class: "dayhead" }, h("h2", null, `${dayName(day.on)} ${plainDay(day.on, today)}`), h("span", { class: "soft note" }, readingWords(day.lines))),
      h("div", { class: "board" }, day.lines.map((line) => entry(line))),
    );
  }

  /** @param {any} line */
  function entry(line) {
    const small = [line.at, line.who, line.where].filter(Boolean).join(", ");
    const inside = [
      h("b", null, line.verb),
      ` ${line.what}`,
      small && h("span", { class: "soft" }, small),
      line.extra && h("span", { class: "soft" }, line.extra),
      line.note && h("span", { class: "quote" }, `“${line.note}”`),
      line.thumbs?.length > 0 && h("span", { class: "photos" }, line.thumbs.map((/** @type {string} */ thumb) => photoImage(thumb, { words: "photo", keep: true }))),
      line.kept && h("span", { class: "soft" }, "on this phone only"),
    ];
    if (line.sort === "deed") return h("button", { class: "entry", type: "button", onclick: () => go("deed", line.id) }, inside);
    return h("div", { class: "entry with-key" }, h("div", null, inside), h("button", { class: "key slim", type: "button", "aria-label": `Take back: ${line.verb} ${line.what}`, onclick: () => void takeBack(line) }, "Take back"));
  }

  /** @param {any} line */
  async function takeBack(line) {
    const wish = line.sort === "let go" ? letGoWish(line.id, false, context.today(), "") : putOffWish({ ...line.record, id: line.id }, null, context.today());
    try {
      await book.write([wish]);
      toast({ say: "Taken back. The job is on the list again." });
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "Not taken back yet. Try again." });
    }
  }

  void refresh();
  draw();
  return { element, title: "Diary", refresh: () => void refresh(), leave: () => watcher.disconnect() };
}

