// @ts-check
/** How close the next batch of a bed could stand: ways side by side, what each costs, and what speaks for and against. Pure. */
import { closenesses, freeStretch, plantedAt } from "../../../household/bed-working.js";
import { countedCrop, cropOf } from "../../../household/names.js";
import { needWords, sumOfNeeds } from "../../../household/needs.js";
import { bestCount, nearestMiss } from "../../../kernel/layouts.js";
import { plainDay } from "../../../lib/dates.js";
import { metres } from "./bed-seen.js";
import { counted, kept } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../household/bed-working.js").Room} Room
 * @typedef {import("../../../household/bed-working.js").Closeness} Closeness
 */

/** A bed that is worked from both sides is at most so wide. [mm] Source: common practice. */
const REACH_MM = 1200;
const PLANTING = ["plant_out", "string", "install", "sow"];

/** @param {Book} book @param {Room} room @param {string} id @param {string} today */
export function seeClose(book, room, id, today) {
  const next = room.stays.filter((stay) => stay.place === id && stay.layout && !stay.told && stay.count !== null).sort((a, b) => (a.from < b.from ? -1 : 1))[0];
  const know = next && cropOf(book, next.batch);
  if (!next || !know.spacing_cm) return null;
  const own = book.fields(next.batch);
  const layout = /** @type {NonNullable<typeof next.layout>} */ (next.layout);
  const there = freeStretch(room, id, book.fields(id), { from: next.from, to: next.to, but: [next.batch, own.follows], first: true, layout });
  if (!there || !next.count) return null;
  const needed = sumOfNeeds(book.jobs(today).filter((job) => job.batch === next.batch && PLANTING.includes(job.verb)));
  return {
    batch: next.batch,
    heading: kept(`${countedCrop(book, next.batch, next.count)} to plant, ${plainDay(next.from, today)}. How close?`),
    from: next.from,
    ...seeWays(know, there, next.count, { cm: layout.spacing / 10, pattern: layout.pattern, turned: layout.turned, stems: layout.stems, end: layout.end }),
    needs: needed.length ? `Needs ${needed.map(needWords).join(", ")}.` : "",
  };
}

/**
 * How so many could stand in a stretch, side by side, with what speaks for and against the distance that is chosen.
 * @param {any} know the crop's
 * @param {{length: number, width: number}} there [mm]
 * @param {number} want
 * @param {{cm: number, pattern: string | null, turned: boolean | null, stems?: number | null, end?: number | null}} now as it is planned; end: kept free at its
 *   edges [mm]
 */
export function seeWays(know, there, want, { cm, pattern, turned, stems, end = null }) {
  const ways = closenesses(there, know, want, end);
  const chosen = ways.find((way) => way.cm === cm && (!pattern || (way.pattern === pattern && way.turned === (turned ?? false))));
  return {
    none: ways.length ? "" : "There is no room for one of them in what is free then.",
    ways: ways.map((way) => ({ fields: fieldsOf(way), words: kept(`${way.count} at ${way.cm} cm`), says: costWords(way), how: wayWords(way), chosen: way === chosen })),
    verdict: verdicts(know, there, want, { cm, stems, end }).map(kept),
  };
}

/** What is written when a way is taken; where some are left over as many are wanted as it holds, so that the others are counted as spare. @param {Closeness} way */
function fieldsOf({ count, cm, rowCm, pattern, turned, spare }) {
  return { spacing_cm: cm, row_cm: rowCm, pattern, turned, rows: null, ...(spare > 0 ? { want: count } : {}) };
}

/** What it costs: the stretch it takes where there is room to spare, else plants or places. @param {Closeness} way */
function costWords({ spare, run }) {
  if (run !== null) return kept(`takes ${metres(run)}`);
  if (spare === 0) return "all used";
  return kept(spare > 0 ? `${spare} left over` : counted(-spare, "gap"));
}

const ROWS = ["", "one row", "double row"];

/** `square`, `staggered`, `one row`, `double row`, `4 rows`. @param {Closeness} way */
function patternWords({ pattern, lines }) {
  if (ROWS[lines]) return ROWS[lines];
  return pattern === "rows" ? `${lines} rows` : pattern;
}

/** `in rows 75 cm apart, across the bed`. @param {Closeness} way */
function wayWords(way) {
  const { cm, rowCm, turned, lines } = way;
  const rows = rowCm === cm || lines < 2 ? patternWords(way) : `${patternWords(way)} ${Math.round(rowCm)} cm apart`;
  return kept([rows, turned ? "across the bed" : ""].filter(Boolean).join(", "));
}

/** What speaks for and against: the crop's own range, its stems, reach, and what just does not fit. @param {any} know @param {{length: number, width: number}} there @param {number} want @param {{cm: number, stems?: number | null, end: number | null}} now @returns {string[]} */
function verdicts(know, there, want, { cm, stems, end }) {
  const [least, most, usual] = know.spacing_cm;
  const { bed, spacing, row } = plantedAt(there, know, cm, end);
  const best = bestCount(bed, spacing, row);
  const miss = nearestMiss(bed, spacing, row);
  return [
    least === most ? `${usual} cm is usual.` : `${usual} cm is usual, ${least} to ${most} cm will do. Closer there is less air between them, and leaves stay wet longer.`,
    stems && stems > 1 ? `${stems} stems each: ${Math.round(cm / stems)} cm of wire a stem.` : "",
    there.width > REACH_MM ? `At ${there.width / 10} cm the bed is wider than the 120 cm that is reached from both sides: keep a board to step on.` : "",
    best && best < want ? `At ${cm} cm ${best} of ${want} find room in what is free.` : "",
    miss && best <= want ? `${miss[0] / 10} cm less between, and ${miss[1]} fit.` : "",
  ].filter(Boolean);
}
