// @ts-check
/** A list of seeds out of a file: crops nobody knows are asked about, bad rows shown, and the good ones taken in one go. */
import { fill, h } from "../../lib/dom.js";
import { counted, kept } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { fileKey, readAtServer, rowsLeftOut } from "../parts/file.js";
import { seedWishes, takeBack } from "./seed-rows.js";

const AT_ONCE = 100;
const SHOWN = 30;

/** @param {any} context */
export function room(context) {
  const { book, back, toast } = context;
  const element = h("main", { class: "page", id: "room" });
  /** @type {{file: File | null, answers: Record<string, string>, passed: Set<string>, found: any, said: string, busy: boolean}} */
  const state = { file: null, answers: {}, passed: new Set(), found: null, said: "", busy: false };

  /** @param {File} file */
  function choose(file) {
    Object.assign(state, { file, answers: {}, passed: new Set() });
    void read();
  }

  async function read() {
    if (!state.file) return;
    Object.assign(state, { busy: true, said: "", found: null });
    draw();
    Object.assign(state, await readAtServer(context.send, "/api/seeds", state.file, state.answers), { busy: false });
    draw();
  }

  async function take() {
    const wishes = seedWishes(book, state.found.good, context.newId);
    if (!wishes.length) {
      Object.assign(state, { found: null, said: "All of these are in the book already." });
      draw();
      return;
    }
    const before = takeBack(book, wishes);
    try {
      for (let at = 0; at < wishes.length; at += AT_ONCE) await book.write(wishes.slice(at, at + AT_ONCE));
    } catch (/** @type {any} */ error) {
      state.said = error.say || "Not all of it is written down yet. Take them again: what is in already is not doubled.";
      draw();
      return;
    }
    const varieties = new Set(wishes.map((wish) => wish.fields.variety || wish.id)).size;
    Object.assign(state, { found: null, file: null, said: "" });
    toast({ say: `${counted(varieties, "variety", "varieties")} written down.`, undo: () => void book.write(before) });
    back();
  }

  function draw() {
    fill(
      element,
      h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "A seed list")),
      !state.found && h("p", { class: "soft note", style: { margin: "0 2px 10px" } }, "A table saved as CSV, a row a packet. It needs a column for the variety and one for the crop; germination in per cent, the number of seeds and their weight are taken too where they stand there."),
      state.said && h("p", { class: "trouble", role: "alert" }, state.said),
      state.busy && h("p", { class: "soft note", role: "status" }, "Reading the file."),
      state.found && answer(state.found),
      fileKey(state.file ? "Another file" : "A file of seeds", choose),
    );
  }

  /** @param {any} found */
  function answer(found) {
    if (found.problem) return h("p", { class: "trouble", role: "alert" }, found.problem);
    const strange = found.unknown.find((/** @type {any} */ one) => !state.passed.has(one.name));
    if (strange) return question(strange);
    return [
      h("h2", { class: "h" }, kept(`${counted(found.good.length, "packet")} can be taken`)),
      found.good.length > 0 && h("div", { class: "board" }, found.good.slice(0, SHOWN).map(packetRow), found.good.length > SHOWN && h("p", { class: "line soft" }, `and ${found.good.length - SHOWN} more`)),
      rowsLeftOut(found),
      found.good.length > 0 && h("button", { class: "key done", type: "button", onclick: () => void take() }, `Take ${found.good.length === 1 ? "it" : `these ${found.good.length}`}`),
    ];
  }

  /** @param {{name: string, lines: number[], near: string[]}} strange */
  function question(strange) {
    const crops = Object.entries(book.rulebook.crops || {}).map(([id, crop]) => [id, /** @type {any} */ (crop).many]).sort((a, b) => a[1].localeCompare(b[1]));
    const tell = (/** @type {string} */ crop) => {
      state.answers[strange.name] = crop;
      void read();
    };
    const select = h("select", { onchange: () => select.value && tell(select.value) }, h("option", { value: "" }, "choose a crop"), crops.map(([id, many]) => h("option", { value: id }, many)));
    return [
      h("p", { class: "ask" }, kept(`What is “${strange.name}”? It stands on ${strange.lines.length === 1 ? "line" : "lines"} ${strange.lines.slice(0, 8).join(", ")}.`)),
      strange.near.length > 0 && h("div", { class: "keys two" }, strange.near.map((crop) => h("button", { class: "key", type: "button", onclick: () => tell(crop) }, book.rulebook.crops?.[crop]?.many || crop))),
      h("label", { class: "field", style: { "margin-top": "12px" } }, h("span", null, strange.near.length ? "Or" : "It is"), select),
      h("button", { class: "key", type: "button", onclick: () => { state.passed.add(strange.name); draw(); } }, "Leave these out"),
    ];
  }

  /** @param {import("./seed-rows.js").Packet} packet */
  function packetRow(packet) {
    const facts = [packet.germination_pct !== null && `${packet.germination_pct} % come up`, packet.seeds !== null && counted(packet.seeds, "seed"), packet.weight_g !== null && `${packet.weight_g} g`].filter(Boolean).join(", ");
    return h("p", { class: "line" }, h("span", null, h("b", null, packet.variety), h("br"), h("span", { class: "soft" }, book.rulebook.crops?.[packet.crop]?.many || packet.crop)), facts && h("span", { class: "soft" }, kept(facts)));
  }

  draw();
  return { element, title: "A seed list" };
}
