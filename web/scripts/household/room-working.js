// @ts-check
/** Where there is too little room: the stretches of weeks that overflow, and what could move. Pure. */
import { addDays, daySpan, daysBetween, plainDay } from "../lib/dates.js";
import { counted } from "../lib/words.js";
import { bedOn, sizeOf, staysOn } from "./bed-working.js";
import { countedCrop, fullPlace } from "./names.js";

/**
 * @typedef {import("../store/book.js").Book} Book
 * @typedef {import("./bed-working.js").Room} Room
 * @typedef {import("./bed-working.js").Stay} Stay
 * @typedef {{place: string, from: string, to: string, percent: number}} Overflow from, to: its first and last day; percent: of the place, at the most
 */

const WEEK = 7;
const FULL = 100;
/** Told of each overflow; more is no help. */
const MOST_WAYS = 4;

/** Stretches of weeks in which more is to stand in a place than fits, from a day on. @param {Room} room @param {string} id @param {string} since @returns {Overflow[]} */
export function overflows(room, id, since) {
  const place = room.places.find((one) => one.id === id);
  if (!place) return [];
  /** @type {{first: number, last: number}[]} */
  const runs = [];
  place.weeks.forEach((cm2, week) => {
    if (cm2 <= place.cm2 || addDays(room.from, WEEK * week + WEEK - 1) < since) return;
    const last = runs[runs.length - 1];
    if (last && last.last === week - 1) last.last = week;
    else runs.push({ first: week, last: week });
  });
  return runs.map(({ first, last }) => {
    const most = Math.max(...place.weeks.slice(first, last + 1));
    return { place: id, from: addDays(room.from, WEEK * first), to: addDays(room.from, WEEK * last + WEEK - 1), percent: place.cm2 ? Math.ceil((FULL * most) / place.cm2) : 0 };
  });
}

/** What is said of an overflow: where, when, by how much. @param {Book} book @param {Overflow} over @param {string} today @returns {string} */
export function overflowWords(book, { place, from, to, percent }, today) {
  return `${fullPlace(book, place)} is too full from ${daySpan(from, to, today)}: ${percent} % of what fits.`;
}

/** What overflows with a batch where it is to stand, each with what could move. @param {Book} book @param {Room} room @param {string} batch @param {string} today @returns {string[]} */
export function overflowsOf(book, room, batch, today) {
  const stays = room.stays.filter((stay) => stay.batch === batch && !stay.told);
  const places = [...new Set(stays.map((stay) => stay.place))];
  return places.flatMap((place) => {
    const own = stays.filter((stay) => stay.place === place);
    const met = overflows(room, place, today).find((over) => own.some((stay) => stay.from <= over.to && over.from < stay.to));
    if (!met) return [];
    return [[overflowWords(book, met, today), ...couldMove(book, room, met, today).slice(0, 2)].join(" ")];
  });
}

/** What could move, so that there is room again: what could go earlier, another place, smaller pots, fewer plants. @param {Book} book @param {Room} room @param {Overflow} over @param {string} today @returns {string[]} */
export function couldMove(book, room, over, today) {
  const day = worstDay(room, over);
  const here = staysOn(room, over.place, day).filter((stay) => stay.cm2 !== 0);
  return [...earlier(book, here, day, today), ...elsewhere(book, room, over, today), ...fewer(book, room, over, here), ...smaller(here, book)].slice(0, MOST_WAYS);
}

/** The day of the fullest week. @param {Room} room @param {Overflow} over @returns {string} */
function worstDay(room, over) {
  const weeks = room.places.find((one) => one.id === over.place)?.weeks || [];
  const [first, last] = [over.from, over.to].map((on) => Math.floor(daysBetween(room.from, on) / WEEK));
  let worst = first;
  for (let week = first; week <= last; week += 1) if (weeks[week] > weeks[worst]) worst = week;
  const days = Array.from({ length: WEEK }, (_, at) => addDays(room.from, WEEK * worst + at));
  const taken = (/** @type {string} */ on) => staysOn(room, over.place, on).reduce((sum, stay) => sum + (stay.cm2 || 0), 0);
  return days.reduce((best, on) => (taken(on) > taken(best) ? on : best));
}

