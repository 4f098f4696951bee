// @ts-check
/** One batch, as elements. */
import { h } from "../../../lib/dom.js";
import { board, bullets, folded, heading, line, row, section, sheet, soft, titled } from "../../../ui/board.js";
import { heldKey, key, keys } from "../../../ui/key.js";
import { seasonBar } from "../../../ui/season-bar.js";

/** @typedef {NonNullable<ReturnType<typeof import("./seen.js").seeBatch>>} Seen */

/** @param {Seen} seen @param {{go: (...way: [string, ...string[]]) => void, leave: (forSeed: boolean) => void, id: string}} given leave: some for seed, or none */
export function drawBatch(seen, { go, leave, id }) {
  const { jobs, deeds } = seen;
  return [
    drawSheet(seen),
    keys(
      "two",
      key("Move some", () => go("jot", "move", id)),
      key("Lost some", () => go("jot", "lose", id)),
      key("Saw something", () => go("jot", "look", id)),
      key("What it takes", () => go("takes", `batch=${id}`)),
      key("Change it", () => go("form", "batch", id)),
      seen.seed !== null && heldKey("Some left for seed", seen.seed, () => leave(!seen.seed)),
    ),
    titled("To do", jobs.map((job) => line(() => go("job", job.id), h("b", null, job.title), h("span", { class: job.past ? "past" : "soft" }, job.says)))),
    heading("So far"),
    board(deeds.length ? folded(deeds.map((deed) => drawDeed(deed, () => go("deed", deed.id)))) : h("p", { class: "line soft" }, "Nothing done yet.")),
  ];
}

/** @param {Seen} seen */
function drawSheet({ crop, words, stages, span, plants, sums, ties }) {
  return sheet(
    section(h("p", { class: "big" }, crop), h("p", { class: "soft" }, words), span && h("div", { class: "gap" }, seasonBar(stages, span))),
    row("Plants", bullets(plants)),
    sums && row("Sums", h("p", null, sums)),
    ties.length > 0 && row("Also", bullets(ties)),
  );
}

/** @param {Seen["deeds"][0]} deed @param {() => void} open */
function drawDeed({ verb, what, note, day }, open) {
  return line(open, h("span", null, h("b", null, verb), ` ${what}`, note && [h("br"), soft(note)]), soft(day));
}
