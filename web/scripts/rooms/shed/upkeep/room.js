// @ts-check
/** The other work: what there is, and one of it with the places it is chosen for. */
import { fill, h } from "../../../lib/dom.js";
import { counted, kept } from "../../../lib/words.js";
import { drawWork, drawWorks } from "./draw.js";
import { chooseWish, seeWork, seeWorks } from "./seen.js";

/** @param {import("../../../types.js").Context} context params: the work; none: all of it */
export function room({ book, go, back, params, write, today }) {
  const [work] = params;
  const element = h("main", { class: "page", id: "room" });
  /** @type {import("./draw.js").Does} */
  const does = {
    back,
    open: (id) => go("upkeep", id),
    choose: (targets, chosen) => {
      const wishes = (/** @type {boolean} */ on) => targets.map((target) => chooseWish(work, target, on, today()));
      const where = targets.length === 1 ? targets[0].name : counted(targets.length, "place");
      void write(wishes(chosen), { say: kept(`${chosen ? "On the list" : "Not on the list any more"}: ${where}.`), undo: wishes(!chosen) });
    },
    tell: (targets, fields) => void write(targets.map(({ id }) => ({ id, kind: "upkeep", fields }))),
  };
  const title = () => (work && book.rulebook.upkeep?.[work]?.name) || "Other work";
  const refresh = (/** @type {string} */ what) => {
    if (what === "sharing" || (what === "records" && element.querySelector("input:focus"))) return;
    const at = window.scrollY;
    const seen = work ? seeWork(book, work) : null;
    fill(element, seen ? drawWork(seen, does) : drawWorks(seeWorks(book), does));
    if (what) window.scrollTo(0, at);
  };
  refresh("");
  return { element, title: title(), refresh };
}
