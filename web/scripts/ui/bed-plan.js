// @ts-check
/** A bed to scale, seen from above with its door end at the top: tape, plants where they stand, gaps, strings, hose, what is free. */
import { h, svg } from "../lib/dom.js";
import { unitName } from "../lib/quantities.js";

/**
 * @typedef {{plants: [number, number][], gaps: [number, number][], drills: number[], at: number, run: number, left: number, wide: number, across: number,
 *   trained: boolean, stems: number, told: boolean, foot: boolean, mark: number}} Drawn what one batch takes [mm]: from where along the bed and how long, from its left edge and how wide. across: the room of one plant; told:
 *   it stands there, else it is expected; foot: at the foot of another; mark: which mark its plants bear
 * @typedef {{at: number, words: string, says: string, mark: number | null, open: (() => void) | null}} Beside a label beside the bed; at: [mm]
 */

const TAPE = 48;
const TALL = 620;
const LEAST_PX_M = 34;
const MOST_TALL = 3200;
const MOST_WIDE = 114;
const TOP = 34;
const MOST_PLANTS = 900;
const LABEL = 76;

/** Pixels a millimetre. @param {number} length @param {number} width */
function scaleOf(length, width) {
  return Math.min(MOST_WIDE / width, Math.max(TALL / length, LEAST_PX_M / 1000), MOST_TALL / length);
}

/**
 * @param {{length: number, width: number, end: string, parts: Drawn[], free: [number, number, number, number][], hose: boolean, beside: Beside[], label: string}} bed
 *   [mm]. end: what its upper end is called; hose: whether a watering line lies in it; label: for who does not see it
 */
export function bedPlan({ length, width, end, parts, free, hose, beside, label }) {
  const scale = scaleOf(length, width);
  const [wide, tall] = [width * scale, length * scale];
  const x = (/** @type {number} */ across) => TAPE + across * scale;
  const y = (/** @type {number} */ along) => TOP + along * scale;
  const rowsApart = parts.map(twoRows).find(Boolean);
  const under = TOP + tall + 16;
  const [whole, deep] = [TAPE + wide + 16, TOP + tall + (rowsApart ? 44 : 6)];
  const drawing = svg(
    "svg",
    { class: "bed-plan", width: whole, height: deep, viewBox: `0 0 ${whole} ${deep}`, role: "img", "aria-label": label },
    tape(length, scale),
    svg("text", { x: TAPE + wide + 3, y: TOP - 12, "text-anchor": "end", "font-size": 15 }, end),
    svg("rect", { x: TAPE, y: TOP, width: wide, height: tall, fill: "var(--label)", stroke: "var(--ink)", "stroke-width": 4 }),
    free.map(([since, until, left, across]) => svg("rect", { x: x(left) + 2, y: y(since) + 2, width: Math.max(0, across * scale - 4), height: Math.max(0, (until - since) * scale - 4), fill: "var(--well)" })),
    free.filter(([since]) => since > 0).map(([since, , left, across]) => edge(`M${x(left)} ${y(since)}h${across * scale}`)),
    parts.map(({ at, run, left, wide: across }) => [left, left + across].filter((side) => side > 0 && side < width).map((side) => edge(`M${x(side)} ${y(at)}V${y(at + run)}`))),
    hose && hoseLine(x(width / 2), Math.max(5, wide * 0.11), TOP - 14, tall),
    parts.map((part) => drawPart(part, { x, y, scale, width })),
    rowsApart && [
      svg("path", { d: `M${x(rowsApart[0])} ${under - 6}v12M${x(rowsApart[1])} ${under - 6}v12M${x(rowsApart[0])} ${under}H${x(rowsApart[1])}`, stroke: "var(--ink)", "stroke-width": 1.8 }),
      svg("text", { x: x((rowsApart[0] + rowsApart[1]) / 2), y: under + 21, "text-anchor": "middle", "font-size": 15, "font-weight": 700 }, `${Math.round((rowsApart[1] - rowsApart[0]) / 10)}\u00a0cm`),
    ],
  );
  return h("div", { class: "bed-drawn" }, drawing, h("div", { class: "bed-beside" }, placed(beside, scale).map(drawBeside)));
}

/** Where something ends inside the bed. @param {string} d */
function edge(d) {
  return svg("path", { d, stroke: "var(--rule)", "stroke-width": 1.5, "stroke-dasharray": "5 4" });
}

