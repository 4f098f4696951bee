// @ts-check
/** Fields of a plain form: sized for gloves, with what is wrong said at the field, and nothing lost. */
import { h } from "../../lib/dom.js";
import { readCount, readDegrees, readGrams, readLength, readLitres, readNumber, readWarmer } from "../../lib/amounts.js";
import { dayOfYear, readMonthDay } from "../../lib/dates.js";
import { inField, unitName } from "../../lib/quantities.js";
import { cropChoices, placeChoices } from "../../household/names.js";

/**
 * @typedef {{name: string, label: string, sort: "line" | "words" | "list" | "whole" | "number" | "length" | "degrees" | "warmer" | "weight" | "volume" | "date" | "month-day" | "choice" | "place"
 *   | "fixture-place" | "person" | "variety" | "crop" | "batch" | "yes" | "verbs", help?: string, least?: number, most?: number,
 *   required?: boolean, choices?: string[][], atFirst?: boolean}} Shape atFirst: asked when it is new; the Diary rules after that
 * @typedef {{name: string, element: HTMLElement, raw: () => any, read: () => {value?: any, wrong?: string},
 *   say: (wrong: string | null) => void, put: (value: any) => void}} Field
 */

/**
 * A field for a shape, filled with a value.
 * @param {Shape} shape
 * @param {any} value
 * @param {any} book
 * @returns {Field}
 */
export function field(shape, value, book) {
  if (shape.sort === "verbs") return workField(shape, value);
  const wrong = h("small", { class: "bad", role: "alert", id: `wrong-${shape.name}` });
  wrong.hidden = true;
  const control = makeControl(shape, value, book);
  const label = MEASURED.has(shape.sort) ? `${shape.label}, ${unitName(/** @type {any} */ (shape.sort))}` : shape.label;
  let held = { value, text: control.value }; // untouched, it stays to the last digit
  control.setAttribute("aria-describedby", `wrong-${shape.name}`);
  const element =
    shape.sort === "yes"
      ? h("label", { class: "field tick-line" }, control, h("span", null, shape.label), wrong)
      : h("label", { class: "field" }, h("span", null, label), control, shape.help && h("small", null, shape.help), wrong);
  const raw = () => (shape.sort === "yes" ? control.checked : control.value);
  return {
    name: shape.name,
    element,
    raw,
    read: () => (MEASURED.has(shape.sort) && raw() === held.text ? { value: held.value ?? null } : readValue(shape, raw())),
    put: (value) => {
      control.value = asText(shape, value);
      held = { value: typeof value === "number" ? value : held.value, text: typeof value === "number" ? control.value : held.text };
    },
    say: (words) => {
      wrong.hidden = !words;
      wrong.textContent = words || "";
      control.setAttribute("aria-invalid", String(Boolean(words)));
    },
  };
}

/** Sorts of work, as keys that stay down. @param {Shape} shape @param {any} value @returns {Field} */
function workField(shape, value) {
  /** @type {Set<string>} */
  let chosen = new Set();
  const keys = (shape.choices || []).map(([verb, words]) => {
    const key = h("button", { class: "key slim", type: "button", onclick: () => press(verb) }, words);
    return { verb, key };
  });
  const element = h("fieldset", { class: "field" }, h("legend", null, shape.label), h("div", { class: "keys two" }, keys.map(({ key }) => key)), shape.help && h("small", null, shape.help));
  /** @param {string} verb */
  function press(verb) {
    if (!chosen.delete(verb)) chosen.add(verb);
    draw();
    element.dispatchEvent(new Event("input", { bubbles: true })); // so that a half-filled form keeps it
  }
  function draw() {
    for (const { verb, key } of keys) key.setAttribute("aria-pressed", String(chosen.has(verb)));
  }
  const raw = () => [...chosen].sort();
  const put = (/** @type {any} */ value) => {
    chosen = new Set(Array.isArray(value) ? value : []);
    draw();
  };
  put(value);
  return { name: shape.name, element, raw, read: () => ({ value: raw() }), put, say: () => {} };
}

/** @param {Shape} shape @param {any} value @param {any} book */
function makeControl(shape, value, book) {
  if (shape.sort === "words" || shape.sort === "list") {
    const area = h("textarea", { rows: 3 });
    area.value = shape.sort === "list" ? (value || []).join("\n") : value ?? "";
    return area;
  }
  if (shape.sort === "yes") return h("input", { type: "checkbox", checked: value === true });
  const choices = choicesFor(shape, book);
  if (choices) {
    const select = h("select", null, h("option", { value: "" }, "—"), choices.map(([id, words]) => h("option", { value: id }, words)));
    if (value && !choices.some(([id]) => id === value)) select.append(h("option", { value }, value));
    select.value = value ?? "";
    return select;
  }
  return h("input", {
    type: shape.sort === "date" ? "date" : "text",
    inputmode: shape.sort === "whole" ? "numeric" : shape.sort === "number" ? "decimal" : null, // a length may have letters
    autocomplete: "off",
    value: asText(shape, value),
    maxlength: shape.sort === "line" ? 200 : null,
    placeholder: shape.sort === "month-day" ? "12 May" : null,
  });
}

