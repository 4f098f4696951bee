// @ts-check
/** What comes next in a bed: the years behind and before it as one strip, the gaps between crops, and what still ripens in them. Pure. */
import { countedCrop, cropOf, cropWords } from "../../../household/names.js";
import { rotationCautions } from "../../../household/rotation-working.js";
import { addDays, daySpan, daysBetween, plainDay } from "../../../lib/dates.js";
import { capital, kept } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../household/bed-working.js").Room} Room
 * @typedef {import("../../../household/gap-fillers.js").Filler} Filler
 * @typedef {import("../../../household/gap-fillers.js").Gap} Gap
 */

const WEEK = 7;
/** A gap shorter than this is no time to grow anything. [weeks] Source: radishes, the quickest, take some four (common practice). */
const LEAST_WEEKS = 4;
/** A bed that is not fuller than this has room for more. [of 100] */
const ROOMY = 75;
const YEARS_BACK = 4;
const MOST_LANES = 4;

/** @param {Book} book @param {Room} room from this week on @param {string} id @param {string} today */
export function seeNext(book, room, id, today) {
  const stays = room.stays.filter((stay) => stay.place === id && stay.layout);
  const year = Number(today.slice(0, 4));
  const first = Math.max(year - YEARS_BACK, Math.min(year, ...stays.map((stay) => Number(stay.from.slice(0, 4)))));
  const years = Array.from({ length: year + 1 - first + 1 }, (_, at) => seeYear(book, stays, first + at));
  return { years, today, gaps: gapsOf(room, id, today).map((gap) => ({ ...gap, words: kept(`Free from ${daySpan(gap.from, gap.to, today)}`) })) };
}

/** What stood, stands and will stand in a year, in lanes. @param {Book} book @param {Room["stays"]} stays @param {number} year */
function seeYear(book, stays, year) {
  const [from, to] = [`${year}-01-01`, `${year + 1}-01-01`];
  const long = daysBetween(from, to);
  /** @type {string[]} */
  const lanes = [];
  const bars = joined(stays.filter((stay) => stay.from < to && from < stay.to)).map((stay) => {
    const [since, until] = [stay.from < from ? from : stay.from, stay.to > to ? to : stay.to];
    const free = lanes.findIndex((end) => end <= since);
    const lane = free >= 0 ? free : lanes.length;
    lanes[lane] = until;
    return { lane, left: daysBetween(from, since) / long, right: daysBetween(from, until) / long, words: cropWords(book, stay.batch), family: cropOf(book, stay.batch).family || "", told: stay.told };
  });
  const shown = bars.filter(({ lane }) => lane < MOST_LANES);
  return { year, lanes: Math.max(1, Math.min(MOST_LANES, lanes.length)), bars: shown, more: bars.length - shown.length, says: kept(bars.map(({ words }) => words).join(", ") || "nothing") };
}

/** Stays of one batch as one, in order of time. @param {Room["stays"]} stays */
function joined(stays) {
  /** @type {Map<string, Room["stays"][0]>} */
  const byBatch = new Map();
  for (const stay of stays) {
    const held = byBatch.get(stay.batch);
    byBatch.set(stay.batch, held ? { ...held, from: held.from < stay.from ? held.from : stay.from, to: held.to > stay.to ? held.to : stay.to, told: held.told || stay.told } : stay);
  }
  return [...byBatch.values()].sort((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : a.batch < b.batch ? -1 : 1));
}

/** Stretches of weeks in which the bed has room for more, from today on. @param {Room} room @param {string} id @param {string} today @returns {Gap[]} */
export function gapsOf(room, id, today) {
  const place = room.places.find((one) => one.id === id);
  if (!place) return [];
  /** @type {Gap[]} */
  const gaps = [];
  let since = -1;
  for (let week = 0; week <= place.weeks.length; week += 1) {
    const free = week < place.weeks.length && 100 * place.weeks[week] <= ROOMY * place.cm2;
    if (free && since < 0) since = week;
    if (free || since < 0) continue;
    const from = addDays(room.from, WEEK * since);
    if (week - since >= LEAST_WEEKS) gaps.push({ from: from < today ? today : from, to: addDays(room.from, WEEK * week) });
    since = -1;
  }
  return gaps;
}

/** Fillers of a gap, best first: those nothing speaks against, what is not there for years, those longest picked in it. @param {Book} book @param {Room} room @param {string} id @param {Filler[]} fillers @param {string} today */
export function seeFillers(book, room, id, fillers, today) {
  return fillers
    .map((filler) => ({ filler, cautions: rotationCautions(book, room, id, { crop: filler.crop, know: book.rulebook.crops[filler.crop], from: filler.plant }) }))
    .sort((a, b) => Number(a.filler.stays) - Number(b.filler.stays) || Number(a.cautions.length > 0) - Number(b.cautions.length > 0) || (a.filler.pick < b.filler.pick ? -1 : a.filler.pick > b.filler.pick ? 1 : 0) || (a.filler.name < b.filler.name ? -1 : 1))
    .map(({ filler, cautions }) => ({
      ...filler,
      words: capital(filler.name),
      says: kept([`${filler.verb === "sow" ? "sow" : "plant"} ${plainDay(filler.sow, today)}`, filler.plant !== filler.sow ? `in here ${plainDay(filler.plant, today)}` : "", `picked from ${plainDay(filler.pick, today)}`, filler.stays ? "stays for years" : ""].filter(Boolean).join(", ")),
      caution: cautions[0] ? kept(cautions[0]) : "",
    }));
}

/** For the batch that is next in a bed: what speaks against it by what stood there before. @param {Book} book @param {Room} room @param {string} id @returns {string[]} */
export function seeRotation(book, room, id) {
  const next = room.stays.filter((stay) => stay.place === id && stay.layout && !stay.told);
  return joined(next).flatMap((stay) => {
    const crop = book.fields(book.fields(stay.batch).variety).crop || "";
    const said = rotationCautions(book, room, id, { crop, know: cropOf(book, stay.batch), from: stay.from, but: stay.batch });
    return said.length ? [kept(`${capital(countedCrop(book, stay.batch, stay.count))}: ${said.join(" ")}`)] : [];
  });
}
