// @ts-check
/**
 * The leeway bar. Hollow tube: the window. Solid: spent. Tall stop: by. Notch: aim. Pencil: today. Words stand beside it
 * and never depend on it, so it is hidden from screen readers.
 */
import { parse } from "../kernel/read/days.js";
import { svg } from "../lib/dom.js";
import { shortDay, weekday } from "../lib/dates.js";

/** @typedef {import("../types.js").Job} Job */

const DAY_PX = 6;
const OPEN_DAYS = 400;
let patterns = 0;

/** @param {string} id @param {number} gap @param {number} width */
function hatch(id, gap, width) {
  return svg(
    "pattern",
    { id, width: gap, height: gap, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
    svg("rect", { width: gap, height: gap, fill: "var(--label)" }),
    svg("rect", { width, height: gap, fill: "var(--clay)" }),
  );
}

/**
 * The small bar of a list: every bar shares one scale and one place for today, so rows compare without reading.
 * @param {Job} job
 * @param {string} today
 * @param {number} [width]
 * @returns {SVGElement}
 */
export function smallBar(job, today, width = 240) {
  const at = smallScale(job, today, width);
  const id = `hatch${(patterns += 1)}`;
  return svg(
    "svg",
    { width, height: 33, viewBox: `0 -3 ${width} 33`, "aria-hidden": "true" },
    svg("defs", null, hatch(id, 5, 2.4)),
    svg("path", { d: weekMarks(at.x, width), stroke: "var(--rule)", "stroke-width": 1.5 }),
    svg("path", { d: `M0 ${BAR_Y + BAR_TALL / 2}H${width}`, stroke: "var(--hair)", "stroke-width": 1 }),
    smallSpan(at, job.state === "waiting", id),
    smallEnd(at),
    smallAim(at, width),
    todayMark(at.zero),
  );
}

const BAR_Y = 15;
const BAR_TALL = 9;
/** Room that the marks at either end need. [px] */
const EDGE_PX = 4;

/**
 * Where a job's days lie on a small bar. Days count from today.
 * @param {Job} job
 * @param {string} today
 * @param {number} width
 */
function smallScale(job, today, width) {
  const now = parse(today);
  const from = parse(job.from) - now;
  const by = job.by === null ? OPEN_DAYS : parse(job.by) - now;
  const zero = Math.round(width * 0.36);
  const x = (/** @type {number} */ day) => zero + day * DAY_PX;
  const left = Math.min(width - 2 * EDGE_PX, Math.max(EDGE_PX, x(from)));
  const right = Math.max(left, Math.min(width - EDGE_PX, x(Math.max(by, from))));
  return { from, aim: parse(job.aim) - now, by, zero, x, left, right, cut: x(by) > width - EDGE_PX };
}

/** @param {(day: number) => number} x @param {number} width */
function weekMarks(x, width) {
  const weeks = [];
  for (let day = -35; day <= 42; day += 7) if (x(day) > 1 && x(day) < width - 1) weeks.push(`M${x(day)} 26v4`);
  return weeks.join("");
}

/** The days it can be done in, how much of them is gone, and what is past. @param {ReturnType<typeof smallScale>} at @param {boolean} waits @param {string} pattern */
function smallSpan({ from, by, zero, x, left, right }, waits, pattern) {
  const bar = { x: left, y: BAR_Y, height: BAR_TALL };
  const gone = Math.min(zero, right) - left;
  const late = Math.max(EDGE_PX, x(by));
  return [
    svg("rect", { ...bar, width: Math.max(2, right - left), fill: "var(--label)", stroke: "var(--ink)", "stroke-width": 2, "stroke-dasharray": waits ? "4 3" : null }),
    from < 0 && gone > 0 && svg("rect", { ...bar, width: gone, fill: waits ? "var(--rule)" : "var(--ink)" }),
    by < 0 && svg("rect", { x: late, y: BAR_Y - 1, width: zero - late, height: BAR_TALL + 2, fill: `url(#${pattern})`, stroke: "var(--clay)", "stroke-width": 1.5 }),
  ];
}

/** The last good day, or that it lies beyond the bar. @param {ReturnType<typeof smallScale>} at */
function smallEnd({ by, x, right, cut }) {
  if (!cut) return svg("path", { d: `M${Math.max(EDGE_PX, x(by))} ${BAR_Y - 6}v${BAR_TALL + 12}`, stroke: "var(--ink)", "stroke-width": 4 });
  const stroke = `${BAR_Y + BAR_TALL + 4}l5 -${BAR_TALL + 8}`;
  return svg("path", { d: `M${right - 9} ${stroke}M${right - 3} ${stroke}`, stroke: "var(--ink)", "stroke-width": 2 });
}

/** The best day, where there is room for it. @param {ReturnType<typeof smallScale>} at @param {number} width */
function smallAim({ from, by, aim, x }, width) {
  if (by - from <= 3 || x(aim) <= 2 * EDGE_PX || x(aim) >= width - 2 * EDGE_PX) return null;
  return svg("path", { d: `M${x(aim) - 5.5} ${BAR_Y + BAR_TALL + 1}l5.500 -8 5.500 8z`, fill: "var(--label)", stroke: "var(--ink)", "stroke-width": 1.8, "stroke-linejoin": "round" });
}

/** @param {number} zero */
function todayMark(zero) {
  return [
    svg("path", { d: `M${zero} 8V30`, stroke: "var(--ink)", "stroke-width": 2 }),
    svg("path", { d: `M${zero - 5} -1h10v4l-5 12 -5 -12z`, fill: "var(--label)", stroke: "var(--ink)", "stroke-width": 2, "stroke-linejoin": "round" }),
    svg("path", { d: `M${zero - 3} 8l3 7 3 -7z`, fill: "var(--ink)" }),
  ];
}

/** A date at the bar's end and half of another beside it need so much. [px of the drawing] */
const DATE_ROOM = 148;

/**
 * The large bar of an opened job: a steel rule with a mark a day and the dates written on.
 * @param {Job} job
 * @param {string} today
 * @returns {SVGElement}
 */
export function largeBar(job, today) {
  const width = 338;
  const pad = 8;
  const now = parse(today);
  const from = parse(job.from);
  const by = job.by === null ? Math.max(from, now) + 28 : parse(job.by);
  const aim = Math.min(Math.max(parse(job.aim), from), Math.max(by, from));
  const first = Math.min(from, now, by);
  const last = Math.max(by, now, from, first + 6);
  const day = (width - 2 * pad) / (last - first);
  const x = (/** @type {number} */ at) => pad + (at - first) * day;
  const y = 46;
  const tall = 20;
  const waits = job.state === "waiting";
  const id = `hatch${(patterns += 1)}`;
  const each = Math.max(1, Math.ceil((last - first) / 60));
  const marks = [];
  for (let at = first; at <= last; at += each) {
    const monday = weekday(at) === 0 || each > 1;
    marks.push(svg("path", { d: `M${x(at)} ${y + tall + 5}v${monday ? 12 : 6}`, stroke: "var(--ink)", "stroke-width": monday ? 2 : 1.2 }));
  }
  const clamp = (/** @type {number} */ at, /** @type {number} */ room) => Math.max(room, Math.min(width - room, at));
  const showAim = by - from > 3 && x(aim) - x(from) > DATE_ROOM && x(by) - x(aim) > DATE_ROOM;
  return svg(
    "svg",
    { viewBox: `0 0 ${width} 128`, "aria-hidden": "true", preserveAspectRatio: "xMidYMid meet" },
    svg("defs", null, hatch(id, 6, 3)),
    svg("rect", {
      x: x(Math.min(from, by)),
      y,
      width: Math.max(3, Math.abs(x(by) - x(from))),
      height: tall,
      fill: "var(--label)",
      stroke: "var(--ink)",
      "stroke-width": 2.5,
      "stroke-dasharray": waits ? "6 4" : null,
    }),
    now > from && by > from && svg("rect", { x: x(from), y, width: x(Math.min(now, by)) - x(from), height: tall, fill: waits ? "var(--rule)" : "var(--ink)" }),
    job.by !== null && now > by && svg("rect", { x: x(by), y: y - 1, width: x(now) - x(by), height: tall + 2, fill: `url(#${id})`, stroke: "var(--clay)", "stroke-width": 2 }),
    marks,
    job.by !== null
      ? svg("path", { d: `M${x(by)} ${y - 9}v${tall + 18}`, stroke: "var(--ink)", "stroke-width": 6 })
      : svg("path", { d: `M${x(by) - 8} ${y + tall + 5}l6 -${tall + 10}M${x(by)} ${y + tall + 5}l6 -${tall + 10}`, stroke: "var(--ink)", "stroke-width": 2.5 }),
    by - from > 3 &&
      svg("path", { d: `M${x(aim) - 9} ${y + tall + 1.5}l9 -13 9 13z`, fill: "var(--label)", stroke: "var(--ink)", "stroke-width": 2.2, "stroke-linejoin": "round" }),
    svg("path", { d: `M${x(now)} 40V${y + tall + 16}`, stroke: "var(--ink)", "stroke-width": 2.5 }),
    svg("path", { d: `M${x(now) - 7} 20h14v8l-7 18 -7 -18z`, fill: "var(--label)", stroke: "var(--ink)", "stroke-width": 2.5, "stroke-linejoin": "round" }),
    svg("path", { d: `M${x(now) - 4} 36l4 10 4 -10z`, fill: "var(--ink)" }),
    svg("text", { x: clamp(x(now), 26), y: 15, "font-size": 17, "font-weight": 700, "text-anchor": "middle" }, "today"),
    datesUnder(job, x(from), x(by), width),
    showAim && written(x(aim), "best", shortDay(job.aim), "middle"),
  );
}

/**
 * From and by under their ends; together where the window is too short for two.
 * @param {Job} job
 * @param {number} from
 * @param {number} by
 * @param {number} width
 */
function datesUnder(job, from, by, width) {
  if (job.by === null) return written(Math.max(2, from - 4), "from", shortDay(job.from), from < width / 2 ? "start" : "end");
  const middle = (from + by) / 2;
  const anchor = middle < width / 3 ? "start" : middle > (2 * width) / 3 ? "end" : "middle";
  if (Math.abs(by - from) <= 185) {
    const at = anchor === "start" ? 2 : anchor === "end" ? width - 2 : middle;
    const words = job.from === job.by ? shortDay(job.by) : `${shortDay(job.from)} to ${shortDay(job.by)}`;
    return written(at, job.from === job.by ? "on" : "from and by", words, anchor);
  }
  if (by < from) return [written(Math.max(2, by - 4), "by", shortDay(job.by), "start"), written(Math.min(width - 2, from + 4), "from", shortDay(job.from), "end")];
  const left = Math.max(2, from - 6);
  return [
    written(left, "from", shortDay(job.from), left > width - 90 ? "end" : "start"),
    written(Math.min(width - 2, by + 4), "by", shortDay(job.by), "end"),
  ];
}

/** @param {number} x @param {string} word @param {string} date @param {string} anchor */
function written(x, word, date, anchor) {
  return [
    svg("text", { x, y: 103, "font-size": 16, "text-anchor": anchor }, word),
    svg("text", { x, y: 121, "font-size": 17, "font-weight": 700, "text-anchor": anchor }, date),
  ];
}
