// @ts-check
/** A bed to scale, as elements: the year's weeks to move through, the plan, the tape, and how close. */
import { h } from "../../../lib/dom.js";
import { bedPlan, besideKey } from "../../../ui/bed-plan.js";
import { benchPicture } from "../../../ui/bench-picture.js";
import { bullets, heading, soft } from "../../../ui/board.js";
import { housePicture } from "../../../ui/house-picture.js";
import { housePlan, scaleFor } from "../../../ui/house-plan.js";
import { heldKey, key, keyGroup, keys } from "../../../ui/key.js";
import { roomStrip } from "../../../ui/room-strip.js";

/**
 * @typedef {import("./bed-seen.js").SeenBed} SeenBed
 * @typedef {{look: (day: string) => void, year: (year: number) => void, today: () => void, batch: (id: string) => void}} Does
 */

/** @param {SeenBed} seen @param {Does} does */
export function drawBed(seen, does) {
  const { parts, free, freeSays, others, tapes, inset, time } = seen;
  const beside = [
    ...parts.map((part) => ({ at: part.at + part.run / 2, words: part.words, says: [part.says, part.gapsSay].filter(Boolean).join(", "), mark: part.drills.length ? null : part.mark, open: () => does.batch(part.batch) })),
    ...freeSays.map(({ at, words, says }) => ({ at, words, says, mark: null, open: null })),
  ];
  return h(
    "section",
    { class: "bed-sheet", "aria-label": "The bed to scale" },
    drawTime(time, does),
    bedPlan({ ...seen, beside, free, parts }),
    parts.map(({ trouble }) => trouble && h("p", { class: "past note" }, trouble)),
    others.length > 0 && h("p", { class: "soft note" }, `In pots and trays: ${others.map(({ words, says }) => [words, says].join(", ")).join("; ")}.`),
    h("div", { class: "bed-feet" }, tapes.length > 0 && drawTapes(tapes), inset && drawInset(inset)),
  );
}

/** @param {NonNullable<ReturnType<typeof import("./bed-seen.js").seeBench>>} seen @param {Does} does */
export function drawBench(seen, does) {
  const { lots, trouble, inset, time } = seen;
  return h(
    "section",
    { class: "bed-sheet", "aria-label": "What stands on it, to scale" },
    drawTime(time, does),
    benchPicture({ ...seen, label: lots.map(({ words, says }) => `${words}, ${says}`).join("; ") || "Nothing stands here" }),
    trouble && h("p", { class: "past note" }, trouble),
    h("div", { class: "bench-lots" }, lots.map(({ batch, words, says }, at) => besideKey({ words, says, mark: at, open: () => does.batch(batch) }))),
    inset && drawInset(inset),
  );
}

/** @param {import("./house-seen.js").SeenHouse} seen @param {Does & {place: (id: string) => void}} does */
export function drawHouse(seen, does) {
  return h("section", { class: "bed-sheet", "aria-label": "The house from above" }, drawTime(seen.time, does), housePicture(seen, does.place), seen.hangs && h("p", { class: "soft note" }, seen.hangs));
}

/** @param {NonNullable<ReturnType<typeof import("./close-seen.js").seeClose>>} seen @param {{take: (fields: Record<string, any>, words: string) => void, look: (day: string) => void}} does */
export function drawClose({ heading: words, none, ways, verdict, needs, from }, { take, look }) {
  return h(
    "section",
    { "aria-label": "How close" },
    heading(words),
    none && h("p", { class: "past note" }, none),
    keyGroup("How close", "two", ways.map((way) => heldKey([h("b", null, way.words), h("small", null, way.says), h("small", null, way.how)], way.chosen, () => take(way.fields, way.words), { look: "way" }))),
    h("div", { class: "soft note" }, bullets([...verdict, needs].filter(Boolean))),
    key("See it on that day", () => look(from), { look: "slim" }),
  );
}

/** @param {SeenBed["time"]} time @param {Does} does */
function drawTime({ year, when, isToday, from, week, now, weeks }, { look, year: toYear, today }) {
  return h(
    "div",
    { class: "bed-time" },
    h("p", { class: "two" }, h("b", { role: "status" }, when), soft(String(year))),
    roomStrip({ from, weeks, week, now }, look),
    keys(
      "four",
      key("‹ Year", () => toYear(year - 1), { look: "slim", "aria-label": "The year before" }),
      key("‹ Week", () => look("-7"), { look: "slim", "aria-label": "A week earlier" }),
      key("Week ›", () => look("+7"), { look: "slim", "aria-label": "A week later" }),
      key("Year ›", () => toYear(year + 1), { look: "slim", "aria-label": "The year after" }),
    ),
    !isToday && key("Back to today", today, { look: "slim gap" }),
  );
}

/** @param {SeenBed["tapes"]} tapes */
function drawTapes(tapes) {
  return h(
    "details",
    { class: "plan-step tapes" },
    h("summary", null, h("b", null, "Read off the tape"), soft("where each row and plant stands")),
    tapes.map(({ name, lines }) => [heading(name), bullets(lines)]),
  );
}

/** @param {NonNullable<SeenBed["inset"]>} inset */
function drawInset({ name, cover, beds }) {
  const plan = housePlan(beds, cover, Math.min(0.16, scaleFor([beds])));
  return plan && h("figure", { class: "inset" }, plan, h("figcaption", { class: "soft" }, `in ${name}`));
}
