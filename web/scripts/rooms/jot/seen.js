// @ts-check
/** What is to be seen in Jot: the slip, and each question with what may be answered. Pure. */
import { jobForBatch } from "../../household/answers.js";
import { batchName, byWalk, cropOf, cropWords, fullPlace, houses, inside, personName, placeName } from "../../household/names.js";
import { longDay } from "../../lib/dates.js";
import { kept } from "../../lib/words.js";
import { ON_GRID, batchesFor, countsFor, potSizes, troublesFor, verbOrder, verbWord } from "./choices.js";
import { aboutWhat } from "./slip.js";

/**
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {import("./slip.js").Slip} Slip
 * @typedef {{today: string, placeInHand: string | null, all: boolean}} Given all: the whole list, not its beginning
 */

const SHOWN = 12;
const MOST_PLACES = 6;
const A_KILO_G = 1000;
const WEIGHTS_G = [100, 250, 500, A_KILO_G];
const USUAL_WEIGHT_G = 500;
const USUAL_C = { low: 8, high: 20 };
const ENDS_SOMEWHERE = ["sow", "prick_out", "pot_up", "plant_out"];
const HOSES = ["drip_line", "soaker_hose"];

/** @param {Book} book @param {Slip} slip @param {import("./slip.js").Step} step @param {string | null} person */
export function seeFrame(book, slip, step, person) {
  const { did, found, on } = slip;
  return {
    begun: did !== null,
    who: `${[personName(book, person), longDay(on)].filter(Boolean).join(", ")}.`,
    did: { words: did ? verbWord(did) : "what?", now: step === "did" },
    to: { words: aboutWhat(book, slip), now: ["batch", "place", "fixture"].includes(step) },
    last: { words: found ? book.rulebook.care?.[found]?.name || found : "", now: ["details", "found", "where"].includes(step) },
  };
}

/** @param {Book} book @param {Given} given @param {Partial<Slip> | null} last what was jotted last */
export function seeVerbs(book, { today, all }, last) {
  const order = verbOrder(book.ofKind("diary"), today);
  const again = last && [verbWord(last.did || ""), last.batch ? batchName(book, last.batch) : placeName(book, last.place || last.fixture)].filter(Boolean).join(", ");
  return { verbs: order.slice(0, all ? order.length : ON_GRID).map((verb) => ({ verb, words: verbWord(verb) })), more: !all, again };
}

/** @param {Book} book @param {Slip} slip @param {Given} given */
export function seeBatches(book, slip, { today, placeInHand, all }) {
  const verb = slip.did || "";
  const rows = batchesFor({ stand: book.stand(today), jobs: book.jobs(today), verb, place: placeInHand, book, year: Number(today.slice(0, 4)) });
  const shown = all ? rows : rows.slice(0, SHOWN);
  return {
    verb: verbWord(verb),
    batches: shown.map(({ batch, job }) => ({ id: batch.id, name: batchName(book, batch.id), crop: cropWords(book, batch.id), where: kept(whereWords(book, batch)), says: job?.state === "ready" ? "on the list" : batch.state })),
    more: rows.length > shown.length ? `${rows.length - shown.length} more` : "",
    wholePlace: verb === "look" || verb === "treat" ? { place: placeInHand || houses(book)[0]?.id || null } : null,
  };
}

/** @param {Book} book @param {any} batch */
function whereWords(book, batch) {
  const cells = batch.cells.map((/** @type {any} */ cell) => [cell.count ?? "", cell.place ? fullPlace(book, cell.place) : ""].filter(String).join(" in "));
  if (cells.length) return cells.slice(0, 2).join("; ");
  return batch.for_place ? `for ${fullPlace(book, batch.for_place)}` : "";
}

/** @param {Book} book @param {Slip} slip */
export function seePlaces(book, slip) {
  const beds = slip.did !== "measure"; // a thermometer hangs in a house
  const rows = houses(book).flatMap((house) => [house, ...(beds ? inside(book, house.id) : [])]);
  return { verb: verbWord(slip.did || ""), places: rows.map(({ id }) => ({ id, name: fullPlace(book, id) })) };
}

/** Fixtures that the verb can be done to as they are now. @param {Book} book @param {Slip} slip @param {string} today */
export function seeFixtures(book, slip, today) {
  const states = new Map(book.stand(today).fixtures.map((/** @type {any} */ fixture) => [fixture.id, fixture]));
  const fits = (/** @type {any} */ { id, fields }) => {
    const state = states.get(id);
    if (slip.did === "remove") return state?.up;
    if (slip.did === "connect") return HOSES.includes(fields.sort) && !state?.connected;
    return !state?.up;
  };
  const rows = book.ofKind("fixture").filter(fits).sort(byWalk);
  return { verb: verbWord(slip.did || ""), fixtures: rows.map(({ id, fields }) => ({ id, name: fields.name || "?", place: fields.place || null, where: fullPlace(book, fields.place) })) };
}

