// @ts-check
/** A code of squares for a camera, drawn dark on light in every scheme. */
import { svg } from "../lib/dom.js";

/** Light squares round the code, without which a camera does not find it. Source: ISO/IEC 18004, quiet zone of four modules. */
const QUIET = 4;

/** @param {string[]} rows of 0 and 1 @param {string} label @returns {SVGElement} */
export function squares(rows, label) {
  const side = rows.length + 2 * QUIET;
  const dark = rows.flatMap((row, y) => [...row].map((one, x) => (one === "1" ? `M${x + QUIET} ${y + QUIET}h1v1h-1z` : ""))).join("");
  return svg("svg", { class: "squares", viewBox: `0 0 ${side} ${side}`, role: "img", "aria-label": label, "shape-rendering": "crispEdges" }, svg("rect", { width: side, height: side }), svg("path", { d: dark }));
}
