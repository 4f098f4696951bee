// @ts-check
/** One batch: where its plants are, how its season runs, what is to do, what was done. */
import { batchName } from "../../../household/names.js";
import { fill, h } from "../../../lib/dom.js";
import { emptyBoard } from "../../../ui/board.js";
import { top } from "../../../ui/top.js";
import { drawBatch } from "./draw.js";
import { seeBatch } from "./seen.js";

/** @param {import("../../../types.js").Context} context params: the batch's id */
export function room({ book, go, back, today, params }) {
  const id = params[0];
  const element = h("main", { class: "page", id: "room" });
  const title = () => batchName(book, id) || "Batch";

  function draw() {
    const seen = seeBatch(book, id, today());
    const rests = !seen && book.restingYears.length > 0;
    fill(element, top(back, title()), seen ? drawBatch(seen, { go, id }) : !rests && emptyBoard("This batch is not in the book any more."));
    if (rests) void book.wakeAll();
  }

  draw();
  return { element, title: title(), refresh: (/** @type {string} */ what) => what === "records" && draw() };
}
