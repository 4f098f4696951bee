// @ts-check
/** A plain form for any kind of thing: add it, change it, put it away. */
import { STILL_ON_SCREEN, goneWishes } from "../../../household/writing.js";
import { h } from "../../../lib/dom.js";
import { dropDraft, readDraft, saveDraft } from "../../../store/drafts.js";
import { troubleLine } from "../../../ui/board.js";
import { field, readFields } from "../../parts/form.js";
import { drawForm, drawNoForm } from "./draw.js";
import { monthFields } from "./months.js";
import { beginning, fieldsOf, heldNow, seeForm, standingIn, whyNot } from "./seen.js";
import { FORMS } from "./shapes.js";
import { siteStart } from "./site-start.js";

/** @param {import("../../../types.js").Context} context params: kind, id (or "new"), then name=value pairs to begin with */
export function room(context) {
  const form = Object.hasOwn(FORMS, context.params[0]) ? FORMS[context.params[0]] : null;
  if (!form) return { element: h("main", { class: "page", id: "room" }, drawNoForm(context.back)), title: "Form" };
  return { element: new Form(context).element, title: form.title };
}

class Form {
  /** @param {import("../../../types.js").Context} context */
  constructor(context) {
    const { book, params, newId, today, back, go } = context;
    const [kind, given, ...pairs] = params;
    this.context = context;
    this.draft = `form.${kind}.${given}`;
    this.thing = { kind, id: given === "new" ? newId() : given, fresh: given === "new" || !book.get(given) };
    const { id, fresh } = this.thing;
    const begun = fresh ? beginning(kind, pairs, today()) : heldNow(book, this.thing, today());
    /** What the book holds: what is changed is changed against it. @type {Record<string, any>} */
    this.before = fresh ? {} : begun;
    const seen = seeForm(book, this.thing);
    const draft = readDraft(this.draft) || {};
    this.rows = seen.shapes.map((shape) => field(shape, shape.name in draft ? draft[shape.name] : begun[shape.name], book));
    this.months = kind === "site" ? monthFields(begun.normals) : null;
    this.trouble = troubleLine();
    const starter = kind === "site" ? siteStart({ ask: context.ask, send: context.send, put: (fields) => this.#put(fields), place: () => this.#placeTyped() }) : undefined;
    const does = {
      back,
      keep: () => this.#keep(),
      save: (/** @type {Event} */ event) => {
        event.preventDefault();
        void this.#save();
      },
      newVariety: () => go("form", "variety", "new"),
      numbers: () => go("crop", seen.numbersOf, id),
      putAway: () => void this.#putAway(),
    };
    this.element = h("main", { class: "page", id: "room" }, drawForm(seen, { rows: this.rows, starter, months: this.months?.element, trouble: this.trouble.element }, does));
  }

  #keep() {
    saveDraft(this.draft, Object.fromEntries(this.rows.map((row) => [row.name, row.raw()])));
  }

  /** Numbers from elsewhere, into the fields; the grower still says "write it down". @param {Record<string, any>} fields */
  #put(fields) {
    for (const row of this.rows) if (row.name in fields) row.put(fields[row.name]);
    if (fields.normals) this.months?.put(fields.normals);
    this.#keep();
  }

  /** @returns {{lat: number, lon: number} | null} */
  #placeTyped() {
    const [lat, lon] = ["lat", "lon"].map((name) => this.rows.find((row) => row.name === name)?.read().value ?? null);
    return lat === null || lon === null ? null : { lat, lon };
  }

  /** What is changed, the months too; null where something is wrong. */
  #read() {
    const changed = readFields(this.rows, this.before);
    const months = this.months?.read();
    this.months?.say(months?.wrong ?? null);
    if (!changed || months?.wrong) return null;
    return fieldsOf(this.context.book, this.thing, months?.value ? { ...changed, normals: months.value } : changed, this.context.today());
  }

  async #save() {
    const { write, go, back } = this.context;
    const { id, kind, fresh } = this.thing;
    const fields = this.#read();
    if (!fields) return;
    const wrong = whyNot(this.context.book, this.thing, fields);
    if (wrong) return this.trouble.say(wrong);
    if (Object.keys(fields).length) {
      if (!(await write([{ id, kind, fields }], { say: "Written down.", trouble: this.trouble.say, still: STILL_ON_SCREEN }))) return;
      dropDraft(this.draft);
    }
    if (fresh && kind === "variety" && this.element.isConnected) go("plan", `variety=${id}`);
    else back();
  }

  async #putAway() {
    const { book, today, write, back } = this.context;
    const { id, kind } = this.thing;
    const stands = standingIn(book, this.thing, today());
    if (stands) {
      this.trouble.say(stands);
      return;
    }
    const saying = { say: "Put away.", undo: [{ id, kind, fields: { gone: false } }], trouble: this.trouble.say };
    if (!(await write(goneWishes([{ id, kind, fields: {} }]), saying))) return;
    dropDraft(this.draft);
    back();
  }
}
