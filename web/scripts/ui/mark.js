// @ts-check
/** The little stuck-in label that says how a job stands. */
import { svg } from "../lib/dom.js";

const SHAPE = "M3 3.500Q3 2 4.500 2h29Q35 2 35 3.500V33L19 50 3 33z";

/**
 * @param {import("../types.js").Job["state"]} state
 * @returns {SVGElement}
 */
export function mark(state) {
  const frame = { width: 38, height: 52, viewBox: "0 0 38 52", "aria-hidden": "true", class: "mark" };
  if (state === "later") {
    return svg(
      "svg",
      frame,
      svg("path", { d: "M0 40H38", stroke: "var(--ink)", "stroke-width": 2.5 }),
      svg("path", { d: "M1 38V20H27L38 29 27 38z", fill: "var(--label)", stroke: "var(--ink)", "stroke-width": 2, "stroke-linejoin": "round" }),
    );
  }
  return svg(
    "svg",
    frame,
    svg("path", {
      d: SHAPE,
      fill: "var(--label)",
      stroke: "var(--ink)",
      "stroke-linejoin": "round",
      "stroke-dasharray": state === "waiting" ? "5 4" : null,
      class: state === "waiting" ? "frame thin" : "frame",
    }),
    state === "done" &&
      svg("path", { d: "M8 20l8 10L40 -1", stroke: "var(--ink)", "stroke-width": 4.5, fill: "none", "stroke-linecap": "round" }),
    state === "let go" && svg("path", { d: "M-1 34 39 8", stroke: "var(--ink)", "stroke-width": 4, "stroke-linecap": "round" }),
  );
}
