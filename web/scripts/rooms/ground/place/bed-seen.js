// @ts-check
/** What is to be seen of a bed to scale on some day of some year: its parts, what is free, the tape to read off. Pure. */
import { standSideBySide } from "../../../household/bench-working.js";
import { bedOn, sizeOf, staysOn } from "../../../household/bed-working.js";
import { countedCrop, cropOf, houseOf, inside, nameBeside, outerOf, pathOf, placeName } from "../../../household/names.js";
import { spotsOf } from "../../../household/spots.js";
import { vesselWords } from "../../../household/vessel-words.js";
import { WATER_LINES } from "../../../kernel/read/ground.js";
import { ABOVE_GROUND } from "../../../kernel/room.js";
import { addDays, daysBetween, plainDay } from "../../../lib/dates.js";
import { toShown, unitName } from "../../../lib/quantities.js";
import { capital, counted, kept } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../household/bed-working.js").Room} Room
 * @typedef {import("../../../household/bed-working.js").Part} Part
 * @typedef {{day: string, year: number}} Choice the day that is looked at, and the year whose weeks are drawn
 * @typedef {NonNullable<ReturnType<typeof seeBed>>} SeenBed
 */

const WEEK = 7;
/** Positions told one by one; of more the distance says enough. */
const MOST_READ = 16;
/** Less than so much that is free is not told. [mm] */
const LEAST_SAID = 200;

/** A bench, shelf or propagator with what stands on it; null for what is none or has no size. @param {Book} book @param {Room} room @param {string} id @param {Choice} choice @param {string} today */
export function seeBench(book, room, id, { day, year }, today) {
  const fields = book.fields(id);
  const size = sizeOf(fields);
  if (!size || !ABOVE_GROUND.includes(fields.sort)) return null;
  const here = staysOn(room, id, day);
  const lots = here.map((stay) => ({ stay, ...(stay.vessel || { sort: "", length: 0, width: 0, cells: 1, many: 0 }) })).filter(({ many }) => many);
  const { stood, without } = standSideBySide(size.length, size.width, lots.map(({ stay, ...lot }) => ({ batch: stay.batch, ...lot })));
  return {
    ...size,
    stood,
    lots: lots.map(({ stay, ...vessel }, at) => ({
      batch: stay.batch,
      sort: vessel.sort,
      cells: vessel.cells,
      words: kept(capital(countedCrop(book, stay.batch, stay.count))),
      says: kept([`${stay.stage}${stay.told ? "" : ", expected"}`, vesselWords(vessel)].join(": ")),
      without: without[at],
    })),
    trouble: without.some(Boolean) ? kept(`${without.reduce((sum, many) => sum + many, 0)} pots and trays find no room here then.`) : "",
    time: seeTime(room, [id], day, year, today),
    inset: insetOf(book, id),
  };
}

/** @param {Book} book @param {Room} room @param {string} id @param {Choice} choice @param {string} today */
export function seeBed(book, room, id, { day, year }, today) {
  const fields = book.fields(id);
  const bed = bedOn(room, id, fields, day);
  if (!bed || ABOVE_GROUND.includes(fields.sort) || inside(book, id).length) return null;
  const covered = Boolean(houseOf(book, id) !== id && (book.fields(houseOf(book, id)).cover || "open") !== "open");
  const parts = bed.parts.map((part, mark) => ({ ...seePart(book, part, bed), mark }));
  return {
    id,
    size: kept(`${metres(bed.length)} × ${metres(bed.width)}`),
    length: bed.length,
    width: bed.width,
    end: covered ? "door end" : "near end",
    parts,
    free: bed.free,
    freeSays: bed.free.filter(([since, until]) => until - since >= LEAST_SAID).map((one) => ({ at: (one[0] + one[1]) / 2, words: "free", says: kept(freeWords(one, bed.width)) })),
    hose: hasHose(book, id, today),
    tapes: parts.flatMap((part) => part.tapes),
    others: bed.others.map((stay) => ({ batch: stay.batch, words: kept(capital(countedCrop(book, stay.batch, stay.count))), says: stay.stage })),
    label: labelWords(parts, bed),
    time: seeTime(room, [id], day, year, today),
    inset: insetOf(book, id),
  };
}

/** @param {Book} book @param {Part} part @param {{width: number, parts: Part[]}} bed */
function seePart(book, part, bed) {
  const { batch, count, told } = part.stay;
  const crop = capital(countedCrop(book, batch, count));
  const apart = `${part.spacing / 10} cm apart`;
  return {
    batch,
    at: part.at,
    run: part.run,
    left: part.left,
    wide: part.wide,
    plants: part.plants,
    gaps: part.gaps,
    drills: part.drills,
    across: Math.min(part.spacing, part.row || part.spacing),
    trained: part.trained,
    stems: part.stay.layout?.stems || 1,
    told,
    foot: bed.parts.some((other) => other !== part && other.stay.batch === part.stay.layout?.foot_of),
    words: kept(crop),
    says: kept([nameBeside(book, batch), count === null ? inRows(book.fields(batch).rows) : apart, told ? "" : "expected"].filter(Boolean).join(", ")),
    trouble: part.without ? kept(`${part.without} of ${count} ${cropOf(book, batch).many || "plants"} find no room.`) : "",
    gapsSay: part.gaps.length ? kept(counted(part.gaps.length, "gap")) : "",
    tapes: tapeOf(crop, part, bed.width),
  };
}

