// @ts-check
/** What is to be seen in Jot: the slip, and each question with what may be answered. Pure. */
import { jobForBatch } from "../../household/answers.js";
import { OF_HARVEST } from "../../household/diary-lines.js";
import { batchName, byWalk, cropOf, cropWords, familyWords, fullPlace, harvestWords, houses, inside, nameBeside, pathOf, personName, placeName } from "../../household/names.js";
import { WATER_LINES } from "../../kernel/read/ground.js";
import { longDay } from "../../lib/dates.js";
import { holds } from "../../lib/finding.js";
import { toStored, unitName } from "../../lib/quantities.js";
import { capital, kept, weightWords } from "../../lib/words.js";
import { ON_GRID, batchesFor, countsFor, isDrilled, potSizes, stageOfNew, verbOrder, verbWord } from "./choices.js";
import { troublesFor } from "./sightings.js";
import { aboutWhat } from "./slip.js";
import { dueHere } from "./stands.js";

/**
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {import("./slip.js").Slip} Slip
 * @typedef {{today: string, here: import("./stands.js").Here, sure: boolean, all: boolean, asked: string}} Given here: where one stands; sure:
 *   it was come from, and is not only where something was jotted last; all: the whole list, not its beginning; asked: what was typed
 */

const SHOWN = 24;
/** Shorter lists are read quicker than typed in. */
const WORTH_FINDING = 7;
const MOST_LIKELY = 3;
const AMOUNTS = [
  { words: "a pinch", pinches: 1, rows: null },
  { words: "half a row", pinches: null, rows: 0.5 },
  { words: "1 row", pinches: null, rows: 1 },
  { words: "2 rows", pinches: null, rows: 2 },
  { words: "3 rows", pinches: null, rows: 3 },
  { words: "4 rows", pinches: null, rows: 4 },
];
const MOST_PLACES = 6;
const A_KILO_G = 1000;
const WEIGHTS_G = [100, 250, 500, A_KILO_G];
const WEIGHTS_OZ = [4, 8, 16, 32];
const USUAL_WEIGHT_G = 500;
const USUAL_WEIGHT_OZ = 16;
const USUAL_C = { low: 8, high: 20 };
const ENDS_SOMEWHERE = ["sow", "prick_out", "pot_up", "plant_out"];

/** @param {Book} book @param {Slip} slip @param {{step: import("./slip.js").Step, person: string | null, here: import("./stands.js").Here | null}} given here: where one was before */
export function seeFrame(book, slip, { step, person, here }) {
  const { did, found, on } = slip;
  return {
    begun: did !== null,
    who: `${[personName(book, person), longDay(on)].filter(Boolean).join(", ")}.`,
    did: { words: did ? verbWord(did) : "what?", now: step === "did" },
    to: { words: aboutWhat(book, slip) || (!did && here ? aboutWhat(book, here) : ""), now: ["batch", "place", "fixture"].includes(step) },
    last: { words: found ? book.rulebook.care?.[found]?.name || found : "", now: ["details", "found", "where"].includes(step) },
  };
}

/** @param {Book} book @param {Given} given @param {Partial<Slip> | null} last what was jotted last */
export function seeVerbs(book, { today, all, here, sure }, last) {
  const order = verbOrder(book.ofKind("diary"), today, sure ? dueHere(book, book.jobs(today), here) : []);
  const again = last && [verbWord(last.did || ""), last.batch ? batchName(book, last.batch) : placeName(book, last.place || last.fixture)].filter(Boolean).join(", ");
  const grid = all ? ON_GRID + 1 : ON_GRID; // the place of the key for more
  const shown = (/** @type {string[]} */ verbs) => verbs.map((verb) => ({ verb, words: verbWord(verb) }));
  return { verbs: shown(order.slice(0, grid)), others: all ? shown(order.slice(grid)) : [], more: !all, again };
}

