// @ts-check
/** One place: its beds, what stands there, what is put up, and what is to do. */
import { jobForFixture } from "../../../household/answers.js";
import { inside, placeName } from "../../../household/names.js";
import { undoWishes } from "../../../household/wishes.js";
import { fill, h } from "../../../lib/dom.js";
import { carrier, keepingArrow } from "../../parts/carrying.js";
import { bedIn } from "./bed.js";
import { nextIn } from "./next.js";
import { drawGone, drawPlace } from "./draw.js";
import { seePlace } from "./seen.js";

const DONE = { connect: "connected", remove: "taken down", install: "put up" };

/** @param {import("../../../types.js").Context} context params: the place's id */
export function room(context) {
  const { book, go, back, today, moment, newId, write } = context;
  const id = context.params[0];
  const element = h("main", { class: "page", id: "room" });

  /** @param {import("./seen.js").Fixture} fixture */
  async function change({ id: fixture, place, name, verb }) {
    const job = jobForFixture(book.jobs(today()), fixture, verb);
    const { on, at, by } = moment();
    const fields = { did: verb, fixture, place, on, at, ...(by ? { by } : {}), ...(job ? { job: job.id, part: job.part } : {}) };
    const wish = { id: newId(), kind: "diary", fields };
    await write([wish], { say: `Written down: ${name} ${DONE[verb]}`, undo: undoWishes([wish.id]) });
  }

  const bed = bedIn(context, id);
  const next = nextIn(context, id);
  let carrying = false;
  const carry = carrier(context, () => inside(book, id), "there");
  const toCarry = (/** @type {boolean} */ on) => {
    carrying = on;
    draw();
  };

  function draw() {
    const seen = seePlace(book, id, today());
    keepingArrow(element, () => fill(element, seen ? drawPlace(seen, { back, go, change: (fixture) => void change(fixture), carrying, toCarry, carry, bed: bed.element, next: next.element }) : drawGone(back)));
    void bed.draw();
    if (seen?.ground) void next.draw();
  }

  draw();
  return { element, title: placeName(book, id) || "Place", refresh: (/** @type {string} */ what) => what === "records" && draw() };
}
