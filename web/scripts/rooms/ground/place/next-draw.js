// @ts-check
/** What comes next in a bed, as elements. */
import { h } from "../../../lib/dom.js";
import { board, heading, line, named, soft } from "../../../ui/board.js";
import { heldKey, keys } from "../../../ui/key.js";
import { yearsStrip } from "../../../ui/years-strip.js";

/**
 * @typedef {ReturnType<typeof import("./next-seen.js").seeNext>} Seen
 * @typedef {ReturnType<typeof import("./next-seen.js").seeFillers>} Fillers
 * @typedef {{gap: number, done: number, all: number, fillers: Fillers, whole: boolean} | null} Looked which gap is looked into, how far one has come, what was found, and
 *   whether all of it is shown
 */

const FIRST = 8;

/** @param {Seen} seen @param {string[]} cautions @param {Looked} looked @param {{lookInto: (gap: number) => void, plan: (filler: Fillers[0]) => void, whole: () => void}} does */
export function drawNext({ years, today, gaps }, cautions, looked, { lookInto, plan, whole }) {
  return h(
    "section",
    { "aria-label": "What comes next here" },
    heading("What comes next here"),
    yearsStrip({ years, today }),
    cautions.map((words) => h("p", { class: "note rotation-note" }, words)),
    gaps.length > 0 && h("p", { class: "soft note" }, "What still ripens here before the bed is wanted again:"),
    gaps.length > 0 && keys("stacked", gaps.map(({ words }, at) => heldKey(words, looked?.gap === at, () => lookInto(at), { look: "slim" }))),
    looked && drawFillers(looked, plan, whole),
  );
}

/** @param {NonNullable<Looked>} looked @param {(filler: Fillers[0]) => void} plan @param {() => void} whole */
function drawFillers({ done, all, fillers, whole: shown }, plan, whole) {
  if (done < all) return h("p", { class: "soft note", role: "status" }, `Looking through ${all} crops …`);
  if (!fillers.length) return h("p", { class: "note", role: "status" }, "Nothing that is known here ripens in that time.");
  const some = shown ? fillers : fillers.slice(0, FIRST);
  return [
    board(some.map((filler) => line(() => plan(filler), named(filler.words, filler.says), filler.caution && h("small", { class: "caution-note" }, filler.caution)))),
    fillers.length > some.length && heldKey(`All ${fillers.length} that ripen`, false, whole, { look: "slim gap" }),
    soft("A tap plans it, with its day."),
  ];
}