/** Two rows beside each other, to be measured; null for one row. @param {Drawn} part @returns {[number, number] | null} */
function twoRows({ plants, drills, foot }) {
  if (foot) return null;
  const rows = drills.length ? drills : [...new Set(plants.map(([, across]) => across))].sort((a, b) => a - b);
  return rows.length > 1 ? [rows[0], rows[1]] : null;
}

/** Two plants of a row with the distance between them marked off at the edge. @param {Drawn} part @param {(mm: number) => number} y @param {number} left */
function bracket({ plants, foot }, y, left) {
  if (foot || plants.length < 2) return null;
  const [first, ...others] = plants;
  const next = others.find(([along, across]) => across === first[1] && along > first[0]);
  return next && svg("path", { d: `M${left} ${y(first[0])}h9M${left} ${y(next[0])}h9M${left + 5} ${y(first[0])}V${y(next[0])}`, stroke: "var(--ink)", "stroke-width": 1.6 });
}

/** @param {Drawn} part @param {{x: (mm: number) => number, y: (mm: number) => number, scale: number, width: number}} to width: of the bed [mm] */
function drawPart(part, { x, y, scale, width }) {
  const radius = Math.max(2, Math.min(part.across * 0.42, part.across / 2) * scale);
  const many = part.plants.length + part.gaps.length;
  return [
    part.trained && wires(part.plants).map((across) => svg("path", { d: `M${x(across)} ${y(part.at)}V${y(part.at + part.run)}`, stroke: "var(--rule)", "stroke-width": 2, "stroke-dasharray": "9 4 2 4" })),
    part.drills.map((across) => svg("path", { d: `M${x(across)} ${y(part.at) + 5}V${y(part.at + part.run) - 5}`, stroke: "var(--ink)", "stroke-width": 2.6, "stroke-dasharray": part.told ? "1 5" : "1 8", "stroke-linecap": "round" })),
    many > MOST_PLANTS
      ? svg("rect", { x: x(part.left) + 4, y: y(part.at) + 3, width: Math.max(0, part.wide * scale - 8), height: Math.max(0, part.run * scale - 6), fill: "var(--stage-ground)", stroke: "var(--ink)", "stroke-width": 1.6 })
      : [
          part.gaps.map(([along, across]) => svg("circle", { cx: x(across), cy: y(along), r: radius, fill: "none", stroke: "var(--rule)", "stroke-width": 1.6, "stroke-dasharray": "4 3" })),
          part.plants.map(([along, across]) => plant(x(across), y(along), radius, part)),
        ],
    part.left + part.wide === width && bracket(part, y, x(width) + 4), // not over what stands in the next strip
  ];
}

/** Where the wires over the rows run. @param {[number, number][]} plants @returns {number[]} */
function wires(plants) {
  return [...new Set(plants.map(([, across]) => across))].slice(0, 12);
}

/** @param {number} cx @param {number} cy @param {number} radius @param {Drawn} part */
function plant(cx, cy, radius, part) {
  const body = svg("circle", { cx, cy, r: radius, fill: part.told ? "var(--stage-ground)" : "var(--stage-pot)", stroke: "var(--ink)", "stroke-width": part.told ? 2.2 : 1.4 });
  if (radius < 5) return body;
  if (!part.trained || part.stems < 2) return [body, markAt(cx, cy, radius, part.mark)];
  return [body, [-1, 1].map((side) => markAt(cx, cy + side * radius * 0.5, radius * 0.7, part.mark))]; // two stems in the plane of the wire
}

