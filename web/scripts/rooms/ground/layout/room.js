// @ts-check
/** Lay out a house: its beds moved by keys or by dragging, other ways kept beside it, one of them used, now or later. */
import { moved } from "../../../household/layout-working.js";
import { asBefore, goneWishes } from "../../../household/writing.js";
import { fill, h } from "../../../lib/dom.js";
import { drawLayouts, drawNothing } from "./draw.js";
import { AS_IT_IS, asKept, decideWish, seeLayouts, useWishes } from "./seen.js";

/** @typedef {import("../../../household/spots.js").Spot} Spot */

const LEAST_CM = 10;

/** @param {import("../../../types.js").Context} context params: the house's id */
export function room(context) {
  const laying = new Laying(context);
  void laying.draw();
  return { element: laying.element, title: "Lay out", refresh: (/** @type {string} */ what) => void (what === "records" && laying.draw()) };
}

class Laying {
  /** @type {import("./draw.js").Choice} */
  #choice = { layout: AS_IT_IS, place: null };
  /** What takes each move back, the last one last. @type {import("../../../types.js").Wish[][]} */
  #moves = [];
  /** @type {import("./seen.js").Seen | null} */
  #seen = null;

  /** @param {import("../../../types.js").Context} context */
  constructor(context) {
    this.context = context;
    this.id = context.params[0];
    this.element = h("main", { class: "page", id: "room" });
  }

  async draw() {
    const { book, back, today } = this.context;
    const on = today();
    this.#seen = seeLayouts(book, await book.room(on), this.id, on);
    if (!this.#seen) return void fill(this.element, drawNothing(back));
    const held = document.activeElement?.getAttribute("data-place");
    fill(this.element, drawLayouts(this.#seen, this.#choice, this.#does()));
    if (held) /** @type {any} */ (this.element.querySelector(`[data-place="${held}"]`))?.focus();
  }

  /** @returns {import("./draw.js").Does} */
  #does() {
    return {
      back: this.context.back,
      choose: (choice) => {
        Object.assign(this.#choice, choice);
        void this.draw();
      },
      move: (place, by, snaps) => this.#change(place, (spot, others, size) => moved(spot, by, others, size, snaps)),
      turn: (place) => this.#change(place, (spot, others, size) => moved({ ...spot, long: spot.wide, wide: spot.long }, { dx: 0, dy: 0 }, others, size, false)),
      size: (place, by) => this.#change(place, (spot, others, size) => moved({ ...spot, long: Math.max(LEAST_CM, spot.long + by.long), wide: Math.max(LEAST_CM, spot.wide + by.wide) }, { dx: 0, dy: 0 }, others, size, false)),
      another: () => void this.#another(),
      use: () => void this.#use(),
      away: () => void this.#away(),
      later: () => void this.#later(),
      undo: this.#moves.length ? () => void this.#undo() : null,
    };
  }

  get #layout() {
    return this.#seen?.layouts.find((one) => one.id === this.#choice.layout) || /** @type {import("./seen.js").Seen} */ (this.#seen).layouts[0];
  }

  /** @param {string} place @param {(spot: Spot, others: Spot[], size: {length: number, width: number}) => Spot} change */
  #change(place, change) {
    const { spots } = this.#layout;
    const spot = spots.get(place);
    if (!spot || !this.#seen) return;
    const others = [...spots].filter(([id]) => id !== place).map(([, other]) => other);
    const now = round(change(spot, others, this.#seen.size));
    this.#choice.place = place;
    void this.#write(new Map([...spots, [place, now]]));
  }

  /** @param {Map<string, Spot>} spots */
  async #write(spots) {
    const { book, write } = this.context;
    const layout = this.#layout;
    const wishes = layout.id ? [{ id: layout.id, kind: "layout", fields: { spots: asKept(spots) } }] : useWishes(book, spots);
    if (!wishes.length) return;
    const before = asBefore(book, wishes);
    if (await write(wishes)) this.#moves.push(before);
    void this.draw();
  }

  async #undo() {
    const before = this.#moves.pop();
    if (before) await this.context.write(before);
    void this.draw();
  }

  async #another() {
    const { newId, write } = this.context;
    const id = newId();
    const seen = /** @type {import("./seen.js").Seen} */ (this.#seen);
    const name = `Another way ${seen.layouts.length}`;
    const wish = { id, kind: "layout", fields: { house: this.id, name, spots: asKept(this.#layout.spots) } };
    this.#choice = { layout: id, place: null };
    await write([wish], { say: `${name}: change it as you like, the house stays as it is.`, undo: goneWishes([wish]) });
  }

  async #use() {
    const { book, write } = this.context;
    const { name, spots } = this.#layout;
    const wishes = useWishes(book, spots);
    const undo = asBefore(book, wishes);
    this.#choice = { layout: AS_IT_IS, place: null };
    await write(wishes, { say: `The house is laid out so: ${name}.`, undo });
  }

  async #away() {
    const { write } = this.context;
    const { id, name } = this.#layout;
    this.#choice = { layout: AS_IT_IS, place: null };
    await write([{ id, kind: "layout", fields: { gone: true } }], { say: `Thrown away: ${name}.`, undo: [{ id, kind: "layout", fields: { gone: false } }] });
  }

  async #later() {
    const { today, write } = this.context;
    const wish = decideWish(/** @type {import("./seen.js").Seen} */ (this.#seen), today());
    await write([wish], { say: "It is on the list, to be decided before the first planting.", undo: goneWishes([wish]) });
  }
}

/** To half a centimetre: nobody lays a bed out finer. @param {Spot} spot @returns {Spot} */
function round(spot) {
  return /** @type {Spot} */ (Object.fromEntries(Object.entries(spot).map(([name, value]) => [name, Math.round(value * 2) / 2])));
}
