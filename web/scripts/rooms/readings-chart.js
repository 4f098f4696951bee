// @ts-check
/** A year of nights and days as two lines over the months, the frost line between them. */
import { parse } from "../kernel/days.js";
import { h, svg } from "../lib/dom.js";

const WIDE = 360;
const TALL = 190;
const LEFT = 34;
const LOW = 168;
const MONTHS = "JFMAMJJASOND";
const GAP_DAYS = 20;

/** @typedef {import("./readings-days.js").Pair} Pair */

/** @param {Map<string, Pair>} days @param {string} year @returns {HTMLElement} */
export function yearChart(days, year) {
  const rows = [...days].filter(([day]) => day.startsWith(year));
  const lows = rows.map(([, pair]) => pair[0]);
  const highs = rows.map(([, pair]) => pair[1]);
  const bottom = Math.min(-5, 5 * Math.floor(Math.min(...lows) / 5));
  const top = Math.max(25, 5 * Math.ceil(Math.max(...highs) / 5));
  const first = parse(`${year}-01-01`);
  const x = (/** @type {number} */ day) => LEFT + ((WIDE - LEFT) * (day - first)) / 366;
  const y = (/** @type {number} */ c) => 8 + ((LOW - 8) * (top - c)) / (top - bottom);
  const grid = [];
  for (let c = bottom; c <= top; c += 10) grid.push(c);
  if (!grid.includes(0)) grid.push(0);
  return h(
    "figure",
    { class: "chart" },
    svg(
      "svg",
      { viewBox: `0 0 ${WIDE} ${TALL}`, role: "img", "aria-label": `Minimum and maximum of ${rows.length} days in ${year}` },
      grid.map((c) => [
        svg("path", { d: `M${LEFT} ${y(c)}H${WIDE}`, stroke: c === 0 ? "var(--ink)" : "var(--hair)", "stroke-width": c === 0 ? 1.8 : 1 }),
        svg("text", { x: LEFT - 5, y: y(c) + 5, "text-anchor": "end", "font-size": 14, fill: "var(--ink)" }, `${c}`),
      ]),
      [...MONTHS].map((letter, at) => svg("text", { x: x(first + 30.5 * at + 15), y: TALL - 4, "text-anchor": "middle", "font-size": 14, fill: "var(--ink-soft)" }, letter)),
      line(rows, 1, x, y, "var(--clay)", null),
      line(rows, 0, x, y, "var(--enamel)", "5 3"),
    ),
    h("figcaption", { class: "soft note" }, "Full line: warmest of the day. Broken line: coldest of the night. In °C; the firm line is frost."),
    h("table", { class: "unseen" }, h("caption", null, `Readings of ${year}`), h("thead", null, h("tr", null, ["Day", "Minimum °C", "Maximum °C"].map((words) => h("th", { scope: "col" }, words)))), h("tbody", null, rows.map(([day, [low, high]]) => h("tr", null, h("th", { scope: "row" }, day), h("td", null, low), h("td", null, high))))),
  );
}

/**
 * A line through the days, broken where nothing was read for weeks; a point where a day stands alone.
 * @param {[string, Pair][]} rows
 * @param {0 | 1} end
 * @param {(day: number) => number} x
 * @param {(c: number) => number} y
 * @param {string} stroke
 * @param {string | null} dashes
 */
function line(rows, end, x, y, stroke, dashes) {
  let path = "";
  let before = -Infinity;
  const points = [];
  for (const [day, pair] of rows) {
    const at = parse(day);
    const here = `${x(at).toFixed(1)} ${y(pair[end]).toFixed(1)}`;
    path += at - before > GAP_DAYS ? `M${here}` : `L${here}`;
    if (rows.length < 60) points.push(svg("circle", { cx: x(at), cy: y(pair[end]), r: 2.6, fill: stroke }));
    before = at;
  }
  return [svg("path", { d: path, fill: "none", stroke, "stroke-width": 2, "stroke-dasharray": dashes, "stroke-linejoin": "round" }), points];
}
