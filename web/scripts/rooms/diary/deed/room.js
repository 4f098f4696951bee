// @ts-check
/** One entry of the Diary: read, corrected, taken back, brought back. */
import { ON_THE_LIST_AGAIN, takenBack } from "../../../household/writing.js";
import { fill, h } from "../../../lib/dom.js";
import { dropDraft, readDraft, saveDraft } from "../../../store/drafts.js";
import { emptyBoard } from "../../../ui/board.js";
import { top } from "../../../ui/top.js";
import { field, readFields } from "../../parts/form.js";
import { photoStrip } from "../../parts/photo-views.js";
import { drawBefore, drawCorrection, drawDeed, drawKeys, drawTrouble } from "./draw.js";
import { seeBefore, seeDeed, shapesOf } from "./seen.js";

/** @param {import("../../../types.js").Context} context params: the deed's id */
export function room(context) {
  const deed = new Deed(context);
  void deed.load();
  return { element: deed.element, title: "Entry" };
}

class Deed {
  /** @param {import("../../../types.js").Context} context */
  constructor(context) {
    const { go } = context;
    this.context = context;
    this.id = context.params[0];
    this.draft = `deed.${this.id}`;
    this.record = context.book.get(this.id);
    this.element = h("main", { class: "page", id: "room" });
    this.before = h("div");
    /** @type {import("./draw.js").Does} */
    this.does = {
      takeBack: () => void this.#takeBack(),
      bringBack: () => void this.#write({ gone: false }, "Brought back.").then((ok) => ok && this.draw()),
      before: () => void this.#askBefore(),
      plants: (batch) => go("batch", batch),
    };
  }

  async load() {
    const { book } = this.context;
    if (!this.record) {
      await book.wakeAll(); // it may rest with an old season
      this.record = book.get(this.id);
    }
    this.draw();
  }

  draw() {
    const { book, back } = this.context;
    const head = top(back, "Entry");
    if (!this.record) {
      fill(this.element, head, emptyBoard("This entry is not on this phone."));
      return;
    }
    const seen = seeDeed(book, this.record);
    fill(this.element, head, drawDeed(seen, photoStrip(this.context, seen.fields)), !seen.gone && this.#correction(seen.fields), drawKeys(seen, this.before, this.does));
  }

  /** @param {Record<string, any>} fields */
  #correction(fields) {
    const draft = readDraft(this.draft);
    const rows = shapesOf(fields).map((shape) => field(shape, draft?.[shape.name] ?? fields[shape.name], this.context.book));
    return drawCorrection(rows, {
      keep: () => saveDraft(this.draft, Object.fromEntries(rows.map((row) => [row.name, row.raw()]))),
      correct: (event) => {
        event.preventDefault();
        void this.#correct(readFields(rows, fields));
      },
    });
  }

  /** @param {Record<string, any> | null} changed null where something is wrong, which is said at its field */
  async #correct(changed) {
    if (!changed) return;
    if (!Object.keys(changed).length) {
      this.context.toast({ say: "Nothing was changed." });
      return;
    }
    if (!(await this.#write(changed, "Corrected."))) return;
    dropDraft(this.draft);
    this.draw();
  }

  async #takeBack() {
    if (!this.record) return;
    const { verb, what, fields } = seeDeed(this.context.book, this.record);
    if (await this.#write({ gone: true }, takenBack(`${verb.toLowerCase()} ${what}`, fields.job ? ON_THE_LIST_AGAIN : ""))) this.context.back();
  }

  /** @param {Record<string, any>} fields @param {string} say */
  async #write(fields, say) {
    const written = await this.context.write([{ id: this.id, kind: "diary", fields }], { say });
    if (written) [this.record] = written;
    return written !== null;
  }

  /** What it said before somebody else's later word; asked for, because only the server keeps it. */
  async #askBefore() {
    const { ask, now, zone } = this.context;
    try {
      const { before } = await ask(`/api/history/${encodeURIComponent(this.id)}`);
      fill(this.before, drawBefore(seeBefore(before, now(), zone())));
    } catch (/** @type {any} */ error) {
      fill(this.before, drawTrouble(error.say || "The server keeps what it said before, and does not answer now."));
    }
  }
}
