// @ts-check
/** What is to be seen of one place: what is to do, its beds, what stands there and what is put up. Pure. */
import { byWalk, countedCrop, harvestWords, houseOf, inside, nameBeside, pathOf, placeName } from "../../../household/names.js";
import { chainOf } from "../../../household/chain.js";
import { walkNumber } from "../../../household/walk.js";
import { WATER_LINES } from "../../../kernel/read/ground.js";
import { plainDay } from "../../../lib/dates.js";
import { capital, counted, kept, leewayWords, weightWords } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {ReturnType<typeof seeFixture>} Fixture
 */

const KEYS = /** @type {const} */ ({ connect: "Connect", remove: "Take down", install: "Put up" });

/**
 * @param {Book} book
 * @param {string} id
 * @param {string} today
 */
export function seePlace(book, id, today) {
  if (!book.fields(id).name) return null;
  const stand = book.stand(today);
  const house = houseOf(book, id);
  const beds = inside(book, id);
  const plants = standing(stand, id)?.plants || [];
  const jobs = book.jobs(today).filter((job) => pathOf(book, job.place).includes(id) && (job.state === "ready" || job.state === "waiting"));
  const fixtures = book.ofKind("fixture").filter(({ fields }) => fields.place && pathOf(book, fields.place).includes(id));
  return {
    id,
    name: placeName(book, id),
    house: { walk: walkNumber(book, house), name: placeName(book, house) },
    bed: house === id ? "" : kept(placeName(book, id)),
    jobs: jobs.map((job) => seeJob(job, today)),
    beds: beds.map((bed) => ({ id: bed.id, name: kept(bed.fields.name || "?"), holds: kept(holdsWords(book, standing(stand, bed.id)?.plants || [])) || "empty" })),
    chains: chainsHere(jobs, book.jobs(today), today),
    frost: house === id ? frostWords(book, id, standing(stand, id)?.cover) : "",
    plants: plants.map((/** @type {any} */ one) => ({ batch: one.batch, words: kept(plantWords(book, one)), name: nameBeside(book, one.batch), stage: one.stage })),
    none: beds.length ? "Nothing but what its beds hold." : "Nothing grows here now.",
    stored: stand.stores.filter((/** @type {any} */ lot) => lot.place === id).map((/** @type {any} */ lot) => seeLot(book, lot, today)),
    store: book.fields(id).sort === "store",
    ground: !beds.length && !["store", "bench", "shelf", "propagator"].includes(book.fields(id).sort),
    fixtures: fixtures.sort(byWalk).map((fixture) => seeFixture(fixture, stand)),
  };
}

const MOST_CHAINS = 2;

/** What is in the way of the work here: the longest chains, none a part of another. @param {import("../../../types.js").Job[]} here @param {import("../../../types.js").Job[]} jobs @param {string} today */
function chainsHere(here, jobs, today) {
  const chains = here.map((job) => chainOf(jobs, job)).filter((links) => links.length).sort((a, b) => b.length - a.length);
  /** @type {Set<string>} */
  const told = new Set();
  const apart = chains.filter((links) => {
    const fresh = !links.some(({ job }) => told.has(job.id));
    for (const { job } of links) told.add(job.id);
    return fresh;
  });
  return apart.slice(0, MOST_CHAINS).map((links) => links.map(({ job, text }) => ({ id: job.id, text: kept(capital(text)), says: kept(job.by ? `by ${plainDay(job.by, today)}` : `best ${plainDay(job.aim, today)}`), own: false, ready: job.state === "ready" })));
}

/** What lies in a store of one batch. @param {Book} book @param {any} lot @param {string} today */
function seeLot(book, { batch, since, until, grams, count }, today) {
  const much = grams !== null ? weightWords(grams) : (count ?? "");
  return { batch, words: kept(capital([much, harvestWords(book, batch)].filter(String).join(" "))), name: kept(`since ${plainDay(since, today)}, at best until ${plainDay(until, today)}`) };
}

/** @param {any} stand @param {string} id */
function standing(stand, id) {
  return stand.places.find((/** @type {any} */ one) => one.id === id);
}

/** @param {import("../../../types.js").Job} job @param {string} today */
function seeJob(job, today) {
  const { text, past } = leewayWords(job, today);
  return { id: job.id, title: kept(job.title), says: job.state === "waiting" ? "waiting" : text, past };
}

/** `12 lettuces`. @param {Book} book @param {{count: number | null, batch: string}} plants */
function plantWords(book, { count, batch }) {
  return countedCrop(book, batch, count);
}

/** @param {Book} book @param {any[]} plants */
function holdsWords(book, plants) {
  return plants.map((one) => plantWords(book, one)).join(", ");
}

/** When frost comes here, for a house or plot as a whole. @param {Book} book @param {string} id @param {string | undefined} cover */
function frostWords(book, id, cover) {
  const frost = book.rulebook.frost?.[book.rulebook.houses?.[id] ?? cover];
  if (!frost) return "";
  const [usual, rare] = [frost.half, frost.tenth].map((ends) => ends.map((/** @type {string} */ day) => plainDay(`2000-${day}`, "2000-01-01")));
  return kept(`Frost comes here after ${usual[0]} and before ${usual[1]} in one year of two, after ${rare[0]} and before ${rare[1]} in one of ten.`);
}

/** @param {any} fixture @param {any} stand */
function seeFixture(fixture, stand) {
  const state = stand.fixtures.find((/** @type {any} */ one) => one.id === fixture.id);
  const on = standing(stand, fixture.id)?.plants.length || 0;
  const water = WATER_LINES.includes(fixture.fields.sort);
  const how = state?.connected ? "connected" : state?.up ? "up" : water ? "not connected" : "put away";
  /** @type {keyof typeof KEYS} */
  const verb = water && !state?.connected ? "connect" : state?.up ? "remove" : "install";
  return { id: fixture.id, name: fixture.fields.name || "?", place: fixture.fields.place, says: [how, on ? `${counted(on, "batch", "batches")} on it` : ""].filter(Boolean).join(", "), verb, key: KEYS[verb] };
}