/** What has a next step that nights and its window allow sooner than it is planned. @param {Book} book @param {Stay[]} here @param {string} day @param {string} today @returns {string[]} */
function earlier(book, here, day, today) {
  return here.flatMap((stay) => {
    const next = book.jobs(today).find((job) => job.batch === stay.batch && job.aim === stay.to && ["plant_out", "pick", "clear", "harden_off", "pot_up"].includes(job.verb) && (job.writes.to_place || job.writes.place || job.place) !== stay.place);
    if (!next || next.from >= next.aim || next.from > day) return [];
    return [`“${next.title}” can be done from ${plainDay(next.from > today ? next.from : today, today)} on, sooner than ${plainDay(next.aim, today)}.`];
  });
}

/** Places of the same sort that have room in all those weeks. @param {Book} book @param {Room} room @param {Overflow} over @param {string} today @returns {string[]} */
function elsewhere(book, room, over, today) {
  const sort = book.fields(over.place).sort || "bed";
  const beyond = (room.places.find((one) => one.id === over.place)?.cm2 || 0) * (over.percent / FULL - 1);
  const [first, last] = [over.from, over.to].map((on) => Math.floor(daysBetween(room.from, on) / WEEK));
  const free = room.places
    .filter((one) => one.id !== over.place && (book.fields(one.id).sort || "bed") === sort)
    .map((one) => ({ id: one.id, cm2: one.cm2 - Math.max(...one.weeks.slice(first, last + 1)) }))
    .filter(({ cm2 }) => cm2 >= beyond)
    .sort((a, b) => b.cm2 - a.cm2 || (a.id < b.id ? -1 : 1));
  return free.length ? [`There is room then in ${free.slice(0, 2).map(({ id }) => fullPlace(book, id)).join(" and ")}.`] : [];
}

/** Pots of which the usual next smaller would do for a while. @param {Stay[]} here @param {Book} book @returns {string[]} */
function smaller(here, book) {
  const sizes = (book.rulebook.vessels?.pots || []).map((/** @type {number[]} */ pot) => pot[1]);
  return here.flatMap((stay) => {
    if (stay.vessel?.sort !== "pot" || stay.told) return [];
    const less = Math.max(...sizes.filter((/** @type {number} */ wide) => wide < /** @type {any} */ (stay.vessel).width));
    return Number.isFinite(less) ? [`${countedCrop(book, stay.batch, stay.count)} in pots of ${less / 10} cm take ${Math.round(FULL * (1 - (less / stay.vessel.width) ** 2))} % less.`] : [];
  });
}

/** How many fewer of what takes most. @param {Book} book @param {Room} room @param {Overflow} over @param {Stay[]} here @returns {string[]} */
function fewer(book, room, over, here) {
  const place = book.fields(over.place);
  if (sizeOf(place) && here.some((stay) => stay.layout)) {
    const bed = bedOn({ ...room, stays: here }, over.place, place, here[0].from > over.from ? here[0].from : over.from);
    const without = (bed?.parts || []).filter((part) => part.without > 0);
    return without.map((part) => `${part.without} of ${countedCrop(book, part.stay.batch, part.stay.count)} find no room: fewer, or closer.`);
  }
  const most = here.filter((stay) => stay.vessel && stay.cm2).sort((a, b) => (b.cm2 || 0) - (a.cm2 || 0))[0];
  if (!most?.vessel || !most.cm2) return [];
  const beyond = (room.places.find((one) => one.id === over.place)?.cm2 || 0) * (over.percent / FULL - 1);
  const each = most.cm2 / most.vessel.many;
  return [`${counted(Math.ceil(beyond / each), most.vessel.sort === "pot" ? "pot" : "tray")} fewer would do.`];
}
