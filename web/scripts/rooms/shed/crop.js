// @ts-check
/** One crop (or one variety of it) as this household grows it: each number, the calendar's beside it where they differ. */
import { fill, h } from "../../lib/dom.js";
import { counted, kept } from "../../lib/words.js";
import { fold } from "../../ui/fold.js";
import { glyph } from "../../ui/glyphs.js";
import { stepper } from "../../ui/stepper.js";
import { inGroups, ownId, ownNumbers, ownWish, paceOf, valueWords } from "../../household/crop-numbers.js";

/** @typedef {import("../../household/crop-numbers.js").CalendarNumber} CalendarNumber */

/** @param {any} context params: crop, and the id of a variety */
export function room(context) {
  const { book, back, go, toast } = context;
  const [crop, variety = null] = context.params;
  const element = h("main", { class: "page", id: "room" });
  /** @type {Set<string>} */
  const open = new Set(["The plant"]);
  /** @type {any} */
  let calendar = null;
  let trouble = "";
  let editing = "";
  let typed = 0;

  const made = () => book.ofKind("crop").find((/** @type {any} */ one) => one.fields.crop === crop && (one.fields.like || one.fields.calendar));
  const name = () => book.fields(variety).name || made()?.fields.many || book.rulebook.crops?.[crop]?.many || calendar?.many || "Crop";

  function draw() {
    const own = variety ? ownNumbers(book, "variety", variety) : ownNumbers(book, "crop", crop);
    const below = variety ? ownNumbers(book, "crop", crop) : new Map();
    const title = name();
    fill(
      element,
      h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, title.slice(0, 1).toUpperCase() + title.slice(1))),
      h("p", { class: "soft note", style: { margin: "0 2px 10px" } }, kept(intro(own.size))),
      !variety && h("div", { class: "keys two", style: { "margin-bottom": "6px" } }, h("button", { class: "key", type: "button", onclick: () => go("year", crop) }, "Its year"), h("button", { class: "key", type: "button", onclick: () => go("successions", crop) }, "One after another")),
      trouble && h("div", { class: "board empty" }, h("p", { role: "alert" }, trouble), h("button", { class: "key", type: "button", onclick: () => void ask() }, "Try again")),
      !calendar && !trouble && h("p", { class: "soft note", role: "status" }, "Asking for its numbers."),
      calendar && inGroups(calendar.numbers).map(([group, numbers]) => {
        const changed = numbers.filter((number) => own.has(number.path)).length;
        return fold({
          title: kept(changed ? `${group}: ${changed} of your own` : group),
          open: open.has(group),
          onToggle: (now) => {
            if (now) open.add(group);
            else open.delete(group);
            draw();
          },
          inside: () => h("div", { class: "board", style: { "margin-top": "8px" } }, numbers.map((number) => row(number, own.get(number.path) ?? null, below.get(number.path) ?? number.value))),
        });
      }),
      !variety && calendar && !made() && h("a", { class: "key", href: `/api/crops/${crop}/file`, download: `${crop}.toml`, style: { "margin-top": "14px" } }, "Its calendar as a file"),
      made() && !variety && h("button", { class: "key", type: "button", style: { "margin-top": "14px" }, onclick: () => void putAway() }, "Put this crop away"),
    );
  }

  /** @param {number} own */
  function intro(own) {
    if (variety) return `${own ? `${counted(own, "number")} of its own. ` : ""}What is changed here holds for this variety alone; the rest is as for ${book.rulebook.crops?.[crop]?.many || "its crop"}.`;
    const like = made()?.fields.like;
    const words = like ? `A crop of your own, like ${book.rulebook.crops?.[like]?.many || like}. ` : "";
    return `${words}${own ? `${counted(own, "number")} of your own. ` : ""}Tap one to change it; the calendar's own stays beside it.`;
  }

  /** @param {CalendarNumber} number @param {number | null} own @param {number} usual */
  function row(number, own, usual) {
    const whose = variety ? "crop" : "calendar";
    const wrong = own === null ? null : book.rulebook.left_out?.[ownId(variety || crop, number.path)];
    const openHere = editing === number.path;
    return [
      h(
        "button",
        { class: "line", type: "button", "aria-expanded": String(openHere), onclick: () => edit(openHere ? "" : number.path, own ?? usual) },
        h("span", null, h("b", null, number.label), wrong && [h("br"), h("span", { class: "past" }, kept(wrong))]),
        h("span", { class: own === null ? "soft" : "own" }, own === null ? valueWords(number, usual) : [h("b", null, `yours ${valueWords(number, own)}`), h("br"), h("span", { class: "soft" }, `${whose} ${valueWords(number, usual)}`)]),
      ),
      openHere && editor(number, own, usual),
    ];
  }

  /** @param {string} path @param {number} value */
  function edit(path, value) {
    editing = path;
    typed = value;
    draw();
  }

  /** @param {CalendarNumber} number @param {number | null} own @param {number} usual */
  function editor(number, own, usual) {
    const words = h("p", { class: "soft", role: "status" }, number.anchor ? valueWords(number, typed) : "");
    const range = number.usual ? `usual from ${valueWords(number, number.usual[0])} to ${valueWords(number, number.usual[1])}; ` : "";
    return h(
      "div",
      { class: "sec" },
      stepper({ value: typed, least: number.low, most: number.high, ...paceOf(number), name: number.label, small: true, under: number.anchor ? "weeks" : number.unit, onChange: (value) => {
        typed = value;
        if (number.anchor) words.textContent = valueWords(number, value);
      } }).element,
      words,
      h("p", { class: "soft note" }, kept(`${range}source: ${number.source}`)),
      h(
        "div",
        { class: "keys two", style: { "margin-top": "8px" } },
        h("button", { class: "key", type: "button", onclick: () => void keep(number, own, null) , disabled: own === null }, own === null ? "As it was" : `Back to ${valueWords(number, usual)}`),
        h("button", { class: "key solid", type: "button", onclick: () => void keep(number, own, typed === usual ? null : typed) }, "Keep this"),
      ),
    );
  }

  /** @param {CalendarNumber} number @param {number | null} before @param {number | null} value */
  async function keep(number, before, value) {
    if (before === value) {
      edit("", 0);
      return;
    }
    const whose = { crop, variety };
    try {
      await book.write([ownWish(book, whose, number.path, value)]);
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "Not written down yet. Try again." });
      return;
    }
    edit("", 0);
    toast({ say: kept(value === null ? `${number.label}: as before.` : `${number.label}: ${valueWords(number, value)}. The list follows when it has met the server.`), undo: () => void book.write([ownWish(book, whose, number.path, before)]) });
  }

  async function putAway() {
    const used = book.ofKind("variety").find((/** @type {any} */ one) => one.fields.crop === crop);
    if (used) {
      toast({ say: `${used.fields.name} is a variety of it. Put that away first.` });
      return;
    }
    const { id } = made();
    await book.write([{ id, kind: "crop", fields: { gone: true } }]);
    toast({ say: "Put away.", undo: () => void book.write([{ id, kind: "crop", fields: { gone: false } }]) });
    back();
  }

  async function ask() {
    trouble = "";
    draw();
    try {
      await context.askKept(`/api/crops/${made()?.fields.like || crop}`, (/** @type {any} */ answer) => {
        calendar = answer;
        draw();
      });
    } catch (/** @type {any} */ error) {
      trouble = error.say || "The numbers of this crop have not been on this phone yet, and the server does not answer. Open this page once near it; then they stay.";
      draw();
    }
  }

  void ask();
  return { element, title: name(), refresh: (/** @type {string} */ what) => { if (what === "records" && !editing) draw(); } };
}
