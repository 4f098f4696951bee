// @ts-check
/** Room through the year: how full each place is week by week, and what could move where it is too full. */
import { fill, h } from "../../../lib/dom.js";
import { drawFullness } from "./draw.js";
import { seeFullness } from "./seen.js";

/** @param {import("../../../types.js").Context} context */
export function room({ book, back, go, today }) {
  const element = h("main", { class: "page", id: "room" });

  async function draw() {
    const on = today();
    const room = await book.room(on);
    fill(element, drawFullness(seeFullness(book, room, on), { back, place: (id) => go("place", id) }));
  }

  void draw();
  return { element, title: "Room through the year", refresh: (/** @type {string} */ what) => void (what === "records" && draw()) };
}
