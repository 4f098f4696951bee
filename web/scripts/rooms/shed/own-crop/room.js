// @ts-check
/** A crop of the household's own: it grows like one that is known, under its own name; then any number can be changed. */
import { STILL_ON_SCREEN, goneWishes } from "../../../household/writing.js";
import { fill, h } from "../../../lib/dom.js";
import { dropDraft, readDraft, saveDraft } from "../../../store/drafts.js";
import { troubleLine } from "../../../ui/board.js";
import { readAtServer } from "../../parts/file.js";
import { field, readFields } from "../../parts/form.js";
import { drawFaults, drawOwnCrop } from "./draw.js";
import { SHAPES, calendarWish, cropWish } from "./seen.js";

const DRAFT = "own-crop";

/** @param {import("../../../types.js").Context} context */
export function room({ book, back, send, write }) {
  const draft = readDraft(DRAFT) || {};
  const rows = SHAPES.map((shape) => field(shape, draft[shape.name] ?? null, book));
  const trouble = troubleLine();

  /** @param {string} crop */
  const open = (crop) => element.isConnected && location.replace(`#/crop/${crop}`);

  /** @param {Event} event */
  async function save(event) {
    event.preventDefault();
    const answers = readFields(rows, {});
    if (!answers) return;
    const wish = cropWish(book, answers);
    const say = `${answers.many} can be planned as soon as the list has met the server.`;
    if (!(await write([wish], { say, undo: goneWishes([wish]), trouble: trouble.say, still: STILL_ON_SCREEN }))) return;
    dropDraft(DRAFT);
    open(wish.fields.crop);
  }

  /** @param {File} file */
  async function choose(file) {
    const { found, said } = await readAtServer(send, "/api/crop-file", file);
    if (!found?.calendar) {
      trouble.say("");
      fill(trouble.element, drawFaults(found ? found.faults : [said]));
      return;
    }
    const wish = calendarWish(found.calendar);
    const say = `${found.calendar.many} grow by your own calendar as soon as the list has met the server.`;
    if (await write([wish], { say, undo: goneWishes([wish]), trouble: trouble.say, still: "Not written down yet. Choose the file again." })) open(wish.fields.crop);
  }

  const keep = () => saveDraft(DRAFT, Object.fromEntries(rows.map((row) => [row.name, row.raw()])));
  const element = h("main", { class: "page", id: "room" }, drawOwnCrop(rows, trouble.element, { back, keep, save, choose: (file) => void choose(file) }));
  return { element, title: "A crop of your own" };
}