/** What nobody counts stands in rows; how many only where somebody said so. @param {number | null | undefined} rows */
function inRows(rows) {
  return rows ? `in ${counted(rows, "row")}` : "in rows";
}

/** What a tape along the edge reads at each plant. @param {string} name @param {Part} part @param {number} width */
function tapeOf(name, part, width) {
  const along = [...new Set(part.plants.map(([at]) => at))].sort((a, b) => a - b);
  const rows = part.drills.length ? part.drills : [...new Set(part.plants.map(([, across]) => across))].sort((a, b) => a - b);
  if (!rows.length) return [];
  const read = (/** @type {number} */ mm) => String(Math.round(toShown("length", mm / 10))); // a row of figures has its unit once, so each is turned here
  const unit = unitName("length");
  const list = (/** @type {number[]} */ at) => (at.length > MOST_READ ? `${at.slice(0, 3).map(read).join(", ")} and so on to ${read(at[at.length - 1])}` : at.map(read).join(", "));
  const lines = [rows.length > MOST_READ ? "" : `Rows ${list(rows)} ${unit} from the left edge of ${read(width)} ${unit}`];
  if (along.length) lines.push(`Plants at ${list(along)} ${unit} from the end`);
  return [{ name: kept(name), lines: lines.filter(Boolean).map(kept) }];
}

/** @param {Book} book @param {string} id @param {string} today */
function hasHose(book, id, today) {
  const path = pathOf(book, id);
  const lines = book.ofKind("fixture").filter(({ fields }) => WATER_LINES.includes(fields.sort) && path.includes(fields.place));
  const up = new Set(book.stand(today).fixtures.filter((/** @type {any} */ one) => one.up).map((/** @type {any} */ one) => one.id));
  return lines.some(({ id: line }) => up.has(line));
}

/** `3.6 m`, `90 cm`: told in the household's units. @param {number} mm */
export function metres(mm) {
  return mm >= 1000 ? `${Math.round(mm / 10) / 100} m` : `${Math.round(mm / 10)} cm`;
}

/** `1.4 m`, or of a strip `1.4 m, 40 cm wide`. @param {import("../../../kernel/beds.js").Free} free @param {number} width */
function freeWords([since, until, , wide], width) {
  return wide === width ? metres(until - since) : `${metres(until - since)}, ${metres(wide)} wide`;
}

/** @param {{words: string, says: string}[]} parts @param {{width: number, free: import("../../../kernel/beds.js").Free[]}} bed */
function labelWords(parts, { width, free }) {
  const what = parts.map(({ words, says }) => `${words}, ${says}`).join("; ");
  return kept(`The bed from above. ${what || "Nothing stands in it"}. Free: ${free.map((one) => freeWords(one, width)).join("; ") || "nothing"}.`);
}

/** The year's weeks with how full each is, and the day that is looked at. @param {Room} room @param {string[]} ids of the places together @param {string} day @param {number} year @param {string} today */
export function seeTime(room, ids, day, year, today) {
  const places = room.places.filter(({ id }) => ids.includes(id));
  const cm2 = places.reduce((sum, place) => sum + place.cm2, 0);
  const monday = addDays(today, -((daysBetween("1970-01-05", today) % WEEK) + WEEK) % WEEK);
  const thisWeek = day >= monday && day < addDays(monday, WEEK);
  const when = day === today ? "as it stands today" : thisWeek ? "this week" : day < today ? `as it was, ${plainDay(day, today)}` : `as expected, ${plainDay(day, today)}`;
  return {
    year,
    when: kept(when),
    isToday: day === today,
    from: room.from,
    week: Math.floor(daysBetween(room.from, day) / WEEK),
    now: Math.floor(daysBetween(room.from, today) / WEEK),
    weeks: cm2 ? places[0].weeks.map((_, week) => Math.round((100 * places.reduce((sum, place) => sum + place.weeks[week], 0)) / cm2)) : [],
  };
}

/** Where the bed lies in its house. @param {Book} book @param {string} id */
function insetOf(book, id) {
  const house = outerOf(book, id);
  const beds = house ? spotsOf(book, house) : new Map();
  if (beds.size < 2) return null;
  return { name: kept(placeName(book, house)), cover: book.fields(house).cover || "open", beds: [...beds].map(([bed, spot]) => ({ ...spot, grows: /** @type {"here" | "none"} */ (bed === id ? "here" : "none") })) };
}
