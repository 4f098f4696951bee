// @ts-check
/** A crop's year as one small picture: its windows above, its usual course, and thin lines for the years that were. */
import { parse } from "../kernel/read/days.js";
import { svg } from "../lib/dom.js";
import { TALL, stageShape } from "./season-bar.js";

const WIDE = 360;
const THIN = 5;

/**
 * @typedef {{stage: string, from: string, to: string}} Piece
 * @param {{axis: {from: string, to: string}, windows: {from: string, aim: string | null, by: string}[], stages: Piece[],
 *   years: Piece[][], today: string | null}} given pieces already laid within the axis
 * @returns {SVGElement}
 */
export function yearPicture({ axis, windows, stages, years, today }) {
  const first = parse(axis.from);
  const day = WIDE / (parse(axis.to) + 1 - first);
  const x = (/** @type {string} */ date) => Math.max(0, Math.min(WIDE, (parse(date) - first) * day));
  const top = 13;
  const below = top + TALL + 4;
  const tall = below + years.length * (THIN + 2);
  return svg(
    "svg",
    { viewBox: `0 0 ${WIDE} ${tall}`, "aria-hidden": "true" },
    months(axis, x, tall),
    windows.map((window) => windowShape(x(window.from), window.aim && x(window.aim), x(window.by) + day)),
    stages.map((one) => stageShape(x(one.from), Math.max(x(one.from) + 2, x(one.to) + day), one.stage, false, { y: top, square: true })),
    years.map((pieces, row) => pieces.map((one) => svg("rect", { x: x(one.from), y: below + row * (THIN + 2), width: Math.max(1.5, x(one.to) + day - x(one.from)), height: THIN, fill: one.stage === "picking" ? "var(--ink)" : "var(--ink-soft)", opacity: one.stage === "raised" ? 0.45 : 1 }))),
    today && today >= axis.from && today <= axis.to && svg("path", { d: `M${x(today)} 0V${tall}`, stroke: "var(--ink)", "stroke-width": 1.6 }),
  );
}

/** @param {{from: string, to: string}} axis @param {(date: string) => number} x @param {number} tall */
function months(axis, x, tall) {
  const lines = [];
  for (let at = Number(axis.from.slice(5, 7)); at < Number(axis.from.slice(5, 7)) + 12; at += 1) {
    const year = Number(axis.from.slice(0, 4)) + (at > 12 ? 1 : 0);
    const left = x(`${year}-${String(((at - 1) % 12) + 1).padStart(2, "0")}-01`);
    lines.push(svg("path", { d: `M${left} 0V${tall}`, stroke: "var(--hair)", "stroke-width": 1 }));
  }
  return lines;
}

/** From the first day to the last as a line with ends, the best day as a point on it. @param {number} from @param {number | null | ""} aim @param {number} by */
function windowShape(from, aim, by) {
  if (by < from) return [];
  return [
    svg("path", { d: `M${from} 3v6M${from} 6H${by}M${by} 3v6`, stroke: "var(--ink)", "stroke-width": 1.6, fill: "none" }),
    typeof aim === "number" && svg("path", { d: `M${aim} 1l5 5-5 5-5-5z`, fill: "var(--ink)" }),
  ];
}
