// @ts-check
/** How full a place is through the weeks of a year: a column a week, what is over the brim hatched; a tap chooses its week. */
import { h, svg } from "../lib/dom.js";
import { addDays, monthName } from "../lib/dates.js";

const WIDE = 366;
const TALL = 46;
const BRIM = 10;
const WEEK = 7;

/**
 * @param {{from: string, weeks: number[], week: number | null, now: number}} seen from: the first Monday; weeks: per cent that is taken; week: which is
 *   looked at; now: which is this week
 * @param {((day: string) => void) | null} look to the Monday of a week
 */
export function roomStrip({ from, weeks, week, now }, look) {
  const step = WIDE / Math.max(1, weeks.length);
  const deep = TALL - BRIM;
  const columns = weeks.map((taken, at) => {
    const tall = (Math.min(100, taken) / 100) * deep;
    return [
      tall > 0 && svg("rect", { x: at * step, y: TALL - tall, width: step + 0.3, height: tall, fill: "var(--stage-ground)" }),
      taken > 100 && svg("path", { d: `M${at * step} ${BRIM - 1}l${step} -8M${at * step} ${BRIM + 3}l${step} -8`, stroke: "var(--clay)", "stroke-width": 2.2 }),
    ];
  });
  const drawing = svg(
    "svg",
    { class: "room-strip", viewBox: `0 0 ${WIDE} ${TALL + 22}`, "aria-hidden": "true" },
    svg("rect", { x: 0.7, y: BRIM, width: WIDE - 1.4, height: deep - 0.7, fill: "var(--label)", stroke: "var(--rule)", "stroke-width": 1.4 }),
    columns,
    svg("path", { d: `M0 ${BRIM}H${WIDE}M0 ${TALL}H${WIDE}`, stroke: "var(--ink)", "stroke-width": 1.6 }),
    months(from, weeks.length, step),
    now >= 0 && now < weeks.length && svg("path", { d: `M${(now + 0.5) * step} 2V${TALL + 4}`, stroke: "var(--ink)", "stroke-width": 1.6 }),
    week !== null && week >= 0 && week < weeks.length && svg("rect", { x: week * step - 2, y: 3, width: step + 4, height: TALL - 1, fill: "none", stroke: "var(--ink)", "stroke-width": 3 }),
  );
  if (!look) return drawing;
  const at = (/** @type {MouseEvent} */ event) => {
    const box = drawing.getBoundingClientRect();
    const which = Math.floor(((event.clientX - box.left) / box.width) * weeks.length);
    look(addDays(from, WEEK * Math.max(0, Math.min(weeks.length - 1, which))));
  };
  return h("div", { class: "room-strip-key", onclick: at }, drawing);
}

/** @param {string} from @param {number} many @param {number} step */
function months(from, many, step) {
  let last = "";
  return Array.from({ length: many }, (_, at) => {
    const name = monthName(addDays(from, WEEK * at + 6));
    if (name === last) return null;
    last = name;
    const next = at === 0 && monthName(addDays(from, WEEK * 2 + 6)) !== name; // no room for a letter
    return at < many - 2 && !next && [svg("path", { d: `M${at * step} ${TALL}v5`, stroke: "var(--ink)", "stroke-width": 1.6 }), svg("text", { x: at * step + 3, y: TALL + 17, "font-size": 12.5, "font-weight": 600 }, name[0])];
  });
}
