// @ts-check
/** One crop's numbers, as elements. */
import { measuredBy, valueWords } from "../../../household/crop-numbers.js";
import { readDegrees, readGrams, readLength, readLitres, readNumber, readWarmer } from "../../../lib/amounts.js";
import { h } from "../../../lib/dom.js";
import { unitName } from "../../../lib/quantities.js";
import { lead, section, soft, troubleBoard } from "../../../ui/board.js";
import { fold } from "../../../ui/fold.js";
import { key, keys } from "../../../ui/key.js";
import { stepper } from "../../../ui/stepper.js";
import { top } from "../../../ui/top.js";

const READS = { degrees: readDegrees, warmer: readWarmer, length: readLength, weight: readGrams, volume: readLitres };

/**
 * @typedef {import("./seen.js").SeenNumber} SeenNumber
 * @typedef {{open: Set<string>, editing: string, typed: number, trouble: string, waits: boolean}} State open: groups; editing: a number's
 *   path; typed: what its stepper says; waits: the numbers have not come yet
 * @typedef {{back: () => void, year: () => void, successions: () => void, again: () => void, putAway: () => void,
 *   toggle: (group: string, open: boolean) => void, edit: (path: string, value: number) => void, type: (value: number) => void,
 *   keep: (number: SeenNumber, value: number | null) => void}} Does
 */

/** @param {ReturnType<typeof import("./seen.js").seeCrop>} seen @param {State} state @param {Does} does */
export function drawCrop(seen, state, does) {
  return [
    top(does.back, seen.title),
    lead(seen.intro),
    seen.whole && h("div", { class: "gap-below" }, keys("two", key("Its year", does.year), key("One after another", does.successions))),
    state.trouble && troubleBoard(state.trouble, does.again),
    state.waits && h("p", { class: "soft note", role: "status" }, "Asking for its numbers."),
    seen.groups.map(({ group, title, numbers }) =>
      fold({
        title,
        open: state.open.has(group),
        onToggle: (open) => does.toggle(group, open),
        inside: () => h("div", { class: "board gap" }, numbers.map((one) => drawNumber(one, state, does))),
      }),
    ),
    seen.file && h("a", { class: "key gap-l", href: `/api/crops/${seen.crop}/file`, download: `${seen.crop}.toml` }, "Its calendar as a file"),
    seen.made && key("Put this crop away", does.putAway, { look: "gap-l" }),
  ];
}

/** @param {SeenNumber} one @param {State} state @param {Does} does */
function drawNumber(one, state, does) {
  const { number, own, usual } = one;
  const open = state.editing === number.path;
  return [
    h(
      "button",
      { class: "line", type: "button", "data-number": number.path, "aria-expanded": String(open), onclick: () => does.edit(open ? "" : number.path, own ?? usual) },
      h("span", null, h("b", null, number.label), one.wrong && [h("br"), h("span", { class: "past" }, one.wrong)]),
      own === null ? soft(one.usualWords) : h("span", { class: "own" }, h("b", null, one.ownWords), h("br"), soft(`${one.whose} ${one.usualWords}`)),
    ),
    open && drawEditor(one, state.typed, does),
  ];
}

/** @param {SeenNumber} one @param {number} typed @param {Does} does */
function drawEditor(one, typed, does) {
  const { number, own, usual } = one;
  const of = measuredBy(number);
  const words = h("p", { class: "soft", role: "status" }, number.anchor ? valueWords(number, typed) : "");
  const count = stepper({
    value: typed,
    least: number.low,
    most: number.high,
    ...one.pace,
    name: number.label,
    small: true,
    of,
    reads: of === null ? readNumber : READS[of],
    under: number.anchor ? "weeks" : of === null ? number.unit : unitName(of),
    onChange: (value) => {
      does.type(value);
      if (number.anchor) words.textContent = valueWords(number, value);
    },
  });
  const keep = () => {
    const value = count.value();
    if (value !== null) does.keep(one, value === usual ? null : value);
  };
  return section(
    count.element,
    words,
    h("p", { class: "soft note" }, one.source),
    h(
      "div",
      { class: "gap" },
      keys(
        "two",
        key(own === null ? "As it was" : `Back to ${one.usualWords}`, () => does.keep(one, null), { disabled: own === null }),
        key("Keep this", keep, { look: "solid" }),
      ),
    ),
  );
}
