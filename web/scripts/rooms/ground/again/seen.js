// @ts-check
/** What is to be seen when last year's plan is taken again: each batch of that year, where it stood, and what speaks against it. Pure. */
import { countedCrop, cropOf, fullPlace, nameBeside, placeChoices, placeName, within } from "../../../household/names.js";
import { rotationCautions } from "../../../household/rotation-working.js";
import { capital, kept } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../household/bed-working.js").Room} Room
 * @typedef {ReturnType<typeof seeAgain>} Seen
 * @typedef {{year: number, left: Set<string>, places: Map<string, string>}} Choice year: the one that is planned; left: batches not taken; places: where others than before are to stand
 */

/** What of a batch is the plan, and not how it went. */
const PLANNED = ["variety", "name", "want", "spacing_cm", "row_cm", "rows", "pattern", "turned", "at_cm", "run_cm", "end_cm", "left_cm", "wide_cm", "stems", "pot_l", "begins", "turn"];

/** @param {Book} book @param {Room} room @param {string} id the place, or house @param {Choice} choice @param {string} today */
export function seeAgain(book, room, id, choice, today) {
  const now = Number(today.slice(0, 4));
  const here = new Set(within(book, id));
  const old = book.ofKind("batch").filter(({ fields }) => fields.year === choice.year - 1 && here.has(fields.for_place) && !forYears(book, fields));
  return {
    name: kept(fullPlace(book, id) || placeName(book, id)),
    year: choice.year,
    years: [now, now + 1].map((year) => ({ year, words: `for ${year}`, chosen: year === choice.year })),
    rows: old.map((batch) => seeRow(book, room, batch, choice)),
    places: placeChoices(book, false),
    empty: `Nothing of ${choice.year - 1} is in the book here.`,
  };
}

/** Whether its plants live on: nobody plants them again. @param {Book} book @param {Record<string, any>} fields */
function forYears(book, fields) {
  const know = book.rulebook.varieties?.[fields.variety] || book.rulebook.crops?.[book.fields(fields.variety).crop] || {};
  return (know.steps || []).some((/** @type {any} */ step) => step.verb === "pick" && step.season);
}

/** @param {Book} book @param {Room} room @param {import("../../../types.js").RecordForm} batch @param {Choice} choice */
function seeRow(book, room, { id, fields }, { year, left, places }) {
  const place = places.get(id) || fields.for_place;
  const there = book.ofKind("batch").some((one) => one.fields.year === year && one.fields.variety === fields.variety && one.fields.for_place === place);
  const crop = book.fields(fields.variety).crop || "";
  const cautions = rotationCautions(book, room, place, { crop, know: cropOf(book, id), from: `${year}-06-01` });
  return {
    id,
    words: kept(capital([countedCrop(book, id, fields.want ?? null), nameBeside(book, id)].filter(Boolean).join(", "))),
    stood: kept(`stood in ${fullPlace(book, fields.for_place)}`),
    place,
    there,
    taken: !there && !left.has(id),
    caution: kept(cautions.slice(0, 1).join(" ")),
  };
}

/** The batches of the new year, as those of the old one were planned; what stood beside another stands beside its successor. @param {Book} book @param {Seen} seen @param {() => string} newId @returns {import("../../../types.js").Wish[]} */
export function againWishes(book, seen, newId) {
  const taken = seen.rows.filter((row) => row.taken);
  const ids = new Map(taken.map((row) => [row.id, newId()]));
  return taken.map((row) => {
    const old = book.fields(row.id);
    const planned = Object.fromEntries(PLANNED.filter((name) => (old[name] ?? null) !== null).map((name) => [name, old[name]]));
    const beside = ["near", "follows"].filter((name) => ids.has(old[name])).map((name) => [name, ids.get(old[name])]);
    const day = old.sow_on ? { sow_on: nextYear(old.sow_on) } : {};
    return { id: /** @type {string} */ (ids.get(row.id)), kind: "batch", fields: { ...planned, ...Object.fromEntries(beside), ...day, year: seen.year, for_place: row.place } };
  });
}

/** The same day a year on; 28 February for the 29th. @param {string} day */
function nextYear(day) {
  return `${Number(day.slice(0, 4)) + 1}${day.slice(4).replace("-02-29", "-02-28")}`;
}
