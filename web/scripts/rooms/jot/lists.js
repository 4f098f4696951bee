// @ts-check
/** The lists of Jot: verbs, batches, places, fixtures. Each is one tap. */
import { h } from "../../lib/dom.js";
import { kept } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { batchName, byWalk, cropWords, fullPlace, houses, inside, placeName } from "../../household/names.js";
import { ON_GRID, batchesFor, verbOrder, verbWord } from "./choices.js";

const SHOWN = 12;

/** @param {any} tools @param {boolean} all */
export function chooseVerb(tools, all) {
  const { context, set, showAll } = tools;
  const order = verbOrder(context.book.ofKind("diary"), context.today());
  const last = context.settings.lastJot;
  const key = (/** @type {string} */ verb) => h("button", { type: "button", onclick: () => set({ did: verb }) }, glyph(verb, 46, 2.3), verbWord(verb));
  return h(
    "div",
    null,
    h(
      "div",
      { class: "verbs" },
      order.slice(0, all ? order.length : ON_GRID).map(key),
      !all && h("button", { type: "button", onclick: showAll }, glyph("more", 46), "More"),
    ),
    last &&
      h(
        "div",
        { class: "jot-below" },
        h("button", { class: "key", type: "button", onclick: () => set({ ...last }) }, "Same again", h("small", null, [verbWord(last.did), last.batch ? batchName(context.book, last.batch) : placeName(context.book, last.place || last.fixture)].filter(Boolean).join(", "))),
      ),
  );
}

/** @param {any} tools @param {boolean} all */
export function chooseBatch(tools, all) {
  const { context, slip, set, showAll } = tools;
  const { book } = context;
  const today = context.today();
  const rows = batchesFor({
    stand: book.stand(today),
    jobs: book.jobs(today),
    verb: slip.did,
    place: context.settings.placeInHand || null,
    book,
    year: Number(today.slice(0, 4)),
  });
  const shown = all ? rows : rows.slice(0, SHOWN);
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, verbWord(slip.did)), " which plants?"),
    h(
      "div",
      { class: "board" },
      shown.map(({ batch, job }) =>
        h(
          "button",
          { class: "line", type: "button", onclick: () => set({ batch: batch.id }) },
          h("span", null, h("b", null, batchName(book, batch.id)), " ", cropWords(book, batch.id), h("br"), h("span", { class: "soft" }, kept(whereWords(book, batch)))),
          h("span", { class: "soft" }, job && job.state === "ready" ? "on the list" : batch.state),
        ),
      ),
      !shown.length && h("p", { class: "line" }, "Nothing grows that this could be done to. Put down a batch first, in Ground."),
      rows.length > shown.length && h("button", { class: "line firm", type: "button", onclick: showAll }, h("b", null, `${rows.length - shown.length} more`), glyph("forward", 26)),
    ),
    (slip.did === "look" || slip.did === "treat") && h("button", { class: "key", type: "button", onclick: () => set({ place: context.settings.placeInHand || houses(book)[0]?.id || null }) }, "A whole place, not one batch"),
    !shown.length && h("button", { class: "key", type: "button", onclick: () => context.go("form", "batch", "new") }, "Put down a batch"),
  );
}

/** @param {any} book @param {any} batch */
function whereWords(book, batch) {
  const cells = batch.cells.map((/** @type {any} */ cell) => [cell.count ?? "", cell.place ? fullPlace(book, cell.place) : ""].filter(String).join(" in "));
  return cells.length ? cells.slice(0, 2).join("; ") : batch.for_place ? `for ${fullPlace(book, batch.for_place)}` : "";
}

/** @param {any} tools */
export function choosePlace(tools) {
  const { context, slip, set } = tools;
  const { book } = context;
  const measured = slip.did === "measure";
  const rows = houses(book).flatMap((house) => [house, ...(measured ? [] : inside(book, house.id))]);
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, verbWord(slip.did)), " where?"),
    h(
      "div",
      { class: "board" },
      rows.map((place) => h("button", { class: "line", type: "button", onclick: () => set({ place: place.id }) }, h("b", null, fullPlace(book, place.id)), glyph("forward", 26))),
      !rows.length && h("p", { class: "line" }, "No places yet. Put them down first, in Ground."),
    ),
  );
}

/** @param {any} tools */
export function chooseFixture(tools) {
  const { context, slip, write, set } = tools;
  const { book } = context;
  const up = new Map(book.stand(context.today()).fixtures.map((/** @type {any} */ fixture) => [fixture.id, fixture]));
  const rows = book
    .ofKind("fixture")
    .filter((/** @type {any} */ fixture) => {
      const state = up.get(fixture.id);
      if (slip.did === "remove") return state?.up;
      if (slip.did === "connect") return ["drip_line", "soaker_hose"].includes(fixture.fields.sort) && !state?.connected;
      return !state?.up;
    })
    .sort(byWalk);
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, verbWord(slip.did)), " what?"),
    h(
      "div",
      { class: "board" },
      rows.map((/** @type {any} */ fixture) =>
        h(
          "button",
          {
            class: "line",
            type: "button",
            onclick: () => {
              set({ fixture: fixture.id, place: fixture.fields.place || null });
              void write({});
            },
          },
          h("span", null, h("b", null, fixture.fields.name || "?"), h("br"), h("span", { class: "soft" }, fullPlace(book, fixture.fields.place))),
          glyph("tick", 26),
        ),
      ),
      !rows.length && h("p", { class: "line" }, "Nothing of that kind to hand. Shelves, strings, nets and hoses are put down in Ground."),
    ),
  );
}
