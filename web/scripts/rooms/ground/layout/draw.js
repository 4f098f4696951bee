// @ts-check
/** Laying a house out, as elements: the plan with what can be moved, the keys that move it, and ways side by side. */
import { h, svg } from "../../../lib/dom.js";
import { bullets, emptyBoard, heading, lead, section, sheet } from "../../../ui/board.js";
import { fitted, housePicture } from "../../../ui/house-picture.js";
import { heldKey, key, keyGroup, keys } from "../../../ui/key.js";
import { top } from "../../../ui/top.js";

/**
 * @typedef {import("./seen.js").Seen} Seen
 * @typedef {import("./seen.js").Layout} Layout
 * @typedef {{layout: string, place: string | null}} Choice which layout is on the table, and which of its places is in hand
 * @typedef {{back: () => void, choose: (choice: Partial<Choice>) => void, move: (place: string, by: {dx: number, dy: number}, snaps: boolean) => void,
 *   turn: (place: string) => void, size: (place: string, by: {long: number, wide: number}) => void, another: () => void, use: () => void, away: () => void,
 *   later: () => void, undo: (() => void) | null}} Does undo: the last move
 */

const WIDE = 420;
const MOST_TALL = 340;
const STEP = 10;
const FAR = 50;
/** Width of a letter of a name on the plan. [px] */
const LETTER = 9.3;
const ARROWS = /** @type {Record<string, {dx: number, dy: number}>} */ ({ ArrowLeft: { dx: -1, dy: 0 }, ArrowRight: { dx: 1, dy: 0 }, ArrowUp: { dx: 0, dy: -1 }, ArrowDown: { dx: 0, dy: 1 } });

/** @param {() => void} back */
export function drawNothing(back) {
  return [top(back, "Lay out"), emptyBoard("Nothing in this house has a size yet. Say how long and wide its beds and benches are, and they can be laid out here.")];
}

/** @param {Seen} seen @param {Choice} choice @param {Does} does */
export function drawLayouts(seen, choice, does) {
  const layout = seen.layouts.find((one) => one.id === choice.layout) || seen.layouts[0];
  return [
    top(does.back, `Lay out ${seen.name}`),
    lead("The door is on the left. Tap a bed and move it with the keys; with a mouse it can be dragged."),
    seen.layouts.length > 1 && keyGroup("Which layout", "three", seen.layouts.map((one) => heldKey(one.name, one === layout, () => does.choose({ layout: one.id, place: null }), { look: "slim" }))),
    h("div", { class: "bed-sheet" }, drawTable(seen, layout, choice, does)),
    layout.trouble.map((words) => h("p", { class: "past note", role: "status" }, words)),
    drawKeys(layout, choice, does),
    heading("Side by side"),
    h("div", { class: "beside-each-other" }, seen.layouts.map((one) => drawWorth(one, one === layout, seen, does))),
    keys("two", key("Another layout", does.another), layout.id && key("Use this one", does.use), layout.id && key("Throw it away", does.away), seen.layouts.length > 1 && !seen.decision.open && key("Decide later", does.later)),
    seen.decision.open && h("p", { class: "soft note" }, "To be decided: it is on the list, until the first planting here."),
    seen.decision.answer && h("p", { class: "note", role: "status" }, `Decided: ${seen.decision.answer}.`),
  ];
}

/** @param {Seen} seen @param {Layout} layout @param {Choice} choice @param {Does} does */
function drawTable({ size, cover, name }, layout, choice, does) {
  const scale = Math.min(WIDE / size.length, MOST_TALL / size.width);
  const [w, t] = [size.length * scale, size.width * scale];
  return svg(
    "svg",
    { class: "house-picture laying", viewBox: `-14 -3 ${w + 18} ${t + 6}`, role: "group", "aria-label": `${name} from above` },
    svg("rect", { x: 0, y: 0, width: w, height: t, fill: "var(--well)", stroke: "var(--ink)", "stroke-width": 3, "stroke-dasharray": cover === "tunnel" ? "10 5" : null }),
    svg("path", { d: `M-7 ${t / 2 - 18}v36`, stroke: "var(--ink)", "stroke-width": 7 }),
    layout.places.map((place) => drawPlace(place, scale, place.id === choice.place, does)),
  );
}