/** What can be meant, by where it stands; and by what was typed. @param {Book} book @param {Slip} slip @param {Given} given */
export function seeBatches(book, slip, { today, here, all, asked }) {
  const verb = slip.did || "";
  const can = batchesFor({ stand: book.stand(today), jobs: book.jobs(today), verb, place: here.place, book, year: Number(today.slice(0, 4)) });
  const lines = can.map(({ batch, job, group }) => ({ group, id: batch.id, crop: capital(cropWords(book, batch.id)), name: nameBeside(book, batch.id), where: kept(whereWords(book, batch)), says: job?.state === "ready" ? "on the list" : batch.state }));
  const found = lines.filter(({ id, crop, name, where }) => holds([crop, name, where, familyWords(book, id)].join(" "), asked));
  const titles = { here: `Here, ${fullPlace(book, here.place)}`, due: verb === "pick" ? "Due or bearing" : "Due", rest: "The rest" };
  const likely = found.filter(({ group }) => group !== "rest").length;
  const shown = all || asked ? found : found.slice(0, Math.max(SHOWN, likely));
  const groups = /** @type {const} */ (["here", "due", "rest"]).map((group) => ({ title: titles[group], lines: shown.filter((one) => one.group === group) })).filter(({ lines }) => lines.length);
  const none = can.length ? "Nothing of what can be meant is called so." : "Nothing grows that this could be done to. Put down a batch first, in Ground.";
  return {
    verb: verbWord(verb),
    find: can.length > WORTH_FINDING,
    groups: groups.length === 1 && groups[0].title === titles.rest ? [{ ...groups[0], title: "" }] : groups,
    none: found.length ? "" : none,
    toBook: stageOfNew(verb) ? "Something no plan knows" : can.length ? "" : "Put down a batch",
    more: found.length > shown.length ? `${found.length - shown.length} more` : "",
    wholePlace: verb === "look" || verb === "treat" ? { place: here.place || houses(book)[0]?.id || null } : null,
  };
}

/** @param {Book} book @param {any} batch */
function whereWords(book, batch) {
  const cells = batch.cells.map((/** @type {any} */ cell) => [cell.count ?? "", cell.place ? fullPlace(book, cell.place) : ""].filter(String).join(" in "));
  if (cells.length) return cells.slice(0, 2).join("; ");
  return batch.for_place ? `for ${fullPlace(book, batch.for_place)}` : "";
}

/** Where it can have been done: here, then where it is on the list, then by the walk. @param {Book} book @param {Slip} slip @param {Given} given */
export function seePlaces(book, slip, { today, here, asked }) {
  const beds = slip.did !== "measure"; // a thermometer hangs in a house
  const rows = houses(book).flatMap((house) => [house, ...(beds ? inside(book, house.id) : [])]);
  const due = new Set(book.jobs(today).filter((job) => job.verb === slip.did && job.state === "ready").map((job) => job.place));
  const isHere = (/** @type {string} */ id) => here.place !== null && (pathOf(book, here.place).includes(id) || pathOf(book, id).includes(here.place));
  const lines = rows.map(({ id }) => ({ id, name: fullPlace(book, id), says: due.has(id) ? "on the list" : "", rank: isHere(id) ? 0 : due.has(id) ? 1 : 2 }));
  const found = lines.filter(({ name }) => holds(name, asked)).sort((a, b) => a.rank - b.rank);
  return { verb: verbWord(slip.did || ""), find: rows.length > WORTH_FINDING, places: found, none: rows.length ? "No place is called so." : "No places yet. Put them down first, in Ground." };
}

/** Fixtures that the verb can be done to as they are now, those here first. @param {Book} book @param {Slip} slip @param {Given} given */
export function seeFixtures(book, slip, { today, here }) {
  const states = new Map(book.stand(today).fixtures.map((/** @type {any} */ fixture) => [fixture.id, fixture]));
  const fits = (/** @type {any} */ { id, fields }) => {
    const state = states.get(id);
    if (slip.did === "remove") return state?.up;
    if (slip.did === "connect") return WATER_LINES.includes(fields.sort) && !state?.connected;
    return !state?.up;
  };
  const isHere = (/** @type {any} */ { fields }) => here.place !== null && pathOf(book, fields.place).includes(here.place);
  const rows = book.ofKind("fixture").filter(fits).sort((a, b) => Number(isHere(b)) - Number(isHere(a)) || byWalk(a, b));
  return { verb: verbWord(slip.did || ""), fixtures: rows.map(({ id, fields }) => ({ id, name: fields.name || "?", place: fields.place || null, where: fullPlace(book, fields.place) })) };
}

