// @ts-check
/** A house from above at one scale: its beds, benches, shelves and propagators, each filled as far as it is taken. */
import { svg } from "../lib/dom.js";

const WIDE = 362;
const MOST_TALL = 460;
const LETTER = 8.2;

/**
 * @typedef {{id: string, name: string, x: number, y: number, long: number, wide: number, taken: number | null, sort: string, hangs?: boolean}} Inside a place
 *   in the house [cm from its upper left corner]. taken: per cent; null where nothing is known; hangs: something is put up over it
 */

/**
 * @param {{length: number, width: number, cover: string, places: Inside[], label: string, water?: boolean}} house [cm] water: a line lies along it
 * @param {(id: string) => void} open
 * @returns {SVGElement}
 */
export function housePicture({ length, width, cover, places, label, water = false }, open) {
  const scale = Math.min(WIDE / length, MOST_TALL / width);
  const [w, t] = [length * scale, width * scale];
  return svg(
    "svg",
    { class: "house-picture", viewBox: `-2 -2 ${w + 4} ${t + 4}`, role: "img", "aria-label": label },
    svg("rect", { x: 0, y: 0, width: w, height: t, rx: cover === "tunnel" ? 12 : 0, fill: cover === "open" ? "none" : "var(--well)", stroke: cover === "open" ? "none" : "var(--ink)", "stroke-width": 3, "stroke-dasharray": cover === "tunnel" ? "10 5" : null }),
    places.map((place) => drawInside(place, scale, open)),
    water && [svg("path", { d: `M2 ${t - 9}H${w - 10}`, stroke: "var(--ink)", "stroke-width": 6, "stroke-linecap": "round" }), svg("path", { d: `M2 ${t - 9}H${w - 10}`, stroke: "var(--label)", "stroke-width": 2, "stroke-dasharray": "2.4 5.6" })],
  );
}

/** @param {string} words @param {number} px @param {number} letter */
function fits(words, px, letter = LETTER) {
  return words.length * letter <= px;
}

/** Words cut to what fits into a box on a plan; nothing where hardly a letter would be left. @param {string} words @param {number} px @param {number} [letter] width of a letter [px] */
export function fitted(words, px, letter = LETTER) {
  if (fits(words, px, letter)) return words;
  const left = Math.floor(px / letter) - 1;
  return left < 2 ? "" : `${words.slice(0, left).trim()}…`;
}

/** @param {Inside} place @param {number} scale @param {(id: string) => void} open */
function drawInside({ id, name, x, y, long, wide, taken, sort, hangs }, scale, open) {
  const [left, top, w, t] = [x * scale, y * scale, long * scale, wide * scale];
  const full = Math.min(100, taken ?? 0) / 100;
  const raised = sort === "bench" || sort === "shelf";
  const words = taken === null ? name : `${name} ${taken}\u00a0%`;
  return svg(
    "g",
    { class: "inside", onclick: () => open(id) },
    svg("rect", { x: left, y: top, width: w, height: t, fill: "var(--label)", stroke: "var(--ink)", "stroke-width": 2.2, "stroke-dasharray": sort === "shelf" ? "3 3" : null }),
    full > 0 && svg("rect", { x: left + 1.2, y: top + 1.2, width: Math.max(0, w * full - 2.4), height: Math.max(0, t - 2.4), fill: "var(--stage-ground)" }),
    raised && svg("path", { d: `M${left + 4} ${top + t - 3.5}H${left + w - 4}`, stroke: "var(--ink)", "stroke-width": 1.4 }),
    hangs && svg("path", { d: `M${left - 4} ${top + 5}H${left + w + 4}M${left + w * 0.15} ${top - 3}v8M${left + w * 0.85} ${top - 3}v8`, stroke: "var(--ink)", "stroke-width": 2.4, "stroke-dasharray": "9 4 2 4" }),
    sort === "propagator" && svg("rect", { x: left + 3, y: top + 3, width: Math.max(0, w - 6), height: Math.max(0, t - 6), fill: "none", stroke: "var(--ink)", "stroke-width": 1.2 }),
    (taken ?? 0) > 100 && svg("path", { d: `M${left + w - 12} ${top + t}L${left + w} ${top + t - 12}M${left + w - 22} ${top + t}L${left + w} ${top + t - 22}`, stroke: "var(--clay)", "stroke-width": 2.6 }),
    t >= 20 && svg("text", { x: left + w / 2, y: top + t / 2 + 5.5, "text-anchor": "middle", "font-size": 15, class: "over-fill" }, taken === null || fits(words, w) ? fitted(words, w) : fitted(`${taken}\u00a0%`, w)),
  );
}
