// @ts-check
/** One entry of the Diary: read, corrected, taken back, brought back. */
import { visible } from "../../kernel/read/merge.js";
import { fill, h } from "../../lib/dom.js";
import { longDay } from "../../lib/dates.js";
import { kept, momentWords } from "../../lib/words.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { glyph } from "../../ui/glyphs.js";
import { deedWords } from "../../household/diary-lines.js";
import { field, readFields } from "../parts/form.js";
import { personName } from "../../household/names.js";
import { photoStrip } from "../parts/photo-views.js";

/** Fields of a deed that can be corrected, by what was done. */
const ALWAYS = [
  { name: "on", label: "On", sort: "date" },
  { name: "note", label: "A word", sort: "words" },
  { name: "by", label: "Who", sort: "person" },
];
const MORE = [
  { name: "count", label: "How many", sort: "whole", least: 0, most: 100000, when: (/** @type {any} */ f) => Boolean(f.batch) && !["look", "treat"].includes(f.did) },
  { name: "weight_g", label: "Grams", sort: "whole", least: 0, most: 10000000, when: (/** @type {any} */ f) => f.did === "pick" },
  { name: "pot_l", label: "Pot, litres", sort: "number", least: 0.01, most: 1000, when: (/** @type {any} */ f) => f.did === "pot_up" },
  { name: "tmin", label: "Lowest, °C", sort: "number", least: -60, most: 70, when: (/** @type {any} */ f) => f.did === "measure" },
  { name: "tmax", label: "Highest, °C", sort: "number", least: -60, most: 70, when: (/** @type {any} */ f) => f.did === "measure" },
  { name: "level", label: "How much", sort: "choice", choices: [["none", "none"], ["few", "few"], ["many", "many"], ["severe", "severe"]], when: (/** @type {any} */ f) => f.did === "look" && Boolean(f.found) },
  { name: "place", label: "Where", sort: "place", when: (/** @type {any} */ f) => !f.fixture },
  { name: "to_place", label: "Where to", sort: "place", when: (/** @type {any} */ f) => ["sow", "prick_out", "pot_up", "plant_out", "move"].includes(f.did) },
  { name: "product", label: "Product", sort: "line", when: (/** @type {any} */ f) => f.did === "treat" },
  { name: "rate", label: "Rate", sort: "line", when: (/** @type {any} */ f) => f.did === "treat" },
];

const FIELD_WORDS = /** @type {Record<string, string>} */ (Object.fromEntries([...MORE, ...ALWAYS].map((one) => [one.name, one.label.toLowerCase()])));

/** @param {any} context */
export function room(context) {
  const { book, back, toast, go } = context;
  const id = context.params[0];
  const element = h("main", { class: "page", id: "room" });
  /** @type {any} */
  let record = book.get(id);

  async function load() {
    if (!record) {
      await book.wakeAll(); // it may rest with an old season
      record = book.get(id);
    }
    draw();
  }

  /** @param {Record<string, any>} fields @param {string} say */
  async function write(fields, say) {
    try {
      const [after] = await book.write([{ id, kind: "diary", fields }]);
      record = after;
      toast({ say });
      return true;
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "Not written down yet. Try again." });
      return false;
    }
  }

  function draw() {
    if (!record) {
      fill(element, top(), h("div", { class: "board empty" }, h("p", null, "This entry is not on this phone.")));
      return;
    }
    const fields = record.fields;
    const [verb, what] = deedWords(book, fields);
    const gone = !visible(record);
    const others = book.ofKind("diary").filter((/** @type {any} */ one) => one.id !== id && fields.job && one.fields.job === fields.job && one.fields.part === fields.part);
    const form = gone ? null : correction(fields);
    fill(
      element,
      top(),
      h(
        "div",
        { class: "lab plain" },
        h("div", { class: "in" }, h("div", { class: "sec" }, h("h1", { class: "big" }, h("b", null, verb), ` ${kept(what)}`), h("p", { class: "soft" }, [longDay(fields.on), fields.at, personName(book, fields.by)].filter(Boolean).join(", ")), photoStrip(context, fields), gone && h("p", null, h("b", null, "Taken back."), " It counts for nothing now."), others.length > 0 && h("p", null, `Told by ${[fields.by, ...others.map((/** @type {any} */ one) => one.fields.by)].map((by) => personName(book, by) || "somebody").join(" and ")}: one deed, the larger number counts.`))),
      ),
      form,
      gone
        ? h("button", { class: "key solid", type: "button", onclick: () => void write({ gone: false }, "Brought back.").then((ok) => ok && draw()) }, "Bring it back")
        : h("button", { class: "key", type: "button", style: { "margin-top": "10px" }, onclick: () => void write({ gone: true }, "Taken back. The job is on the list again.").then((ok) => ok && back()) }, "Take it back"),
      earlier(),
      fields.batch && h("button", { class: "key", type: "button", style: { "margin-top": "10px" }, onclick: () => go("batch", fields.batch) }, "These plants"),
    );
  }

  /** What it said before somebody else's later word; asked for, because only the server keeps it. */
  function earlier() {
    const list = h("div");
    const ask = async () => {
      try {
        const { before } = await context.ask(`/api/history/${encodeURIComponent(id)}`);
        fill(list, before.length ? h("div", { class: "board" }, before.map((/** @type {any} */ one) => h("p", { class: "line" }, h("b", null, FIELD_WORDS[one.field] || one.field.replaceAll("_", " ")), h("span", { class: "soft" }, `${one.value === null ? "nothing" : String(one.value)}, ${momentWords(one.ms, context.now(), context.zone())}`)))) : h("p", { class: "soft note" }, "Nobody else has changed it."));
      } catch (/** @type {any} */ error) {
        fill(list, h("p", { class: "trouble", role: "alert" }, error.say || "The server keeps what it said before, and does not answer now."));
      }
    };
    return h("div", { style: { "margin-top": "10px" } }, h("button", { class: "key", type: "button", onclick: () => void ask() }, "What it said before"), list);
  }

  function top() {
    return h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "Entry"));
  }

  /** @param {any} fields */
  function correction(fields) {
    const shape = [...MORE.filter((one) => one.when(fields)), ...ALWAYS];
    const draft = readDraft(`deed.${id}`);
    const rows = shape.map((one) => field(/** @type {any} */ (one), draft?.[one.name] ?? fields[one.name], book));
    const form = h(
      "form",
      {
        novalidate: true,
        oninput: () => saveDraft(`deed.${id}`, Object.fromEntries(rows.map((row) => [row.name, row.raw()]))),
        onsubmit: (/** @type {Event} */ event) => {
          event.preventDefault();
          const read = readFields(rows, fields);
          if (!read) return;
          if (!Object.keys(read).length) {
            toast({ say: "Nothing was changed." });
            return;
          }
          void write(read, "Corrected.").then((ok) => {
            if (!ok) return;
            dropDraft(`deed.${id}`);
            draw();
          });
        },
      },
      rows.map((row) => row.element),
      h("button", { class: "key solid", type: "submit" }, "Correct it"),
    );
    return form;
  }

  void load();
  return { element, title: "Entry", refresh: () => {} };
}
