// @ts-check
/** Small plans of houses, all to one scale: beds where they lie in order, filled where something grows. */
import { svg } from "../lib/dom.js";

const GAP_CM = 40;
const MOST_PX = 150;

/**
 * Pixels a centimetre, the same for every plan of a page.
 * @param {any[][]} houses for each house its beds' fields
 * @returns {number}
 */
export function scaleFor(houses) {
  const longest = Math.max(1, ...houses.map((beds) => layout(beds).width));
  return Math.min(0.2, MOST_PX / longest);
}

/** @param {any[]} beds @returns {{width: number, height: number, rows: any[][]}} */
function layout(beds) {
  const known = beds.filter((bed) => bed.length_cm && bed.width_cm);
  /** @type {any[][]} */
  const rows = [];
  for (let at = 0; at < known.length; at += 2) rows.push(known.slice(at, at + 2));
  const width = Math.max(0, ...rows.map((row) => row.reduce((sum, bed) => sum + bed.length_cm, 0) + GAP_CM * (row.length + 1)));
  const height = rows.reduce((sum, row) => sum + Math.max(...row.map((bed) => bed.width_cm)) + GAP_CM, GAP_CM);
  return { width, height, rows };
}

/**
 * A house's plan; null where no size is known.
 * @param {any[]} beds fields of its beds, with `grows` (planted, potted, none, or here: the one looked at)
 * @param {string} cover
 * @param {number} scale
 * @returns {SVGElement | null}
 */
export function housePlan(beds, cover, scale) {
  const { width, height, rows } = layout(beds);
  if (!rows.length) return null;
  const w = width * scale;
  const tall = height * scale;
  let y = GAP_CM;
  const shapes = [];
  for (const row of rows) {
    let x = GAP_CM;
    for (const bed of row) {
      shapes.push(
        svg("rect", {
          x: x * scale,
          y: y * scale,
          width: Math.max(3, bed.length_cm * scale),
          height: Math.max(3, bed.width_cm * scale),
          fill: bed.grows === "here" ? "var(--ink)" : bed.grows === "planted" ? "var(--stage-ground)" : bed.grows === "potted" ? "var(--stage-pot)" : "var(--label)",
          stroke: "var(--ink)",
          "stroke-width": 1.8,
        }),
      );
      x += bed.length_cm + GAP_CM;
    }
    y += Math.max(...row.map((bed) => bed.width_cm)) + GAP_CM;
  }
  return svg(
    "svg",
    { width: w + 4, height: tall + 4, viewBox: `-2 -2 ${w + 4} ${tall + 4}`, "aria-hidden": "true" },
    cover !== "open" &&
      svg("rect", { x: 0, y: 0, width: w, height: tall, rx: cover === "tunnel" ? 9 : 0, fill: "var(--well)", stroke: "var(--ink)", "stroke-width": 2.4, "stroke-dasharray": cover === "tunnel" ? "9 4" : null }),
    shapes,
  );
}

/** A bar of five metres at the page's scale. @param {number} scale @returns {SVGElement} */
export function fiveMetres(scale) {
  const px = 500 * scale;
  const marks = [0, 1, 2, 3, 4, 5].map((metre) => `M${1 + (metre * px) / 5} ${metre % 5 ? 6 : 2}v${metre % 5 ? 8 : 14}`);
  return svg("svg", { width: px + 2, height: 18, viewBox: `0 0 ${px + 2} 18`, "aria-hidden": "true" }, svg("path", { d: `M1 9h${px}${marks.join("")}`, stroke: "var(--ink)", "stroke-width": 2, fill: "none" }));
}
