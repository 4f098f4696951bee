// @ts-check
/** A bench, shelf or propagator from above: each pot and tray where it stands, row by row from the door end. */
import { svg } from "../lib/dom.js";
import { markAt } from "./bed-plan.js";

const WIDE = 362;
const MOST_TALL = 300;

/**
 * @param {{length: number, width: number, stood: import("../household/bench-working.js").Stood[], lots: {sort: string, cells: number}[], label: string}} bench [mm]
 * @returns {SVGElement}
 */
export function benchPicture({ length, width, stood, lots, label }) {
  const scale = Math.min(WIDE / length, MOST_TALL / width);
  const [w, t] = [length * scale, width * scale];
  return svg(
    "svg",
    { class: "house-picture", viewBox: `-3 -3 ${w + 6} ${t + 6}`, role: "img", "aria-label": label },
    svg("rect", { x: 0, y: 0, width: w, height: t, fill: "var(--well)", stroke: "var(--ink)", "stroke-width": 3 }),
    stood.map(({ x, y, long, wide, lot }) => {
      const [cx, cy] = [(x + long / 2) * scale, (y + wide / 2) * scale];
      const small = (Math.min(long, wide) * scale) / 2;
      const body = { fill: "var(--stage-pot)", stroke: "var(--ink)", "stroke-width": 1.5 };
      const shape = lots[lot].sort === "pot" ? svg("circle", { cx, cy, r: Math.max(1.5, small - 1), ...body }) : svg("rect", { x: x * scale + 1, y: y * scale + 1, width: Math.max(2, long * scale - 2), height: Math.max(2, wide * scale - 2), ...body });
      return [shape, small >= 4 && markAt(cx, cy, Math.min(small, 15), lot)];
    }),
  );
}
