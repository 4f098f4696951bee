// @ts-check
/** A year of nights and days as a band over the months, with the line of frost. */
import { parse } from "../../../kernel/read/days.js";
import { h, svg } from "../../../lib/dom.js";
import { inField, toShown, toStored, unitName } from "../../../lib/quantities.js";

const WIDE = 360;
const TALL = 190;
const LEFT = 34;
const LOW = 168;
const MONTHS = "JFMAMJJASOND";
const GAP_DAYS = 20;
/** Fewer days than this are shown as points too. */
const FEW = 60;
/** A line so near to that of frost would have its figure written over frost's. */
const NEAR_FROST_C = 4;

/** @typedef {import("./days.js").Pair} Pair */

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
  const unit = unitName("degrees");
  const grid = gridOf(bottom, top);
  return h(
    "figure",
    { class: "chart" },
    svg(
      "svg",
      { viewBox: `0 0 ${WIDE} ${TALL}`, role: "img", "aria-label": `Minimum and maximum of ${rows.length} days in ${year}` },
      grid.map((c) => [
        svg("path", { d: `M${LEFT} ${y(c)}H${WIDE}`, stroke: "var(--hair)", "stroke-width": 1 }),
        svg("text", { x: LEFT - 5, y: y(c) + 5, "text-anchor": "end", "font-size": 14, fill: "var(--ink)" }, inField("degrees", c)),
      ]),
      [...MONTHS].map((letter, at) => svg("text", { x: x(first + 30.5 * at + 15), y: TALL - 4, "text-anchor": "middle", "font-size": 14, fill: "var(--ink-soft)" }, letter)),
      band(rows, x, y),
      svg("path", { d: `M${LEFT} ${y(0)}H${WIDE}`, stroke: "var(--ink)", "stroke-width": 1.8 }),
    ),
    h("figcaption", { class: "soft note" }, `From the coldest of the night to the warmest of the day, ${unit}. The firm line is frost.`),
    h("div", { class: "unseen" }, h("table", null, h("caption", null, `Readings of ${year}`), h("thead", null, h("tr", null, ["Day", `Minimum ${unit}`, `Maximum ${unit}`].map((words) => h("th", { scope: "col" }, words)))), h("tbody", null, rows.map(([day, [low, high]]) => h("tr", null, h("th", { scope: "row" }, day), h("td", null, inField("degrees", low)), h("td", null, inField("degrees", high))))))),
  );
}

/** Where lines are drawn across: each tenth degree, each twentieth in °F, and frost. @param {number} bottom @param {number} top @returns {number[]} °C */
function gridOf(bottom, top) {
  const step = unitName("degrees") === "°F" ? 20 : 10;
  const begin = unitName("degrees") === "°F" ? step * Math.ceil(toShown("degrees", bottom) / step) : bottom;
  /** @type {number[]} */
  const grid = [];
  for (let at = begin; at <= toShown("degrees", top); at += step) grid.push(toStored("degrees", at));
  const clear = grid.filter((c) => c === 0 || Math.abs(c) > NEAR_FROST_C);
  return clear.includes(0) ? clear : [...clear, 0];
}

/**
 * Days without a long gap, as runs: in each the warmest as a line, the coldest as a line, and the band between.
 * @param {[string, Pair][]} rows
 * @param {(day: number) => number} x
 * @param {(c: number) => number} y
 */
function band(rows, x, y) {
  /** @type {[number, Pair][][]} */
  const runs = [];
  let before = -Infinity;
  for (const [day, pair] of rows) {
    const at = parse(day);
    if (at - before > GAP_DAYS) runs.push([]);
    runs[runs.length - 1].push([at, pair]);
    before = at;
  }
  const through = (/** @type {[number, Pair][]} */ run, /** @type {0 | 1} */ end) => run.map(([at, pair]) => `${x(at).toFixed(1)} ${y(pair[end]).toFixed(1)}`);
  return runs.map((run) => [
    svg("path", { d: `M${through(run, 1).join("L")}L${through(run, 0).reverse().join("L")}Z`, fill: "var(--well)", stroke: "none" }),
    [1, 0].map((end) => svg("path", { d: `M${through(run, /** @type {0 | 1} */ (end)).join("L")}`, fill: "none", stroke: end ? "var(--clay)" : "var(--ink)", "stroke-width": 1.8, "stroke-linejoin": "round" })),
    run.length < FEW && run.flatMap(([at, pair]) => [1, 0].map((end) => svg("circle", { cx: x(at), cy: y(pair[end]), r: 2.4, fill: end ? "var(--clay)" : "var(--ink)" }))),
  ]);
}
