// @ts-check
/** Catch up: what its keys do. Each answer writes plain diary records, and is taken back as one. */
import { undoWay, wayWishes } from "../../household/wishes.js";
import { fill, h } from "../../lib/dom.js";
import { drawCatchUp } from "./draw.js";
import { onDay, seeCatchUp } from "./seen.js";

/** @typedef {import("./seen.js").Row} Row */

/** @param {import("../../types.js").Context} context */
export function room(context) {
  const { book, back, go, moment, newId, today, write } = context;
  const element = h("main", { class: "page", id: "room" });

  const does = {
    back,
    batch: (/** @type {string} */ id) => go("batch", id),
    answer: (/** @type {Row} */ row, /** @type {number} */ at, /** @type {string | null} */ day) => void answer(row, at, day),
  };

  /** @param {Row} row @param {number} at which of its answers @param {string | null} day */
  async function answer(row, at, day) {
    const way = onDay(row.line.ways[at], row.line.about, day || row.line.about || today());
    const wishes = wayWishes({ id: "", verb: "", part: 1 }, way, newId, moment());
    const say = at === 0 ? row.says : way.say;
    await write(wishes, { say: `Written down: ${row.title}: ${say}`, undo: undoWay(wishes), undone: "It is asked again." });
  }

  async function draw() {
    const on = today();
    const caught = await book.catchUp(on);
    if (on === today()) fill(element, drawCatchUp(seeCatchUp(book, caught, on), on, does));
  }

  const refresh = (/** @type {string} */ what) => {
    if (what !== "sharing") void draw();
  };
  void draw();
  return { element, title: "Catch up", refresh };
}