/** How many, or how heavy; null where the plants are gone. @param {Book} book @param {Slip} slip @param {Given} given */
export function seeCount(book, slip, { today, placeInHand }) {
  const id = slip.batch || "";
  const did = slip.did || "";
  const { more } = slip;
  const batch = book.stand(today).batches.find((/** @type {any} */ one) => one.id === id);
  if (!batch) return null;
  const job = slip.job || jobForBatch(book.jobs(today), id, did);
  const { value, jumps } = countsFor({ verb: did, batch, job, diary: book.ofKind("diary") });
  const weighed = did === "pick" ? lastWeights(book, id) : [];
  const weighing = did === "pick" && (more.weigh ?? weighed.length > 0);
  const pots = did === "pot_up" ? potSizes(book, id) : [];
  const pot = more.pot ?? job?.writes.pot_l ?? pots[0];
  return {
    crop: cropWords(book, id),
    picking: did === "pick",
    weighing,
    grams: more.weight ?? weighed[0] ?? USUAL_WEIGHT_G,
    count: more.typed ?? value,
    under: job?.count ? `the list says ${job.count}` : undefined,
    jumps: weighing ? WEIGHTS_G.map((grams) => ({ value: grams, words: grams === A_KILO_G ? "1 kg" : "" })) : jumps,
    pots: pots.map((litres) => ({ litres, words: kept(`${litres} L`), chosen: litres === pot })),
    pot: did === "pot_up" ? pot : null,
    to: ENDS_SOMEWHERE.includes(did) ? seeEnds(book, slip, [job?.writes.to_place, batch.for_place, placeInHand, ...batch.cells.map((/** @type {any} */ cell) => cell.place)]) : null,
    potbound: did === "plant_out" || did === "pot_up" ? more.condition === "potbound" : null,
  };
}

/** Where moving plants end; the likeliest is chosen until another is. @param {Book} book @param {Slip} slip @param {(string | null)[]} likely */
function seeEnds(book, slip, likely) {
  const sorts = slip.did === "plant_out" ? ["bed", "border", "frame"] : ["propagator", "bench", "shelf"];
  const more = book.ofKind("place").filter(({ fields }) => sorts.includes(fields.sort)).sort(byWalk).map(({ id }) => id);
  const places = [...new Set([...likely, ...more])].filter((id) => id !== null && id !== undefined && id !== "").slice(0, MOST_PLACES);
  const chosen = slip.more.to_place ?? places[0] ?? null;
  return { chosen, places: places.map((id) => ({ id, name: fullPlace(book, id), chosen: id === chosen })) };
}

/** What was weighed of a batch, the last first, in grams. @param {Book} book @param {string} batch @returns {number[]} */
function lastWeights(book, batch) {
  const weighed = book.ofKind("diary").filter(({ fields }) => fields.batch === batch && fields.weight_g);
  return weighed.sort((a, b) => (a.fields.on < b.fields.on ? 1 : -1)).map(({ fields }) => fields.weight_g);
}

/** Where plants are moved to. @param {Book} book @param {Slip} slip @param {string} today */
export function seeWhere(book, slip, today) {
  const batch = book.stand(today).batches.find((/** @type {any} */ one) => one.id === slip.batch);
  const holding = book.ofKind("fixture").filter(({ fields }) => fields.holds === true);
  const places = [...houses(book).flatMap((house) => [house, ...inside(book, house.id)]), ...holding];
  return { crop: cropWords(book, slip.batch), plants: batch?.plants ?? null, from: batch?.cells[0]?.place ?? null, places: places.map(({ id }) => ({ id, name: fullPlace(book, id) })) };
}

/** @param {Book} book @param {Slip} slip */
export function seeSightings(book, { did, batch, found }) {
  const care = book.rulebook.care || {};
  const likely = troublesFor(book, batch);
  const order = found ? [found, ...likely.filter((one) => one !== found)] : likely;
  return {
    treating: did === "treat",
    none: { found, words: found ? `None seen of ${care[found]?.name || found}` : "Looked, all well" },
    troubles: order.filter((one) => care[one]).map((one) => ({ id: one, name: care[one].name })),
  };
}

/** @param {Book} book @param {Slip} slip */
export function seeReading(book, { place, more }) {
  const read = book.ofKind("diary").filter(({ fields }) => fields.did === "measure" && fields.place === place && fields.tmin !== undefined);
  const last = read.sort((a, b) => (a.fields.on < b.fields.on ? 1 : -1))[0]?.fields;
  return { where: fullPlace(book, place), low: more.low ?? last?.tmin ?? USUAL_C.low, high: more.high ?? last?.tmax ?? USUAL_C.high };
}

/** @param {Book} book @param {Slip} slip */
export function seeNote(book, { did, batch, place }) {
  const about = batch ? cropWords(book, batch) : fullPlace(book, place);
  const places = book.ofKind("place").sort(byWalk).map(({ id }) => ({ id, name: fullPlace(book, id) }));
  return { verb: verbWord(did || ""), about: about ? ` ${about}` : "", places: did === "note" ? places : null, place, roots: did === "clear" && Boolean(cropOf(book, batch).many) };
}