/** What stands in a field. Numbers are what is kept, words are what somebody typed. @param {Shape} shape @param {any} value @returns {string} */
function asText(shape, value) {
  if (typeof value === "number" && MEASURED.has(shape.sort)) return inField(/** @type {any} */ (shape.sort), value);
  return (shape.sort === "month-day" && /^\d\d-\d\d$/.test(value) ? dayOfYear(value) : value) ?? "";
}

/** @param {Shape} shape @param {any} book @returns {string[][] | null} */
function choicesFor(shape, book) {
  if (shape.sort === "choice") return shape.choices || [];
  const named = (/** @type {string} */ kind) => book.ofKind(kind).map((/** @type {any} */ record) => [record.id, record.fields.name || record.id]);
  if (shape.sort === "person") return named("person");
  if (shape.sort === "variety") return named("variety").sort((/** @type {string[]} */ a, /** @type {string[]} */ b) => a[1].localeCompare(b[1]));
  if (shape.sort === "crop") return cropChoices(book);
  if (shape.sort === "batch") return book.ofKind("batch").map((/** @type {any} */ batch) => [batch.id, batch.fields.name || `${book.fields(batch.fields.variety).name || batch.id} ${batch.fields.year ?? ""}`]);
  if (shape.sort === "place" || shape.sort === "fixture-place") return placeChoices(book, shape.sort === "place");
  return null;
}

/** How amounts are read, by the sort of the field. */
const AMOUNTS = new Map(Object.entries({ whole: readCount, number: readNumber, length: readLength, degrees: readDegrees, warmer: readWarmer, weight: readGrams, volume: readLitres }));
/** Sorts that have a unit of the household's own. */
const MEASURED = new Set(["length", "degrees", "warmer", "weight", "volume"]);

/** @param {Shape} shape @param {any} raw @returns {{value?: any, wrong?: string}} */
function readValue(shape, raw) {
  if (shape.sort === "yes") return { value: raw };
  const text = String(raw).trim();
  if (!text) return shape.required ? { wrong: "This one is needed. Fill it in, please." } : { value: null };
  const reads = AMOUNTS.get(shape.sort);
  if (reads) {
    const { value, why } = reads(text);
    if (value === undefined) return { wrong: why };
    const low = shape.least ?? 0;
    const high = shape.most ?? 100000;
    const bound = (/** @type {number} */ end) => (MEASURED.has(shape.sort) ? `${inField(/** @type {any} */ (shape.sort), end)} ${unitName(/** @type {any} */ (shape.sort))}` : end);
    return value >= low && value <= high ? { value } : { wrong: `Give a ${shape.sort === "whole" ? "whole number" : "number"} from ${bound(low)} to ${bound(high)}.` };
  }
  if (shape.sort === "list") {
    const lines = text.split("\n").map((line) => line.trim()).filter(Boolean);
    const fits = lines.length >= (shape.least ?? 1) && lines.length <= (shape.most ?? 100);
    return fits ? { value: lines } : { wrong: `Give ${shape.least ?? 1} to ${shape.most ?? 100} lines.` };
  }
  if (shape.sort === "date" && !/^\d{4}-\d{2}-\d{2}$/.test(text)) return { wrong: "Give a day of the calendar." };
  if (shape.sort === "month-day") {
    const value = readMonthDay(text);
    return value ? { value } : { wrong: "Give day and month like 12 May." };
  }
  return { value: text };
}

/**
 * What changed, or null where something is wrong: then it is said at its field, and the first one has the focus.
 * @param {Field[]} rows
 * @param {Record<string, any>} before
 * @returns {Record<string, any> | null}
 */
export function readFields(rows, before) {
  /** @type {Record<string, any>} */
  const changed = {};
  /** @type {Field | null} */
  let first = null;
  for (const row of rows) {
    const { value, wrong } = row.read();
    row.say(wrong ?? null);
    if (wrong) first = first || row;
    const held = before[row.name] ?? (typeof value === "boolean" ? false : Array.isArray(value) ? [] : null);
    if (!wrong && JSON.stringify(value ?? null) !== JSON.stringify(held)) changed[row.name] = value ?? null;
  }
  if (first) {
    /** @type {any} */ (first.element.querySelector("input, select, textarea"))?.focus();
    return null;
  }
  return changed;
}
