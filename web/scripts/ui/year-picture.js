// @ts-check
/** A crop's year as one small picture: its windows above, its usual course, and thin lines for the years that were. */
import { parse } from "../kernel/days.js";
import { svg } from "../lib/dom.js";

const WIDE = 360;
const BAR = 18;
const THIN = 5;
/** @type {Record<string, string>} */
const FILL = { raised: "var(--stage-raise)", potted: "var(--stage-pot)", planted: "var(--stage-ground)", picking: "var(--stage-pick)" };

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
  const below = top + BAR + 4;
  const tall = below + years.length * (THIN + 2);
  return svg(
    "svg",
    { viewBox: `0 0 ${WIDE} ${tall}`, "aria-hidden": "true" },
    months(axis, x, tall),
    windows.map((window) => windowShape(x(window.from), window.aim && x(window.aim), x(window.by) + day)),
    stages.map((one) => bar(x(one.from), x(one.to) + day, top, one.stage)),
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

/** @param {number} left @param {number} right @param {number} y @param {string} stage */
function bar(left, right, y, stage) {
  const marks = [];
  if (stage === "raised") for (let at = left + 6; at < right - 3; at += 7) marks.push(svg("circle", { cx: at, cy: y + BAR / 2, r: 1.7, fill: "var(--ink)" }));
  if (stage === "potted") for (let at = left + 5; at < right - 2; at += 7) marks.push(svg("path", { d: `M${at} ${y + 4}v${BAR - 8}`, stroke: "var(--ink)", "stroke-width": 1.6 }));
  if (stage === "planted" && right - left > 12) marks.push(svg("path", { d: `M${left + 2} ${y + BAR - 4.5}H${right - 2}`, stroke: "var(--ink)", "stroke-width": 2.5 }));
  return [svg("rect", { x: left, y, width: Math.max(2, right - left), height: BAR, fill: FILL[stage] || "var(--label)", stroke: "var(--ink)", "stroke-width": 1.5 }), marks];
}