/** A plant's mark, so that batches are told apart without hue. @param {number} cx @param {number} cy @param {number} radius @param {number} which */
export function markAt(cx, cy, radius, which) {
  const arm = Math.min(7, radius * 0.42);
  const d = [
    `M${cx - arm} ${cy - arm}l${2 * arm} ${2 * arm}M${cx + arm} ${cy - arm}l${-2 * arm} ${2 * arm}`,
    `M${cx} ${cy - arm}v${2 * arm}`,
    `M${cx - arm} ${cy}h${2 * arm}`,
    `M${cx} ${cy - arm}v${2 * arm}M${cx - arm} ${cy}h${2 * arm}`,
    `M${cx - arm} ${cy + arm * 0.7}L${cx} ${cy - arm}L${cx + arm} ${cy + arm * 0.7}z`,
    `M${cx - arm * 0.8} ${cy - arm * 0.8}h${arm * 1.6}v${arm * 1.6}h${-arm * 1.6}z`,
    `M${cx - arm} ${cy + arm}l${2 * arm} ${-2 * arm}`,
    `M${cx - arm} ${cy - arm * 0.6}L${cx} ${cy + arm}L${cx + arm} ${cy - arm * 0.6}`,
    `M${cx - arm * 0.5} ${cy - arm}v${2 * arm}M${cx + arm * 0.5} ${cy - arm}v${2 * arm}`,
    `M${cx - arm} ${cy}a${arm} ${arm} 0 1 0 ${2 * arm} 0a${arm} ${arm} 0 1 0 ${-2 * arm} 0`,
  ][which % 10];
  return svg("path", { d, stroke: "var(--ink)", "stroke-width": 2.2, fill: "none", "stroke-linecap": "round" });
}

/** A soaker hose or drip line that goes down the bed and comes back: a tube with pores. @param {number} middle @param {number} half @param {number} top @param {number} tall */
function hoseLine(middle, half, top, tall) {
  const bottom = TOP + tall - half - 12;
  const d = `M${middle - half} ${top}V${bottom}a${half} ${half} 0 0 0 ${2 * half} 0V${TOP + 12}`;
  return [svg("path", { d, stroke: "var(--ink)", "stroke-width": 7, fill: "none", "stroke-linecap": "round" }), svg("path", { d, stroke: "var(--label)", "stroke-width": 2.4, fill: "none", "stroke-dasharray": "2.4 5.6" })];
}

/** A tape along the edge, in metres with a mark each 10 cm, or in feet with one each 2 in. @param {number} length @param {number} scale */
function tape(length, scale) {
  const feet = unitName("length") === "in";
  const [whole, part, count] = feet ? [304.8, 50.8, 6] : [1000, 100, 10];
  const fine = part * scale >= 3.4 ? 1 : count / 2;
  const marks = [];
  const words = [];
  for (let at = 0; at * part <= length + 0.5; at += fine) {
    const y = TOP + at * part * scale;
    const size = at % count === 0 ? 18 : at % (count / 2) === 0 ? 12 : 7;
    marks.push(`M${TAPE - 8 - size} ${y}h${size}`);
    if (at % count === 0) words.push(svg("text", { x: TAPE - 30, y: y + 5, "text-anchor": "end", "font-size": 15, "font-weight": 700 }, String(Math.round((at * part) / whole))));
  }
  return [svg("path", { d: `M${TAPE - 8} ${TOP}V${TOP + length * scale}${marks.join("")}`, stroke: "var(--ink)", "stroke-width": 1.6, fill: "none" }), words];
}

/** Labels beside the bed, each level with what it is about or as near as the one above it lets it. @param {Beside[]} beside @param {number} scale @returns {(Beside & {under: number})[]} under: pixels under the one before */
function placed(beside, scale) {
  let below = 0;
  return [...beside].sort((a, b) => a.at - b.at).map((one) => {
    const under = Math.max(0, TOP + one.at * scale - LABEL / 2 - below);
    below += under + LABEL;
    return { ...one, under };
  });
}

/** @param {Beside & {under: number}} one */
function drawBeside({ under, ...one }) {
  const element = besideKey(one);
  element.style.setProperty("margin-top", `${under}px`);
  element.style.setProperty("min-height", `${LABEL}px`);
  return element;
}

/** What stands somewhere: its mark, its name and what is said of it. @param {Omit<Beside, "at">} one @returns {HTMLElement} */
export function besideKey({ words, says, mark, open }) {
  const inside = [
    mark !== null && svg("svg", { width: 24, height: 24, viewBox: "0 0 30 30", "aria-hidden": "true" }, svg("circle", { cx: 15, cy: 15, r: 12, fill: "var(--stage-ground)", stroke: "var(--ink)", "stroke-width": 2 }), markAt(15, 15, 14, mark)),
    h("span", null, h("b", null, words), says && [h("br"), h("small", null, says)]),
  ];
  return open ? h("button", { type: "button", class: "beside", onclick: open }, inside) : h("div", { class: "beside" }, inside);
}
