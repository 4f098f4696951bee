// @ts-check
/** Sowings one under the other: a thin line while each grows, a bar while it is picked, gaps hatched along the foot. */
import { parse } from "../kernel/read/days.js";
import { h, svg } from "../lib/dom.js";

const WIDE = 360;
const ROW = 13;
const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/**
 * @param {{from: string, to: string, sowings: {sow: string, pick_from: string, pick_to: string}[],
 *   gaps: {from: string, to: string}[], today: string}} given
 * @returns {HTMLElement}
 */
export function pickingsPicture({ from, to, sowings, gaps, today }) {
  const first = parse(from);
  const day = WIDE / Math.max(1, parse(to) + 1 - first);
  const x = (/** @type {string} */ date) => (parse(date) - first) * day;
  const top = 20;
  const foot = top + sowings.length * ROW + 4;
  const tall = foot + (gaps.length ? 14 : 0);
  return h(
    "figure",
    { class: "chart" },
    svg(
      "svg",
      { viewBox: `0 0 ${WIDE} ${tall}`, role: "img", "aria-label": `${sowings.length} pickings from ${sowings[0].pick_from} to ${sowings[sowings.length - 1].pick_to}, ${gaps.length} gaps` },
      months(from, to, x, tall, day),
      sowings.map((one, at) => {
        const y = top + at * ROW;
        return [
          svg("path", { d: `M${x(one.sow)} ${y + 5}H${x(one.pick_from)}`, stroke: "var(--ink)", "stroke-width": 2, "stroke-dasharray": "2 3" }),
          svg("circle", { cx: x(one.sow) + 2, cy: y + 5, r: 3, fill: "var(--ink)" }),
          svg("rect", { x: x(one.pick_from), y, width: Math.max(2, x(one.pick_to) + day - x(one.pick_from)), height: 10, fill: "var(--stage-pick)", stroke: "var(--ink)", "stroke-width": 1.4 }),
        ];
      }),
      gaps.map((gap) => {
        const [left, right] = [x(gap.from), x(gap.to) + day];
        const lines = [];
        for (let at = left; at < right; at += 5) lines.push(svg("path", { d: `M${at} ${foot + 10}l${Math.min(5, right - at)} -10`, stroke: "var(--ink)", "stroke-width": 1.3 }));
        return [lines, svg("rect", { x: left, y: foot, width: Math.max(2, right - left), height: 10, fill: "none", stroke: "var(--ink)", "stroke-width": 1.4 })];
      }),
      today >= from && today <= to && svg("path", { d: `M${x(today)} 14V${tall}`, stroke: "var(--ink)", "stroke-width": 1.6 }),
    ),
    h("figcaption", { class: "soft note" }, `A point where it is sown, a bar where it is picked${gaps.length ? "; hatched along the foot where nothing is" : ""}.`),
  );
}

/** @param {string} from @param {string} to @param {(date: string) => number} x @param {number} tall @param {number} day */
function months(from, to, x, tall, day) {
  const marks = [];
  const every = day * 30 < 26 ? 2 : 1;
  for (let at = Number(from.slice(5, 7)); ; at += 1) {
    const date = `${Number(from.slice(0, 4)) + Math.floor((at - 1) / 12)}-${String(((at - 1) % 12) + 1).padStart(2, "0")}-01`;
    if (date > to) break;
    if (date < from) continue;
    marks.push(svg("path", { d: `M${x(date)} 14V${tall}`, stroke: "var(--hair)", "stroke-width": 1 }));
    if (at % every === 0 && x(date) < WIDE - 20) marks.push(svg("text", { x: x(date) + 2, y: 11, "font-size": 12.5, "font-weight": 600 }, MONTHS[(at - 1) % 12]));
  }
  return marks;
}