/** @param {Layout["places"][0]} place @param {number} scale @param {boolean} inHand @param {Does} does */
function drawPlace({ id, name, x, y, long, wide }, scale, inHand, { choose, move }) {
  const said = `${name}, ${Math.round(long)}\u00a0cm by ${Math.round(wide)}\u00a0cm, ${Math.round(x)}\u00a0cm from the door and ${Math.round(y)}\u00a0cm from the left side`;
  const element = svg(
    "g",
    {
      class: "inside",
      tabindex: 0,
      role: "button",
      "aria-label": said,
      "aria-pressed": String(inHand),
      "data-place": id,
      onclick: () => choose({ place: id }),
      onkeydown: (/** @type {KeyboardEvent} */ event) => {
        const way = ARROWS[event.key];
        const takes = event.key === "Enter" || event.key === " ";
        if (!way && !takes) return;
        event.preventDefault();
        if (takes) {
          choose({ place: id });
          return;
        }
        const far = event.shiftKey ? FAR : STEP;
        move(id, { dx: way.dx * far, dy: way.dy * far }, false);
      },
    },
    svg("rect", { x: x * scale, y: y * scale, width: Math.max(8, long * scale), height: Math.max(8, wide * scale), fill: inHand ? "var(--stage-ground)" : "var(--label)", stroke: "var(--ink)", "stroke-width": inHand ? 4 : 2.2 }),
    svg("text", { x: (x + long / 2) * scale, y: (y + wide / 2) * scale + 7, "text-anchor": "middle", "font-size": 17, class: "over-fill" }, fitted(name, long * scale, LETTER)),
  );
  draggable(element, scale, (by) => move(id, by, true));
  return element;
}

/** Less is a tap that slipped. [cm] */
const LEAST_DRAG_CM = 3;

/** With a mouse or a pen a place can be dragged; a finger scrolls the page. @param {any} element @param {number} scale @param {(by: {dx: number, dy: number}) => void} drop */
function draggable(element, scale, drop) {
  /** @type {{x: number, y: number} | null} */
  let from = null;
  const by = (/** @type {PointerEvent} */ event) => {
    const box = element.ownerSVGElement.getBoundingClientRect();
    const pixels = box.width / element.ownerSVGElement.viewBox.baseVal.width;
    return from ? { dx: (event.clientX - from.x) / pixels / scale, dy: (event.clientY - from.y) / pixels / scale } : { dx: 0, dy: 0 };
  };
  element.addEventListener("pointerdown", (/** @type {PointerEvent} */ event) => {
    if (event.pointerType === "touch") return;
    from = { x: event.clientX, y: event.clientY };
    element.setPointerCapture(event.pointerId);
  });
  element.addEventListener("pointermove", (/** @type {PointerEvent} */ event) => {
    if (!from) return;
    const { dx, dy } = by(event);
    element.setAttribute("transform", `translate(${dx * scale} ${dy * scale})`);
  });
  element.addEventListener("pointerup", (/** @type {PointerEvent} */ event) => {
    if (!from) return;
    const { dx, dy } = by(event);
    from = null;
    element.removeAttribute("transform");
    if (Math.hypot(dx, dy) >= LEAST_DRAG_CM) drop({ dx, dy });
  });
  element.addEventListener("pointercancel", () => {
    from = null;
    element.removeAttribute("transform");
  });
}

/** @param {Layout} layout @param {Choice} choice @param {Does} does */
function drawKeys(layout, choice, { move, turn, size, undo }) {
  const place = layout.places.find((one) => one.id === choice.place);
  const back = undo && key("Undo the last move", undo, { look: "slim gap" });
  if (!place) return back;
  const by = (/** @type {string} */ words, /** @type {number} */ dx, /** @type {number} */ dy) => key(words, () => move(place.id, { dx: dx * STEP, dy: dy * STEP }, false), { look: "slim", "aria-label": `${place.name}: ${words} 10 cm` });
  const grow = (/** @type {string} */ words, /** @type {number} */ long, /** @type {number} */ wide) => key(words, () => size(place.id, { long: long * STEP, wide: wide * STEP }), { look: "slim", "aria-label": `${place.name}: ${words} by 10 cm` });
  return [
    heading(place.name),
    keys("four", by("← door", -1, 0), by("↑ left", 0, -1), by("↓ right", 0, 1), by("back →", 1, 0)),
    h("div", { class: "gap" }, keys("two", grow("longer", 1, 0), grow("shorter", -1, 0), grow("wider", 0, 1), grow("narrower", 0, -1))),
    key("Turn it a quarter", () => turn(place.id), { look: "slim gap" }),
    back,
  ];
}

/** @param {Layout} layout @param {boolean} chosen @param {Seen} seen @param {Does} does */
function drawWorth({ id, name, facts, places }, chosen, { size, cover }, does) {
  const picture = housePicture({ ...size, cover, places: places.map((place) => ({ ...place, taken: null })), label: name }, () => does.choose({ layout: id, place: null }));
  return sheet(section(picture, h("p", { class: chosen ? "title" : null }, h("b", null, name)), bullets(facts.map(([what, says]) => `${what}: ${says}`))));
}
