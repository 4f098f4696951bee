// @ts-check
/** What it takes for a stretch of days, and the list of what is to be bought: ticked with no signal, shared, and printed. */
import { fill, h } from "../../../lib/dom.js";
import { drawTakes } from "./draw.js";
import { backWishes, boughtWishes, countedWish, seeTakes } from "./seen.js";

/** @param {import("../../../types.js").Context} context params: `batch=ID` or `place=ID`, where it is for one alone */
export function room({ book, back, go, params, today, moment, newId, write }) {
  const only = Object.fromEntries(params.map((pair) => pair.split("=", 2)));
  const choice = { days: only.batch || only.place ? 366 : 42, from: "", to: "", batch: only.batch || null, place: only.place || null };
  /** @type {string | null} */
  let opened = null;
  const element = h("main", { class: "page", id: "room" });
  /** @type {import("./draw.js").Does} */
  const does = {
    back,
    opened,
    stretch: (days) => {
      Object.assign(choice, { days, from: "", to: "" });
      void draw();
    },
    days: (own) => {
      Object.assign(choice, own);
      void draw();
    },
    open: (key) => {
      opened = key;
      void draw();
    },
    got: (row) => {
      const wishes = boughtWishes(row, { id: newId(), today: today(), at: moment() });
      void write(wishes, { say: `In the shed: ${row.words}.`, undo: backWishes(row, wishes) });
    },
    count: (row, held) => {
      opened = null;
      void write([countedWish(row, held, today())], { say: `Counted: ${row.words}.` });
    },
    print: () => window.print(),
    own: () => go("vessels"),
  };

  async function draw() {
    const on = today();
    const room = await book.room(on);
    fill(element, drawTakes(seeTakes(book, room, choice, on), { ...does, opened }));
  }

  void draw();
  return { element, title: "What it takes", refresh: (/** @type {string} */ what) => void (what === "records" && draw()) };
}
