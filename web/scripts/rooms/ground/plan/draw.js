// @ts-check
/** Planning a batch, as elements. */
import { h } from "../../../lib/dom.js";
import { counted } from "../../../lib/words.js";
import { bullets, row, section, soft } from "../../../ui/board.js";
import { finishing, heldKey, key, keyGroup, keys } from "../../../ui/key.js";
import { seasonBar } from "../../../ui/season-bar.js";
import { choice, count, dateLine, line } from "../../parts/ask.js";

/**
 * @typedef {import("./seen.js").Ask} Ask
 * @typedef {ReturnType<typeof import("./seen.js").seeQuestions>} Questions
 * @typedef {(part: Partial<Ask>, all?: boolean) => void} Set all: whether the questions change with it
 */

/** @param {Questions} seen @param {Ask} ask @param {Set} set */
export function drawQuestions(seen, ask, set) {
  const { crops, varieties, growing } = seen;
  return [
    h("div", { class: "gap-below" }, keys("two", heldKey("To begin", ask.mode === "begin", () => set({ mode: "begin" })), heldKey("Growing already", ask.mode === "growing", () => set({ mode: "growing" })))),
    !crops.length && h("p", { class: "trouble" }, "What is known of crops has not come from the server yet. Open the app once where it answers."),
    choice("Which crop", ask.crop, crops, (crop) => set({ crop, variety: "", spacing: "", row: "", pattern: "", across: false, turn: null, begins: "" })),
    ask.crop && choice("Which variety", ask.variety, varieties, (variety) => set({ variety }), "one that is not in the book yet"),
    ask.crop && !ask.variety && line("What the packet says", ask.name, (name) => set({ name }, false), "may stay empty"),
    ask.crop && ask.mode === "begin" && drawToBegin(seen, ask, set),
    ask.mode === "growing" && growing && drawGrowing(seen.places, growing, ask, set),
  ];
}

/** @param {Questions} seen @param {Ask} ask @param {Set} set */
function drawToBegin({ places, tape, begins, turns }, ask, set) {
  return [
    begins.length > 1 && field("Raised from", keyGroup("Raised from", begins.length > 2 ? "three" : "two", begins.map(({ id, words, chosen }) => heldKey(words, chosen, () => set({ begins: id, turn: null }))))),
    count("Plants wanted", ask.want, (want) => set({ want }, false)),
    choice("Where they end", ask.place, places, (place) => set({ place })),
    tape && drawTape(tape, set),
    turns.length > 0 && field("Begun", keyGroup("Begun", "two", turns.map(({ turn, words, chosen }) => heldKey(words, chosen, () => set({ turn, day: "" }))))),
    dateLine("Your own day for the first step", ask.day, (day) => set({ day }, turns.length > 0), "left empty: the list proposes"),
  ];
}

/** @param {NonNullable<Questions["tape"]>} tape @param {Set} set */
function drawTape({ length, width, end, sized }, set) {
  return h(
    "details",
    { class: "plan-step", open: Boolean(length || width || end) },
    h("summary", null, h("b", null, "By the tape"), soft(sized ? "where less than the whole bed is meant" : "how long and wide it is there")),
    line("Length by the tape", length, (tapeLength) => set({ tapeLength }, false), "440, 4.4 m or 14 ft 5"),
    line("Width by the tape", width, (tapeWidth) => set({ tapeWidth }, false), sized ? "left empty: as wide as the bed" : "120, 1.2 m or 4 ft"),
    line("Kept free at the edges", end, (tapeEnd) => set({ tapeEnd }, false), "left empty: half the distance between plants; at a path 10 to 15 cm are usual"),
  );
}

/** @param {string[][]} places @param {NonNullable<Questions["growing"]>} growing @param {Ask} ask @param {Set} set */
function drawGrowing(places, { stage, stages, pots, count: counts, since, planted }, ask, set) {
  return [
    field("They are", keyGroup("Stage", "two", stages.map((one) => heldKey(one, one === stage, () => set({ stage: one }))))),
    pots.length > 0 && field("In pots of", keys("three", pots.map(({ litres, words, chosen }) => heldKey(words, chosen, () => set({ pot: litres }))))),
    count(counts, ask.count, (value) => set({ count: value }, false)),
    choice("Where they stand", ask.here, places, (here) => set({ here })),
    !planted && choice("Where they end", ask.place, places, (place) => set({ place })),
    dateLine(since, ask.since, (day) => set({ since: day }, false), "a guess will do"),
    planted && tick("They are being picked", ask.picked, (picked) => set({ picked }, false)),
  ];
}

/** @param {string} label @param {any} inside */
function field(label, inside) {
  return h("div", { class: "field" }, h("span", null, label), inside);
}

/** @param {string} label @param {boolean} checked @param {(checked: boolean) => void} act */
function tick(label, checked, act) {
  const box = h("input", { type: "checkbox", checked, onchange: () => act(box.checked) });
  return h("label", { class: "field tick-line" }, box, h("span", null, label));
}

/** How many were put in while one stays here. @param {number} putIn */
export function drawPutIn(putIn) {
  return putIn > 0 && h("p", { class: "soft note", role: "status" }, `${counted(putIn, "batch", "batches")} put in so far.`);
}

/** @param {ReturnType<typeof import("./seen.js").seePlan>} plan @param {Set} set */
export function drawPlan({ summary, days, stages, span, advice, takes, steps, close }, set) {
  return h(
    "section",
    { class: "lab plain", "aria-label": "The plan" },
    h(
      "div",
      { class: "in" },
      section(h("p", { class: "big" }, summary), days && h("p", { class: "soft" }, days), span && h("div", { class: "gap" }, seasonBar(stages, span))),
      advice.map((words) => h("p", { class: "sec pinched", role: "status" }, words)),
      close && drawClose(close, set),
      row("Takes", bullets(takes)),
      section(h("h2", null, "Step by step"), steps.map((step) => h("details", { class: "plan-step" }, h("summary", null, h("b", null, step.title), soft(step.days)), bullets(step.why)))),
    ),
  );
}

/** @param {NonNullable<ReturnType<typeof import("./seen.js").seePlan>["close"]>} close @param {Set} set */
function drawClose({ heading: words, why, none, ways, verdict }, set) {
  const take = (/** @type {Record<string, any>} */ { spacing_cm, row_cm, pattern, turned, want }) => set({ spacing: String(spacing_cm), row: String(row_cm), pattern, across: turned, ...(want ? { want } : {}) }, Boolean(want));
  return section(
    h("h2", null, words),
    (why || none) && h("p", { class: "past", role: "alert" }, why || none),
    ways.length > 0 && keyGroup("How close", "two", ways.map((way) => heldKey([h("b", null, way.words), h("small", null, way.says), h("small", null, way.how)], way.chosen, () => take(way.fields), { look: "way" }))),
    bullets(verdict),
  );
}

/** @param {Ask} ask @param {{save: () => void, asForm: () => void}} does */
export function drawKeys({ crop, mode }, { save, asForm }) {
  return [key("All there is to say, as a form", asForm, { look: "gap" }), crop && finishing(key(mode === "begin" ? "Put it in the book" : "Write it down", save, { look: "done" }))];
}
