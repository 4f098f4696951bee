// @ts-check
/** A crop of the household's own: it grows like one that is known, under its own name; then any number can be changed. */
import { fill, h } from "../../lib/dom.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { glyph } from "../../ui/glyphs.js";
import { fileKey, readAtServer } from "../parts/file.js";
import { field, readFields } from "../parts/form.js";

const DRAFT = "own-crop";
const LONGEST = 30;
/** @type {import("../parts/form.js").Shape[]} */
const SHAPES = [
  { name: "like", label: "It grows like", sort: "crop", required: true },
  { name: "one", label: "One of them is a", sort: "line", required: true, help: "as in a sentence: oca tuber" },
  { name: "many", label: "Many are", sort: "line", required: true, help: "as in a sentence: oca" },
  { name: "family", label: "Its family", sort: "line", help: "left empty: the same; beds are rested by it" },
];

/** @param {any} context */
export function room(context) {
  const { book, back, toast } = context;
  const element = h("main", { class: "page", id: "room" });
  const draft = readDraft(DRAFT) || {};
  const rows = SHAPES.map((shape) => field(shape, draft[shape.name] ?? null, book));
  const trouble = h("p", { class: "trouble", role: "alert" });
  trouble.hidden = true;

  /** @param {Event} event */
  async function save(event) {
    event.preventDefault();
    const read = readFields(rows, {});
    if (!read) return;
    const crop = freeName(read.one);
    try {
      await book.write([{ id: `crop.${crop}`, kind: "crop", fields: { crop, ...read } }]);
    } catch (/** @type {any} */ error) {
      trouble.hidden = false;
      trouble.textContent = error.say || "Not written down yet. It is still on screen; try again.";
      return;
    }
    dropDraft(DRAFT);
    toast({ say: `${read.many} can be planned as soon as the list has met the server.` });
    if (element.isConnected) location.replace(`#/crop/${crop}`);
  }

  /** @param {File} file */
  async function choose(file) {
    const { found, said } = await readAtServer(context.send, "/api/crop-file", file);
    if (!found?.calendar) {
      say(found ? found.faults : [said]);
      return;
    }
    const { calendar } = found;
    const wish = { id: `crop.${calendar.id}`, kind: "crop", fields: { crop: calendar.id, calendar, gone: false } };
    try {
      await book.write([wish]);
    } catch (/** @type {any} */ error) {
      say([error.say || "Not written down yet. Choose the file again."]);
      return;
    }
    toast({ say: `${calendar.many} grow by your own calendar as soon as the list has met the server.`, undo: () => void book.write([{ ...wish, fields: { gone: true } }]) });
    if (element.isConnected) location.replace(`#/crop/${calendar.id}`);
  }

  /** @param {string[]} lines */
  function say(lines) {
    trouble.hidden = false;
    fill(trouble, lines.map((line) => h("span", { class: "block-line" }, line)));
  }

  /** A word that no crop has yet. @param {string} one */
  function freeName(one) {
    const plain = one.toLowerCase().normalize("NFKD").replace(/[^a-z0-9]+/g, "_").replace(/^[^a-z]+|_+$/g, "").slice(0, LONGEST) || "own";
    const taken = (/** @type {string} */ name) => name in (book.rulebook.crops || {}) || book.get(`crop.${name}`) !== null;
    let name = plain;
    for (let number = 2; taken(name); number += 1) name = `${plain}_${number}`;
    return name;
  }

  fill(
    element,
    h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "A crop of your own")),
    h("p", { class: "soft note", style: { margin: "0 2px 10px" } }, "Choose what it grows most like: its path from seed to picking is taken from there. Then change any of its numbers."),
    h("form", { novalidate: true, oninput: () => saveDraft(DRAFT, Object.fromEntries(rows.map((row) => [row.name, row.raw()]))), onsubmit: save }, rows.map((row) => row.element), trouble, h("button", { class: "key solid", type: "submit", style: { "min-height": "var(--done-h)" } }, "Write it down")),
    h("h2", { class: "h" }, "Or a whole calendar"),
    h("p", { class: "soft note", style: { margin: "0 2px 10px" } }, "Every crop's page gives its calendar as a file. Change that on a computer, steps and all, give it an id and names of its own, and bring it here."),
    fileKey("A calendar file", (file) => void choose(file), ".toml,text/plain"),
  );
  return { element, title: "A crop of your own" };
}
