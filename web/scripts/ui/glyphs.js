// @ts-check
/** The drawings: strokes on a 32 by 32 field, in the ink around them. */
import { svg } from "../lib/dom.js";

/** @type {Record<string, (string | [string, "fill"])[]>} */
const STROKES = {
  round: ["M5 27C5 15 16 23 16 15S27 14 27 6", ["M5 23.500a3.400 3.400 0 1 0 .01 0zM16 12.600a3.400 3.400 0 1 0 .01 0z", "fill"], "M27 2a4 4 0 1 0 .01 0z"],
  ground: ["M3 3h26v26H19M13 29H3V3", ["M7 7h6v17H7zM19 7h6v17h-6z", "fill"]],
  season: ["M2 3h14l5 4-5 4H2z", ["M7 13h16l5 4-5 4H7z", "fill"], "M12 23h14l4 3.500-4 3.500H12z"],
  diary: ["M6 3h20v26H6zM11 3v26M15 10h7M15 16h7M15 22h4"],
  shed: ["M3 14 16 4l13 10M6 12v17h20V12M13 29V18h7v11"],
  back: ["M26 16H6M14 7l-9 9 9 9"],
  forward: ["M11 6l10 10-10 10"],
  search: ["M13 4.500a8.500 8.500 0 1 0 .01 0zM19.500 19.500 29 29"],
  cross: ["M7 7l18 18M25 7 7 25"],
  tick: ["M4 18l8 9L28 5"],
  steps: ["M10 29 14 4h4l4 25M11.500 21h9M12.600 14h6.800M13.700 8h4.600M14 4l-9 25"],
  heat: ["M16 9a7 7 0 1 0 .01 0zM16 1v4M16 27v4M1 16h4M27 16h4M5.400 5.400l2.800 2.800M23.800 23.800l2.800 2.800M26.600 5.400l-2.800 2.800M8.200 23.800l-2.800 2.800"],
  care: ["M16 3 30 28H2zM16 12v8M16 23.500v.5"],
  sow: ["M2 25h28", ["M8 18c-2-3 0-6 2-7 2 2 2 5 0 7zM16 13c-2-3 0-6 2-7 2 2 2 5 0 7zM23 20c-2-3 0-6 2-7 2 2 2 5 0 7z", "fill"]],
  emerge: ["M2 26h28M16 26V16M16 16c-6 0-8-3-8-6 5 0 8 2 8 6zM16 16c0-5 3-7 8-7 0 4-4 7-8 7z"],
  prick_out: ["M13 29V15M13 15c-6 0-8-3-8-6 5 0 8 2 8 6zM13 15c0-5 3-7 7-7 0 4-3 7-7 7zM26 4v18l-2 7"],
  pot_up: ["M5 14h22v4H5zM7 18l3 12h12l3-12M16 14V4M16 9c3 0 5-2 5-5-3 0-5 2-5 5z"],
  plant_out: ["M2 20h28M16 20V8M16 12c-5 0-7-3-7-6 4 0 7 2 7 6zM16 9c0-4 3-6 7-6 0 4-3 6-7 6zM16 20v9M16 23l-5 5M16 23l5 5"],
  pick: ["M3 14h26l-4 14H7zM7 14C7 4 25 4 25 14M5 21h22"],
  water: ["M16 4c5 7 7 10 7 14a7 7 0 0 1-14 0c0-4 2-7 7-14zM6 29h20"],
  train: ["M16 2v28M16 12c8-5 10 3 4 4s-12 0-9-4 8 0 5 6"],
  clear: ["M16 3v14M12 3h8M10 17h12v5c0 5-3 7-6 8-3-1-6-3-6-8z"],
  look: ["M2 16c6-10 22-10 28 0-6 10-22 10-28 0z", ["M16 11.500a4.500 4.500 0 1 0 .01 0z", "fill"]],
  lose: ["M9 3h14v18l-7 8-7-8zM3 25 29 7"],
  measure: ["M13 4h6v15a6 6 0 1 1-6 0zM16 12v12M22 6h4M22 11h3M22 16h4"],
  note: ["M5 27l3-8L22 5l5 5-14 14zM19 8l5 5M5 27h20"],
  feed: ["M10 12h14v16H10zM13 12V7h8v5M10 17h14M17 20v5M14.500 22.500h5"],
  treat: ["M6 16h9v13H6zM8 16V9h5v7M13 10h6l3 3M24 6l2-2M25 10h4M24 14l2 2"],
  move: ["M3 24h26M6 24V14h8v10M18 9h10M24 5l4 4-4 4"],
  install: ["M4 28V8h24v20M4 16h24M16 2v10M12 6l4-4 4 4"],
  remove: ["M4 28V10h24v18M4 18h24M16 2v7M12 5l4 4 4-4"],
  connect: ["M3 20h9v-6h8v6h9M12 14v-4h8v4M7 25v3M16 25v3M25 25v3"],
  harden_off: ["M4 28h24M6 28V14h20v14M6 14l6-8h20M16 21v-4"],
  more: [["M7 14a2.500 2.500 0 1 0 .01 0zM16 14a2.500 2.500 0 1 0 .01 0zM25 14a2.500 2.500 0 1 0 .01 0z", "fill"]],
};

/**
 * A drawing. Decorative: whatever it stands beside says it in words.
 * @param {string} name
 * @param {number} [size]
 * @param {number} [weight]
 * @returns {SVGElement}
 */
export function glyph(name, size = 28, weight = 2.4) {
  const strokes = STROKES[name] || STROKES.note;
  return svg(
    "svg",
    {
      viewBox: "0 0 32 32",
      width: size,
      height: size,
      fill: "none",
      stroke: "currentColor",
      "stroke-width": weight,
      "stroke-linejoin": "round",
      "stroke-linecap": "round",
      "aria-hidden": "true",
    },
    strokes.map((stroke) =>
      Array.isArray(stroke)
        ? svg("path", { d: stroke[0], fill: "currentColor", stroke: "none" })
        : svg("path", { d: stroke, "stroke-dasharray": name === "round" && stroke.startsWith("M5") ? "0.1 4.6" : null }),
    ),
  );
}

/** The drawing of a caution. @param {string} caution @returns {string} */
export function cautionGlyph(caution) {
  if (caution === "steps") return "steps";
  return caution === "heat" ? "heat" : "care";
}
