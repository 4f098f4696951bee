// @ts-check
/** The drawings: strokes on a 32 by 32 field, in the ink around them. */
import { svg } from "../lib/dom.js";

/** @typedef {(string | [string, "fill"])[]} Strokes lines, and shapes that are filled */

/** @type {Record<string, Strokes>} */
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
};

/**
 * A drawing. Decorative: whatever it stands beside says it in words.
 * @param {string} name
 * @param {number} [size]
 * @param {number} [weight]
 * @returns {SVGElement}
 */
export function glyph(name, size = 28, weight = 2.4) {
  return drawn(STROKES[name], size, weight, name === "round");
}

/**
 * @param {Strokes} strokes
 * @param {number} size
 * @param {number} weight
 * @param {boolean} [dotted] its first stroke
 * @returns {SVGElement}
 */
export function drawn(strokes, size, weight, dotted = false) {
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
        : svg("path", { d: stroke, "stroke-dasharray": dotted && stroke.startsWith("M5") ? "0.1 4.6" : null }),
    ),
  );
}

/** The drawing of a caution. @param {string} caution @returns {string} */
export function cautionGlyph(caution) {
  if (caution === "steps") return "steps";
  return caution === "heat" ? "heat" : "care";
}
