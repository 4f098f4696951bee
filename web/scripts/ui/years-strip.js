// @ts-check
/** A bed's years one under another: what stood, stands and will stand, each a bar with its name where it fits. */
import { h, svg } from "../lib/dom.js";

const WIDE = 320;
const LANE = 22;
const LETTER = 7.4;

/**
 * @param {{years: {year: number, lanes: number, says: string, more: number, bars: {lane: number, left: number, right: number, words: string, told: boolean}[]}[], today: string}} seen
 *   left, right: parts of the year
 */
export function yearsStrip({ years, today }) {
  const now = (Number(today.slice(5, 7)) - 1 + Number(today.slice(8)) / 31) / 12;
  return h(
    "div",
    { class: "years" },
    years.map(({ year, lanes, bars, says, more }) =>
      h(
        "div",
        { class: "year-row" },
        h("b", null, String(year)),
        svg(
          "svg",
          { viewBox: `0 0 ${WIDE} ${lanes * LANE + 4}`, role: "img", "aria-label": says },
          svg("rect", { x: 0.7, y: 0.7, width: WIDE - 1.4, height: lanes * LANE + 2.6, fill: "var(--well)", stroke: "var(--hair)", "stroke-width": 1.2 }),
          bars.map((bar) => drawBar(bar)),
          more > 0 && svg("text", { x: WIDE - 4, y: lanes * LANE - 2, "text-anchor": "end", "font-size": 13, "font-weight": 700 }, `+${more}`),
          String(year) === today.slice(0, 4) && svg("path", { d: `M${now * WIDE} 0V${lanes * LANE + 4}`, stroke: "var(--ink)", "stroke-width": 2 }),
        ),
      ),
    ),
  );
}

/** @param {{lane: number, left: number, right: number, words: string, told: boolean}} bar */
function drawBar({ lane, left, right, words, told }) {
  const [x, wide] = [left * WIDE, Math.max(3, (right - left) * WIDE)];
  const y = lane * LANE + 3;
  const fits = Math.floor((wide - 8) / LETTER);
  const said = words.length <= fits ? words : fits >= 3 ? `${words.slice(0, fits - 1)}.` : "";
  return [
    svg("rect", { x, y, width: wide, height: LANE - 3, fill: told ? "var(--stage-ground)" : "var(--label)", stroke: "var(--ink)", "stroke-width": told ? 1.8 : 1.2, "stroke-dasharray": told ? null : "4 3" }),
    said && svg("text", { x: x + 5, y: y + 14, "font-size": 13.5, "font-weight": 600 }, said),
  ];
}
