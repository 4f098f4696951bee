// @ts-check
/** One batch: where its plants are, how its season runs, what is to do, what was done. */
import { batchName } from "../../../household/names.js";
import { fill, h } from "../../../lib/dom.js";
import { emptyBoard } from "../../../ui/board.js";
import { top } from "../../../ui/top.js";
import { drawBatch } from "./draw.js";
import { seeBatch } from "./seen.js";

/** @param {import("../../../types.js").Context} context params: the batch's id */
export function room({ book, go, back, write, today, params }) {
  const id = params[0];
  const element = h("main", { class: "page", id: "room" });
  const title = () => batchName(book, id) || "Batch";

  /** @param {boolean} forSeed */
  function leave(forSeed) {
    const wish = (/** @type {boolean} */ yes) => [{ id, kind: "batch", fields: { save_seed: yes || null } }];
    const say = forSeed ? "Some are left for seed: the list says when to choose them and when it is dry." : "None are left for seed.";
    void write(wish(forSeed), { say, undo: wish(!forSeed) });
  }

  function draw() {
    const seen = seeBatch(book, id, today());
    const rests = !seen && book.restingYears.length > 0;
    fill(element, top(back, title()), seen ? drawBatch(seen, { go, leave, id }) : !rests && emptyBoard("This batch is not in the book any more."));
    if (rests) void book.wakeAll();
  }

  draw();
  return { element, title: title(), refresh: (/** @type {string} */ what) => what === "records" && draw() };
}
