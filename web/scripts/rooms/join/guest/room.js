// @ts-check
/** What a guest does: tick the jobs of the places given, take back, and write a note. */
import { tickWish, undoWishes } from "../../../household/wishes.js";
import { fill, h } from "../../../lib/dom.js";
import { kept } from "../../../lib/words.js";
import { drawGuest } from "./draw.js";
import { seeGuest } from "./seen.js";

/** @param {import("../../../types.js").Context} context of a guest's phone */
export function room(context) {
  const { book, now, moment, newId, write, askKept } = context;
  const guest = /** @type {NonNullable<typeof context.guest>} */ (context.guest);
  const element = h("main", { class: "page", id: "room" });
  /** @type {import("./seen.js").Found | null} */
  let found = null;
  let trouble = "";
  const note = { words: "", place: guest.places[0] || "" };

  async function load() {
    try {
      await askKept("/api/guest", (answer) => {
        found = answer;
        trouble = "";
        draw();
      });
    } catch (/** @type {any} */ error) {
      trouble = error.say || "The list comes from the server, which does not answer now.";
      draw();
    }
  }

  /** A guest's deeds bear the guest and no person. @param {import("../../../types.js").Wish} wish @param {string} say */
  function writeAsGuest({ id, kind, fields }, say) {
    const { by: _by, ...own } = fields;
    return write([{ id, kind, fields: { ...own, guest: guest.id } }], { say, undo: undoWishes([id]) });
  }

  async function writeNote() {
    const words = note.words.trim();
    const { on, at } = moment();
    if (words && (await writeAsGuest({ id: newId(), kind: "diary", fields: { did: "note", place: note.place, note: words, on, at } }, "Written down."))) note.words = "";
    draw();
  }

  /** @type {import("./draw.js").Does} */
  const does = {
    again: () => void load(),
    tick: (job) => void writeAsGuest(tickWish(job, newId(), moment()), `Done: ${kept(job.title)}`),
    undo: (deed) => void write(undoWishes([deed])),
    write: () => void writeNote(),
  };
  const draw = () => fill(element, drawGuest(seeGuest(book, guest.id, found, now()), trouble, note, does));
  draw();
  void load();
  return { element, title: "While they are away", bare: true, refresh: (/** @type {string} */ what) => what === "records" && draw() };
}
