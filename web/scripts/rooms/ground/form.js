// @ts-check
/** A plain form for any kind of thing: add it, change it, put it away. */
import { fill, h } from "../../lib/dom.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { glyph } from "../../ui/glyphs.js";
import { FORMS } from "./form-shapes.js";
import { field, readFields } from "../parts/form.js";
import { siteStart } from "./site-start.js";

/** @param {any} context params: kind, id (or "new"), then name=value pairs to begin with */
export function room(context) {
  const { book, back, toast, go } = context;
  const [kind, given, ...beginning] = context.params;
  const form = FORMS[kind];
  const element = h("main", { class: "page", id: "room" });
  if (!form) {
    fill(element, h("p", { class: "opening" }, "There is no such form."));
    return { element, title: "Form" };
  }
  const fresh = given === "new" || !book.get(given);
  const id = given === "new" ? context.newId() : given;
  const draftKey = `form.${kind}.${given}`;
  const before = fresh ? start() : book.get(id).fields;
  const draft = readDraft(draftKey);
  const shapes = form.shapes.filter((shape) => fresh || !shape.atFirst);
  const rows = shapes.map((shape) => field(shape, draft && shape.name in draft ? draft[shape.name] : before[shape.name], book));
  const months = kind === "site" ? normalsFields(before.normals) : null;
  const starter = kind === "site" ? siteStart({ ask: context.ask, send: context.send, put: putAll, place: placeTyped }) : null;
  const trouble = h("p", { class: "trouble", role: "alert" });
  trouble.hidden = true;

  function start() {
    /** @type {Record<string, any>} */
    const fields = Object.fromEntries(beginning.map((/** @type {string} */ pair) => pair.split("=", 2)));
    if (kind === "fixture") fields.up = true;
    if (kind === "batch") fields.year = Number(context.today().slice(0, 4));
    return fields;
  }

  /** Numbers from elsewhere, into the fields; the grower still says "write it down". @param {Record<string, any>} fields */
  function putAll(fields) {
    for (const row of rows) if (row.name in fields) row.put(fields[row.name]);
    if (fields.normals) months?.put(fields.normals);
    saveDraft(draftKey, Object.fromEntries(rows.map((row) => [row.name, row.raw()])));
  }

  /** @returns {{lat: number, lon: number} | null} */
  function placeTyped() {
    const [lat, lon] = ["lat", "lon"].map((name) => rows.find((row) => row.name === name)?.read().value ?? null);
    return lat === null || lon === null ? null : { lat, lon };
  }

  /** @param {Event} event */
  async function save(event) {
    event.preventDefault();
    const read = readFields(rows, fresh ? {} : before);
    const normals = months?.read();
    if (!read || normals?.wrong) {
      months?.say(normals?.wrong ?? null);
      return;
    }
    if (normals?.value) read.normals = normals.value;
    if (kind === "job" && fresh) read.hand = true;
    for (const name of Object.keys(read)) if (fresh && (read[name] === null || read[name] === false)) delete read[name];
    if (!Object.keys(read).length) {
      back();
      return;
    }
    try {
      await book.write([{ id, kind, fields: read }]);
    } catch (/** @type {any} */ error) {
      trouble.hidden = false;
      trouble.textContent = error.say || "Not written down yet. It is still on screen; try again.";
      return;
    }
    dropDraft(draftKey);
    toast({ say: "Written down." });
    if (fresh && kind === "variety" && element.isConnected) go("plan", `variety=${id}`);
    else back();
  }

  async function putAway() {
    const here = standingIn();
    if (here) {
      trouble.hidden = false;
      trouble.textContent = `${here} Move or clear it first.`;
      return;
    }
    await book.write([{ id, kind, fields: { gone: true } }]);
    dropDraft(draftKey);
    toast({ say: "Put away.", undo: () => void book.write([{ id, kind, fields: { gone: false } }]) });
    back();
  }

  /** What would be left without a place. @returns {string | null} */
  function standingIn() {
    if (kind !== "place" && kind !== "fixture") return null;
    const stand = book.stand(context.today());
    const place = stand.places.find((/** @type {any} */ one) => one.id === id);
    const inside = stand.places.filter((/** @type {any} */ one) => one.id !== id && one.path.includes(id));
    if (place?.plants.length) return "Plants stand here.";
    return inside.length ? `${inside.length} places lie in it.` : null;
  }

  fill(
    element,
    h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, form.title)),
    h(
      "form",
      { novalidate: true, oninput: () => saveDraft(draftKey, Object.fromEntries(rows.map((row) => [row.name, row.raw()]))), onsubmit: save },
      kind === "batch" && !book.ofKind("variety").length && h("p", { class: "trouble" }, "Put down a variety first: what the seed packet says."),
      starter,
      rows.map((row) => row.element),
      kind === "batch" && h("button", { class: "key", type: "button", style: { "margin-bottom": "14px" }, onclick: () => go("form", "variety", "new") }, "A variety that is not there yet"),
      months?.element,
      trouble,
      h("button", { class: "key solid", type: "submit", style: { "min-height": "var(--done-h)" } }, fresh ? "Write it down" : "Change it"),
    ),
    !fresh && kind === "variety" && book.fields(id).crop && h("button", { class: "key", type: "button", style: { "margin-top": "12px" }, onclick: () => go("crop", book.fields(id).crop, id) }, "Its own numbers"),
    !fresh && kind !== "site" && h("button", { class: "key", type: "button", style: { "margin-top": "12px" }, onclick: () => void putAway() }, "Put it away"),
  );
  return { element, title: form.title };
}

const MONTH_NAMES = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** Twelve pairs of mean night minimum and day maximum; all or none. @param {any} normals */
function normalsFields(normals) {
  const wrong = h("small", { class: "bad", role: "alert" });
  const pairs = MONTH_NAMES.map((month, at) => [0, 1].map((end) => h("input", { type: "text", inputmode: "decimal", "aria-label": `${month}, mean ${end ? "day maximum" : "night minimum"} in °C`, value: normals?.[at]?.[end] ?? "" })));
  const element = h(
    "fieldset",
    { class: "field" },
    h("legend", null, "Mean night and day of each month, °C"),
    h("small", null, "From a weather service near you. All twelve, or none: then a lowland site at 53° north stands in."),
    h("div", { class: "months" }, MONTH_NAMES.map((month, at) => [h("span", null, month), ...pairs[at]])),
    wrong,
  );
  return {
    element,
    /** @param {number[][]} given */
    put: (given) => given.forEach((pair, at) => pair.forEach((degrees, end) => (pairs[at][end].value = String(degrees)))),
    /** @param {string | null} words */
    say: (words) => (wrong.textContent = words || ""),
    /** @returns {{value?: number[][] | null, wrong?: string}} */
    read: () => {
      const texts = pairs.flat().map((input) => input.value.trim().replace(",", "."));
      if (texts.every((text) => !text)) return { value: null };
      const numbers = texts.map(Number);
      if (texts.some((text) => !text) || numbers.some((number) => !Number.isFinite(number) || number < -60 || number > 60)) return { wrong: "Give all twelve pairs as numbers, or leave all of them empty." };
      const made = MONTH_NAMES.map((_, at) => [numbers[2 * at], numbers[2 * at + 1]]);
      const bad = made.findIndex(([low, high]) => low > high);
      if (bad >= 0) return { wrong: `In ${MONTH_NAMES[bad]} the night is warmer than the day. Change one of them.` };
      return JSON.stringify(made) === JSON.stringify(normals) ? { value: null } : { value: made };
    },
  };
}
