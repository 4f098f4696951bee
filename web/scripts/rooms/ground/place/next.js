// @ts-check
/** What comes next in a bed: its years, and what still ripens in a gap, looked for crop by crop while the page stays awake. */
import { fillersOf } from "../../../household/gap-fillers.js";
import { fill, h } from "../../../lib/dom.js";
import { drawNext } from "./next-draw.js";
import { seeFillers, seeNext, seeRotation } from "./next-seen.js";

/** So long at a time, so that a tap is never kept waiting. [ms] */
const SLICE_MS = 12;

/** @param {import("../../../types.js").Context} context @param {string} id the place's @returns {{element: HTMLElement, draw: () => Promise<void>}} */
export function nextIn({ book, today, go, now }, id) {
  const element = h("div");
  /** @type {import("./next-draw.js").Looked} */
  let looked = null;
  let asked = 0;

  async function draw() {
    const on = today();
    const room = await book.room(on);
    const seen = seeNext(book, room, id, on);
    const known = room.places.some((place) => place.id === id);
    fill(element, known && drawNext(seen, seeRotation(book, room, id), looked, { lookInto: (gap) => void lookInto(gap), plan, whole }));
  }

  /** @param {number} at which gap */
  async function lookInto(at) {
    asked += 1;
    const mine = asked;
    const on = today();
    const room = await book.room(on);
    const gap = seeNext(book, room, id, on).gaps[at];
    const all = Object.keys(book.rulebook.crops || {}).length;
    looked = { gap: at, done: 0, all, fillers: [], whole: false };
    await draw();
    const found = [];
    let began = now();
    for (const filler of fillersOf(book.rulebook, book.records, id, gap, on)) {
      if (filler) found.push(filler);
      if (now() - began < SLICE_MS) continue;
      await new Promise((resolve) => setTimeout(resolve, 0));
      if (mine !== asked) return; // another gap was asked for meanwhile
      began = now();
    }
    looked = { gap: at, done: all, all, fillers: seeFillers(book, room, id, found, on), whole: false };
    await draw();
  }

  function whole() {
    if (looked) looked = { ...looked, whole: true };
    void draw();
  }

  /** @param {import("./next-draw.js").Fillers[0]} filler */
  function plan({ crop, sow }) {
    go("plan", `crop=${crop}`, `place=${id}`, `day=${sow}`, "mode=begin", "variety=", "spacing=", "row=", "pattern=", "tapeLength=", "tapeWidth=");
  }

  return { element, draw };
}
