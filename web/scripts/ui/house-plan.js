// @ts-check
/** Small plans of houses, all to one scale: beds where they lie, filled where something grows. */
import { svg } from "../lib/dom.js";

/** @typedef {{x: number, y: number, long: number, wide: number, grows: keyof typeof FILLS}} Drawn a bed in its house [cm], and what grows in it; here: the one looked at */

/** Left free beyond the last bed. */
const ROUND_CM = 40;
const MOST_PX = 150;
const FILLS = { here: "var(--ink)", planted: "var(--stage-ground)", potted: "var(--stage-pot)", none: "var(--label)" };

/**
 * Pixels a centimetre, the same for every plan of a page.
 * @param {Drawn[][]} houses for each house its beds
 * @returns {number}
 */
export function scaleFor(houses) {
  const longest = Math.max(1, ...houses.map((beds) => reach(beds).width));
  return Math.min(0.2, MOST_PX / longest);
}

/** How far they go, with the way round them. @param {Drawn[]} beds @returns {{width: number, height: number}} [cm] */
function reach(beds) {
  const far = (/** @type {number[]} */ ends) => (ends.length ? Math.max(...ends) + ROUND_CM : 0);
  return { width: far(beds.map(({ x, long }) => x + long)), height: far(beds.map(({ y, wide }) => y + wide)) };
}

/**
 * A house's plan; null where no size is known.
 * @param {Drawn[]} beds
 * @param {string} cover
 * @param {number} scale
 * @returns {SVGElement | null}
 */
export function housePlan(beds, cover, scale) {
  if (!beds.length) return null;
  const { width, height } = reach(beds);
  const [w, tall] = [width * scale, height * scale];
  return svg(
    "svg",
    { width: w + 4, height: tall + 4, viewBox: `-2 -2 ${w + 4} ${tall + 4}`, "aria-hidden": "true" },
    cover !== "open" &&
      svg("rect", { x: 0, y: 0, width: w, height: tall, rx: cover === "tunnel" ? 9 : 0, fill: "var(--well)", stroke: "var(--ink)", "stroke-width": 2.4, "stroke-dasharray": cover === "tunnel" ? "9 4" : null }),
    beds.map(({ x, y, long, wide, grows }) => svg("rect", { x: x * scale, y: y * scale, width: Math.max(3, long * scale), height: Math.max(3, wide * scale), fill: FILLS[grows], stroke: "var(--ink)", "stroke-width": 1.8 })),
  );
}

/** A bar of five metres at the page's scale. @param {number} scale @returns {SVGElement} */
export function fiveMetres(scale) {
  const px = 500 * scale;
  const marks = [0, 1, 2, 3, 4, 5].map((metre) => `M${1 + (metre * px) / 5} ${metre % 5 ? 6 : 2}v${metre % 5 ? 8 : 14}`);
  return svg("svg", { width: px + 2, height: 18, viewBox: `0 0 ${px + 2} 18`, "aria-hidden": "true" }, svg("path", { d: `M1 9h${px}${marks.join("")}`, stroke: "var(--ink)", "stroke-width": 2, fill: "none" }));
}
