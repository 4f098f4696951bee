// @ts-check
/** The other work, as elements. */
import { readNumber } from "../../../lib/amounts.js";
import { h } from "../../../lib/dom.js";
import { board, emptyBoard, heading, lead, line, named, section, sheet, titled } from "../../../ui/board.js";
import { cautionGlyph, glyph } from "../../../ui/glyphs.js";
import { heldKey, key, keyGroup, keys } from "../../../ui/key.js";
import { stepper } from "../../../ui/stepper.js";
import { top } from "../../../ui/top.js";
import { SOILS, USUAL_PH } from "./seen.js";

/**
 * @typedef {import("./seen.js").Target} Target
 * @typedef {{back: () => void, open: (work: string) => void, choose: (targets: Target[], chosen: boolean) => void, tell: (targets: Target[], fields: Record<string, any>) => void}} Does
 */

const PH = { least: 3, most: 9.5, step: 0.1, decimals: 1 };

/** @param {ReturnType<typeof import("./seen.js").seeWorks>} parts @param {Does} does */
export function drawWorks(parts, { back, open }) {
  return [
    top(back, "Other work"),
    lead("What no crop asks for. Nothing of it is on the list until you choose it, and then it stands after all that presses."),
    parts.length ? parts.map(({ title, works }) => titled(title, works.map(({ id, name, says }) => line(() => open(id), named(name, says), glyph("forward", 26))))) : emptyBoard("What is known of it has not come from the server yet. Open the app once where it answers."),
  ];
}

/** @param {NonNullable<ReturnType<typeof import("./seen.js").seeWork>>} seen @param {Does} does */
export function drawWork(seen, does) {
  const { whole } = seen;
  return [
    top(does.back, seen.name),
    board(h("p", { class: "line" }, named(seen.rhythm, seen.takes))),
    seen.hint && h("p", { class: "soft note gap" }, seen.hint),
    seen.cautions.map(({ id, title, say }) => h("div", { class: "caution gap", role: "note" }, h("p", { class: "caut" }, glyph(cautionGlyph(id), 28), title), h("p", null, say))),
    whole && key(whole.chosen ? "Not on the list any more" : "Put it on the list", () => does.choose([whole], !whole.chosen), { look: whole.chosen ? "gap" : "done gap" }),
    seen.none && emptyBoard(seen.none),
    seen.groups.map(({ house, targets }) => drawGroup(house, targets, does)),
    seen.often && drawOften(seen.often, does),
    seen.limes.length > 0 && [heading("Soil and test"), seen.limes.map((target) => drawTest(target, does))],
  ];
}

/** @param {string} house @param {Target[]} targets @param {Does} does */
function drawGroup(house, targets, does) {
  const all = targets.every((one) => one.chosen);
  return [
    heading(house),
    keyGroup(house, "two", targets.map((one) => heldKey(one.name, one.chosen, () => does.choose([one], !one.chosen)))),
    targets.length > 2 && key(all ? "None of these" : "All of these", () => does.choose(targets.filter((one) => one.chosen === all), !all), { look: "slim gap" }),
  ];
}

/** @param {{days: number, own: boolean, targets: Target[]}} often @param {Does} does */
function drawOften({ days, own, targets }, does) {
  const every = (/** @type {number | null} */ value) => does.tell(targets, { every_days: value });
  return [
    heading("Again after"),
    stepper({ value: days, least: 1, most: 366, name: "Days until it comes again", under: own ? "days, your own" : "days, at the soonest", small: true, onChange: every }).element,
    own && key("As the calendar has it", () => every(null), { look: "slim gap" }),
  ];
}

/** @param {Target} target @param {Does} does */
function drawTest(target, does) {
  const { fields, name } = target;
  const tested = (fields.ph_tenths ?? null) !== null;
  const ph = stepper({ ...PH, value: tested ? fields.ph_tenths / 10 : USUAL_PH, name: `pH of ${name}`, under: tested ? "pH" : "pH, not told yet", small: true, reads: readNumber, onChange: (value) => does.tell([target], { ph_tenths: Math.round(value * 10) }) });
  return sheet(
    section(
      h("p", { class: "title" }, h("b", null, name)),
      h("div", { class: "gap" }, ph.element),
      h("div", { class: "gap" }, keys("two", SOILS.map(([id, words]) => heldKey(words, fields.soil === id, () => does.tell([target], { soil: id }), { look: "slim" })))),
    ),
  );
}
