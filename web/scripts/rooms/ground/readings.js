// @ts-check
/** A place's thermometer: its file read, what it says drawn, and what the house taught. */
import { fill, h } from "../../lib/dom.js";
import { longDay } from "../../lib/dates.js";
import { counted, kept } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { fileKey, readAtServer, rowsLeftOut } from "../parts/file.js";
import { fullPlace, placeName } from "../../household/names.js";
import { daysRead, extremes, importWishes, undoOf } from "./readings-days.js";
import { yearChart } from "./readings-chart.js";

/** @param {any} context params: place */
export function room(context) {
  const { book, back, go, toast } = context;
  const place = context.params[0];
  const element = h("main", { class: "page", id: "room" });
  /** @type {{file: File | null, answers: Record<string, string>, found: any, said: string, busy: boolean}} */
  const state = { file: null, answers: {}, found: null, said: "", busy: false };
  let year = "";

  async function read() {
    if (!state.file) return;
    Object.assign(state, { busy: true, said: "", found: null });
    draw();
    Object.assign(state, await readAtServer(context.send, "/api/readings", state.file, state.answers), { busy: false });
    draw();
  }

  /** @param {File} file */
  function choose(file) {
    Object.assign(state, { file, answers: {} });
    void read();
  }

  async function take() {
    await book.wakeAll(); // months that rest are compared too, and put back as they were by the undo
    const wishes = importWishes(book, place, state.found.days);
    if (!wishes.length) {
      state.said = "All of these days are in the book already.";
      state.found = null;
      draw();
      return;
    }
    const before = undoOf(book, wishes);
    try {
      for (let at = 0; at < wishes.length; at += 100) await book.write(wishes.slice(at, at + 100));
    } catch (/** @type {any} */ error) {
      state.said = error.say || "Not all of it is written down yet. Take them again: what is in already is not doubled.";
      draw();
      return;
    }
    const days = wishes.reduce((sum, wish) => sum + Object.keys(wish.fields).filter((name) => /^d\d\d$/.test(name)).length, 0);
    Object.assign(state, { found: null, file: null, said: "" });
    toast({ say: `${counted(days, "day")} written down. The list follows when it has met the server.`, undo: () => void book.write(before) });
    draw();
  }

  function draw() {
    const days = daysRead(book, place);
    const years = [...new Set([...days.keys()].map((day) => day.slice(0, 4)))].sort();
    const older = book.rulebook.learned?.[place]?.read_from?.slice(0, 4) ?? "";
    const shown = years.includes(year) ? year : years[years.length - 1] || "";
    const learned = book.rulebook.learned?.[place];
    fill(
      element,
      h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "Thermometer")),
      h("p", { class: "soft note", style: { margin: "0 2px 10px" } }, fullPlace(book, place)),
      learned && h("div", { class: "lab plain" }, h("div", { class: "in" }, h("div", { class: "sec" }, h("p", null, kept(learnedWords(learned, placeName(book, place))))))),
      years.length > 1 && h("div", { class: "keys", role: "group", "aria-label": "Year" }, years.slice(-4).map((one) => h("button", { class: "key slim", type: "button", "aria-pressed": String(one === shown), onclick: () => { year = one; draw(); } }, one))),
      older && older < (years[0] ?? "9") && h("button", { class: "key slim", type: "button", style: { "margin-bottom": "8px" }, onclick: () => void book.wakeAll() }, "Older years too"),
      shown ? yearChart(days, shown) : h("div", { class: "board empty" }, h("p", null, "Nothing read here yet. A file from a thermometer that writes down its readings, or minimum and maximum typed on the round, move this house's dates.")),
      state.said && h("p", { class: "trouble", role: "alert" }, state.said),
      state.busy && h("p", { class: "soft note", role: "status" }, "Reading the file."),
      state.found ? answer(state.found) : null,
      fileKey(state.file ? "Another file" : "A file from the thermometer", choose),
      h("button", { class: "key", type: "button", style: { "margin-top": "10px" }, onclick: () => go("jot", "measure") }, "Type what it says now"),
    );
  }

  /** @param {any} found */
  function answer(found) {
    if (found.questions.length) {
      return found.questions.slice(0, 1).map((/** @type {any} */ question) => [
        h("p", { class: "ask" }, question.ask),
        h("div", { class: "keys two" }, question.choices.map((/** @type {string} */ choice) => h("button", { class: "key", type: "button", onclick: () => { state.answers[question.id] = choice; void read(); } }, choice))),
      ]);
    }
    const dates = Object.keys(found.days);
    const { coldest, warmest } = extremes(found.days);
    return [
      found.problem && h("p", { class: "trouble", role: "alert" }, found.problem),
      dates.length > 0 &&
        h(
          "div",
          { class: "lab plain" },
          h(
            "div",
            { class: "in" },
            h("div", { class: "sec" }, h("p", { class: "big" }, counted(dates.length, "day")), h("p", { class: "soft" }, kept(`from ${longDay(dates[0])} ${dates[0].slice(0, 4)} to ${longDay(dates[dates.length - 1])} ${dates[dates.length - 1].slice(0, 4)}`))),
            h("div", { class: "sec row" }, h("h2", null, "Coldest"), h("p", null, kept(`${coldest.c} °C on ${longDay(coldest.day)}`))),
            h("div", { class: "sec row" }, h("h2", null, "Warmest"), h("p", null, kept(`${warmest.c} °C on ${longDay(warmest.day)}`))),
          ),
        ),
      rowsLeftOut(found),
      dates.length > 0 && h("button", { class: "key done", type: "button", onclick: () => void take() }, `Take these ${dates.length === 1 ? "readings" : `${dates.length} days`}`),
    ];
  }

  draw();
  return { element, title: "Thermometer", refresh: (/** @type {string} */ what) => { if (what !== "sharing") draw(); } };
}

/** @param {any} learned @param {string} name */
function learnedWords(learned, name) {
  const read = `Read on ${counted(learned.days, "day")}, ${longDay(learned.read_from)} ${learned.read_from.slice(0, 4)} to ${longDay(learned.read_to)} ${learned.read_to.slice(0, 4)}.`;
  if (learned.gain_c === null) return `${read} The dates of what grows here follow it.`;
  return `Nights in ${name} run ${(learned.gain_c / 10).toFixed(1)} °C above those outside, by ${learned.nights} read in both; under such a cover ${(learned.usual_c / 10).toFixed(1)} °C is usual. ${read}`;
}
