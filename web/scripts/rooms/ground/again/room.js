// @ts-check
/** Last year's plan of a place taken over into a new year, and changed on the way. */
import { goneWishes, inShares } from "../../../household/writing.js";
import { fill, h } from "../../../lib/dom.js";
import { counted } from "../../../lib/words.js";
import { drawAgain } from "./draw.js";
import { againWishes, seeAgain } from "./seen.js";

/** @param {import("../../../types.js").Context} context params: the place's id */
export function room({ book, back, params, today, newId, write }) {
  const element = h("main", { class: "page", id: "room" });
  /** @type {import("./seen.js").Choice} */
  const choice = { year: Number(today().slice(0, 4)) + (today().slice(5) > "06-30" ? 1 : 0), left: new Set(), places: new Map() };
  /** @type {import("./seen.js").Seen | null} */
  let seen = null;
  const does = {
    back,
    year: (/** @type {number} */ year) => change(() => (choice.year = year)),
    take: (/** @type {string} */ id, /** @type {boolean} */ taken) => change(() => (taken ? choice.left.delete(id) : choice.left.add(id))),
    place: (/** @type {string} */ id, /** @type {string} */ place) => change(() => choice.places.set(id, place)),
    save: () => void save(),
  };

  /** @param {() => void} act */
  function change(act) {
    act();
    void draw();
  }

  async function save() {
    if (!seen) return;
    const wishes = againWishes(book, seen, newId);
    const say = `In the book for ${seen.year}: ${counted(wishes.length, "batch", "batches")}.`;
    await inShares(write, wishes, { say, undo: goneWishes(wishes) });
  }

  async function draw() {
    const on = today();
    if (book.restingYears.length) await book.wakeAll();
    seen = seeAgain(book, await book.room(on), params[0], choice, on);
    fill(element, drawAgain(seen, does));
  }

  void draw();
  return { element, title: "Last year's plan again", refresh: (/** @type {string} */ what) => void (what === "records" && draw()) };
}