/** How many, or how heavy; null where the plants are gone. @param {Book} book @param {Slip} slip @param {Given} given */
export function seeCount(book, slip, { today, here }) {
  const id = slip.batch || "";
  const did = slip.did || "";
  const { more } = slip;
  const batch = book.stand(today).batches.find((/** @type {any} */ one) => one.id === id);
  if (!batch) return null;
  const job = slip.job || jobForBatch(book.jobs(today), id, did);
  const { value, there, jumps } = countsFor({ verb: did, batch, job, diary: book.ofKind("diary") });
  const harvest = OF_HARVEST.includes(did);
  const weighed = harvest ? lastWeights(book, id) : [];
  const weighing = harvest && (more.weigh ?? (weighed.length > 0 || did !== "pick"));
  const pots = did === "pot_up" ? potSizes(book, id) : [];
  const pot = more.pot ?? job?.writes.pot_l ?? pots[0];
  return {
    crop: [weighing ? "of" : "", harvest ? harvestWords(book, id) : cropWords(book, id)].filter(Boolean).join(" "),
    picking: harvest,
    weighing,
    grams: more.weight ?? weighed[0] ?? (unitName("weight") === "g" ? USUAL_WEIGHT_G : toStored("weight", USUAL_WEIGHT_OZ)),
    count: more.typed ?? value,
    asks: weighing ? "What weight" : "How many",
    there,
    under: job?.count ? `the list says ${job.count}` : there !== null ? `there are ${there}` : undefined,
    jumps: weighing ? weightJumps() : jumps.map((jump) => ({ ...jump, says: jump.value })),
    pots: pots.map((litres) => ({ litres, words: kept(`${litres} L`), chosen: litres === pot })),
    pot: did === "pot_up" ? pot : null,
    stores: did === "pick" || did === "store" ? seeStores(book, slip) : [],
    to: ENDS_SOMEWHERE.includes(did) ? seeEnds(book, slip, [job?.writes.to_place, batch.for_place, here.place, ...batch.cells.map((/** @type {any} */ cell) => cell.place)]) : null,
    potbound: did === "plant_out" || did === "pot_up" ? more.condition === "potbound" : null,
  };
}

/** Usual weights: `250`, `1000` with its kilogram, or `8`, `16` with its pound. */
function weightJumps() {
  if (unitName("weight") === "g") return WEIGHTS_G.map((grams) => ({ value: grams, says: grams, words: grams === A_KILO_G ? weightWords(grams) : "" }));
  return WEIGHTS_OZ.map((ounces) => ({ value: toStored("weight", ounces), says: ounces, words: ounces >= 16 ? weightWords(toStored("weight", ounces)) : "" }));
}

/**
 * How much of what is sown by the row; null for what is counted, and where the plants are gone.
 * @param {Book} book @param {Slip} slip @param {Given} given
 */
export function seeRows(book, slip, { today }) {
  const batch = slip.did === "sow" && isDrilled(book, slip.batch || "") && book.stand(today).batches.find((/** @type {any} */ one) => one.id === slip.batch);
  if (!batch) return null;
  const { rows, pinches } = slip.more;
  return {
    crop: cropWords(book, batch.id),
    amounts: AMOUNTS.map((one) => ({ words: kept(one.words), rows: one.rows, pinches: one.pinches, chosen: (rows ?? null) === one.rows && (pinches ?? null) === one.pinches })),
    to: seeEnds(book, slip, [batch.for_place, ...batch.cells.map((/** @type {any} */ cell) => cell.place)]),
  };
}

/** Stores that what is picked can go into; none is chosen for what is eaten, the first for what is stored. @param {Book} book @param {Slip} slip */
function seeStores(book, slip) {
  const places = book.ofKind("place").filter(({ fields }) => fields.sort === "store").sort(byWalk).map(({ id }) => id);
  const first = slip.did === "store" ? (places[0] ?? null) : null;
  const chosen = "to_place" in slip.more ? slip.more.to_place : first;
  return places.map((id) => ({ id, name: placeName(book, id), chosen: id === chosen }));
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

/** What these plants can have, the likeliest first. @param {Book} book @param {Slip} slip @param {string} today */
export function seeSightings(book, { did, batch, place, found }, today) {
  const care = book.rulebook.care || {};
  const likely = troublesFor(book, { batch, place }, today);
  const order = found && care[found] ? [found, ...likely.filter((one) => one !== found)] : likely;
  const named = order.map((id) => ({ id, name: care[id].name }));
  return {
    treating: did === "treat",
    on: batch ? cropWords(book, batch) : fullPlace(book, place),
    none: { found, words: found ? `None seen of ${care[found]?.name || found}` : "Looked, all well" },
    likely: named.slice(0, MOST_LIKELY),
    others: named.slice(MOST_LIKELY),
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
  return { verb: verbWord(did || ""), about: about ? ` ${about}` : "", places: did === "note" && !batch ? places : null, place, roots: did === "clear" && Boolean(cropOf(book, batch).many) };
}
