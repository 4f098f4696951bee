// @ts-check
/** A batch's season as labels laid end to end, each stage with its own mark; and the months above them. */
import { parse } from "../kernel/read/days.js";
import { svg } from "../lib/dom.js";

/** Drawing units across: a wide window gets a finer scale rather than larger letters. */
let width = 360;
/** @param {boolean} wide */
export function setWide(wide) {
  width = wide ? 640 : 360;
}
export const TALL = 18;
const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
/** @type {Record<string, string>} */
const FILL = { raised: "var(--stage-raise)", potted: "var(--stage-pot)", planted: "var(--stage-ground)", picking: "var(--stage-pick)" };

/** @param {{from: string, to: string}} span */
function scale({ from, to }) {
  const first = parse(from);
  const day = width / Math.max(1, parse(to) - first);
  return (/** @type {string | number} */ date) => Math.max(0, Math.min(width, ((typeof date === "number" ? date : parse(date)) - first) * day));
}

/**
 * @param {{stage: string, from: string, to: string, real: boolean}[]} stages
 * @param {{from: string, to: string, today: string}} span
 * @returns {SVGElement}
 */
export function seasonBar(stages, span) {
  const x = scale(span);
  const now = x(span.today);
  return svg(
    "svg",
    { viewBox: `0 0 ${width} ${TALL + 4}`, "aria-hidden": "true" },
    stages.map((one) => stageShape(x(one.from), Math.max(x(one.from) + 2, x(one.to)), one.stage, one.real)),
    span.today >= span.from && span.today <= span.to && svg("path", { d: `M${now} 0V${TALL + 4}`, stroke: "var(--ink)", "stroke-width": 1.6 }),
  );
}

/**
 * One stage with its own mark: a label cut to a point, or square where it is but a part of what runs on.
 * @param {number} left
 * @param {number} right
 * @param {string} stage
 * @param {boolean} real
 * @param {{y?: number, square?: boolean}} [given]
 */
export function stageShape(left, right, stage, real, { y = 2, square = false } = {}) {
  const wide = right - left;
  const tip = square ? 0 : Math.min(9, wide * 0.45);
  const marks = [];
  if (stage === "raised") for (let at = left + 6; at < right - tip - 2; at += 7) marks.push(svg("circle", { cx: at, cy: y + TALL / 2, r: 1.7, fill: "var(--ink)" }));
  if (stage === "potted") for (let at = left + 7; at < right - tip; at += 7) marks.push(svg("path", { d: `M${at} ${y + 4}v${TALL - 8}`, stroke: "var(--ink)", "stroke-width": 1.6 }));
  if (stage === "planted" && wide > 12) marks.push(svg("path", { d: `M${left + 2} ${y + TALL - 4.5}H${right - tip}`, stroke: "var(--ink)", "stroke-width": 2.5 }));
  return [
    svg("path", {
      d: `M${left} ${y}H${right - tip}L${right} ${y + TALL / 2}L${right - tip} ${y + TALL}H${left}z`,
      fill: FILL[stage] || "var(--label)",
      stroke: "var(--ink)",
      "stroke-width": real ? 2.2 : 1.3,
      "stroke-linejoin": "round",
    }),
    marks,
  ];
}

/** A stage by itself, for the key. @param {string} stage @returns {SVGElement} */
export function stageKey(stage) {
  return svg("svg", { width: 30, height: TALL + 4, viewBox: `0 0 36 ${TALL + 4}`, "aria-hidden": "true" }, stageShape(2, 34, stage, true));
}

/** The months over a span, with today's flag. @param {{from: string, to: string, today: string}} span @returns {SVGElement} */
export function monthsHead(span) {
  const x = scale(span);
  const marks = [];
  const year = Number(span.from.slice(0, 4));
  for (let at = Number(span.from.slice(5, 7)) - 1; ; at += 1) {
    const date = `${year + Math.floor(at / 12)}-${String((at % 12) + 1).padStart(2, "0")}-01`;
    if (date > span.to) break;
    const left = x(date);
    marks.push(svg("path", { d: `M${left} 26v12`, stroke: "var(--ink)", "stroke-width": 1.6 }));
    marks.push(svg("text", { x: left + 3, y: 36, "font-size": 12.5, "font-weight": 600 }, MONTHS[at % 12]));
  }
  const now = x(span.today);
  const flag = Math.max(22, Math.min(width - 22, now));
  return svg(
    "svg",
    { viewBox: `0 0 ${width} 42`, "aria-hidden": "true" },
    svg("path", { d: `M0 38H${width}`, stroke: "var(--ink)", "stroke-width": 1.6 }),
    marks,
    span.today >= span.from &&
      span.today <= span.to && [
        svg("path", { d: `M${flag - 22} 0h44v17h-44zM${now - 5} 17h10l-5 7z`, fill: "var(--ink)" }),
        svg("text", { x: flag, y: 13, "font-size": 13, "font-weight": 700, "text-anchor": "middle", class: "on-flag" }, "today"),
      ],
  );
}
