// @ts-check
/** Names and nesting of the household's places, people and plants, as rooms show them. */
import { dayOfYear, plainDay } from "../lib/dates.js";
import { kept } from "../lib/words.js";

/** @typedef {any} Book */

/** @param {Book} book @param {string | null | undefined} id @returns {string} */
export function placeName(book, id) {
  return book.fields(id).name || "";
}

/** The outermost place a place (or fixture) lies in. @param {Book} book @param {string | null | undefined} id @returns {string | null} */
export function houseOf(book, id) {
  return pathOf(book, id).pop() ?? null;
}

/** A place and what it lies in, outwards. @param {Book} book @param {string | null | undefined} id @returns {string[]} */
export function pathOf(book, id) {
  /** @type {string[]} */
  const path = [];
  let at = id;
  while (at && !path.includes(at)) {
    const record = book.get(at);
    if (!record) break;
    path.push(at);
    at = record.kind === "fixture" ? record.fields.place : outerOf(book, at);
  }
  return path;
}

/** What a place lies in; null for the outermost. Of places that lie in each other in a circle the one with the smallest id is that. @param {Book} book @param {string} id @returns {string | null} */
export function outerOf(book, id) {
  /** @type {string[]} */
  const path = [];
  for (let at = /** @type {string | null} */ (id); at !== null && !path.includes(at); at = known(book, book.fields(at).within)) path.push(at);
  const outer = known(book, book.fields(id).within);
  const round = outer !== null && known(book, book.fields(path[path.length - 1]).within) === id;
  return round && path.every((one) => id <= one) ? null : outer;
}

/** @param {Book} book @param {string | null | undefined} id @returns {string | null} */
function known(book, id) {
  const { name, sort } = book.fields(id);
  return id && (name || sort) ? id : null;
}

/** `Tunnel, bed 3`. @param {Book} book @param {string | null | undefined} id @returns {string} */
export function fullPlace(book, id) {
  return kept(pathOf(book, id).reverse().map((step) => placeName(book, step)).filter(Boolean).join(", "));
}

/** What a tick writes, said in full: its title, where it was where that is not told yet, and what was found. @param {Book} book @param {any} job @param {Record<string, any>} [more] */
export function tickSaid(book, job, more = {}) {
  const told = more.count !== undefined && more.count !== job.count ? `${job.title}: ${more.count} of ${job.count}` : job.title;
  const where = pathOf(book, job.writes.to_place || job.place).reverse().map((step) => placeName(book, step)).filter((name) => name && !job.title.includes(name)).join(", ");
  return kept([told, where, more.level === "none" ? "none seen" : ""].filter(Boolean).join("; "));
}

/** What is only believed of a batch's last move, to be said beside its plants; nothing where it was told. @param {any} batch as `stand` has it @param {string} today @returns {string[]} */
export function believedWords(batch, today) {
  const last = batch?.believed?.at(-1);
  return last ? [`${last.stage} about ${plainDay(last.on, today)}, by the calendar: nobody told`] : [];
}

/** Houses in walking order. @param {Book} book @returns {any[]} */
export function houses(book) {
  return book
    .ofKind("place")
    .filter((/** @type {any} */ place) => outerOf(book, place.id) === null)
    .sort(byWalk);
}

/** Places right inside a place, in walking order. @param {Book} book @param {string} id @returns {any[]} */
export function inside(book, id) {
  return book.ofKind("place").filter((/** @type {any} */ place) => outerOf(book, place.id) === id).sort(byWalk);
}

/** A place and all in it. @param {Book} book @param {string} id @returns {string[]} */
export function within(book, id) {
  return [id, ...inside(book, id).flatMap((place) => within(book, place.id))];
}

/** Every crop that is known, to choose from: id and name, by name. @param {Book} book @returns {string[][]} */
export function cropChoices(book) {
  return Object.entries(book.rulebook.crops || {}).map(([id, crop]) => [id, /** @type {any} */ (crop).many]).sort((a, b) => a[1].localeCompare(b[1]));
}

/** Every place to choose from: id and full name, by name; fixtures that plants can stand on too. @param {Book} book @param {boolean} fixtures @returns {string[][]} */
export function placeChoices(book, fixtures) {
  const holding = fixtures ? book.ofKind("fixture").filter((/** @type {any} */ one) => one.fields.holds === true) : [];
  return [...book.ofKind("place"), ...holding].map(({ id }) => [id, fullPlace(book, id)]).sort((a, b) => a[1].localeCompare(b[1], undefined, { numeric: true }));
}

/** @param {any} a @param {any} b @returns {number} */
export function byWalk(a, b) {
  return (a.fields.walk ?? 9999) - (b.fields.walk ?? 9999) || (a.id < b.id ? -1 : 1);
}

/** @param {Book} book @param {string | null | undefined} id @returns {string} */
export function personName(book, id) {
  return book.fields(id).name || "";
}

/** What grows in a batch, in words: `tomatoes`. @param {Book} book @param {string | null | undefined} batch @returns {string} */
export function cropWords(book, batch) {
  return cropOf(book, batch).many || "plants";
}

/** `14 tomatoes`, `1 apple tree`, or `tomatoes` where nobody counts. @param {Book} book @param {string | null | undefined} batch @param {number | null | undefined} count @returns {string} */
export function countedCrop(book, batch, count) {
  const many = cropWords(book, batch);
  if (count === null || count === undefined) return many;
  return `${count} ${count === 1 ? cropOf(book, batch).one || many : many}`;
}

/** What is picked of a batch: `apples` of apple trees. @param {Book} book @param {string | null | undefined} batch @returns {string} */
export function harvestWords(book, batch) {
  return cropOf(book, batch).harvest || cropWords(book, batch);
}

/** The rulebook's knowledge of a batch's crop. @param {Book} book @param {string | null | undefined} batch @returns {any} */
export function cropOf(book, batch) {
  const fields = book.fields(batch);
  const variety = book.fields(fields.variety);
  return book.rulebook.varieties?.[fields.variety] || book.rulebook.crops?.[variety.crop] || {};
}

/** A batch by name: its own, else its variety's. @param {Book} book @param {string | null | undefined} batch @returns {string} */
export function batchName(book, batch) {
  const fields = book.fields(batch);
  return fields.name || book.fields(fields.variety).name || cropWords(book, batch);
}

/** The same where it says more than the crop: no "tomatoes, Tomatoes". @param {Book} book @param {string | null | undefined} batch @returns {string} */
export function nameBeside(book, batch) {
  const name = batchName(book, batch);
  return name.toLowerCase() === cropWords(book, batch).toLowerCase() ? "" : name;
}

/** Botanical families as a grower says them. */
const FAMILIES = /** @type {Record<string, string>} */ ({
  Amaranthaceae: "Beet family",
  Amaryllidaceae: "Onion family",
  Apiaceae: "Carrot family",
  Asteraceae: "Daisy family",
  Brassicaceae: "Cabbage family",
  Caprifoliaceae: "Valerian family",
  Convolvulaceae: "Bindweed family",
  Cucurbitaceae: "Gourd family",
  Fabaceae: "Bean family",
  Lamiaceae: "Mint family",
  Poaceae: "Grass family",
  Polygonaceae: "Dock family",
  Rosaceae: "Rose family",
  Solanaceae: "Potato family",
});

/** A botanical family in words. @param {string | undefined} family @returns {string} */
export function familyName(family) {
  return FAMILIES[family || ""] || family || "Others";
}

/** A batch's family in words. @param {Book} book @param {string} batch @returns {string} */
export function familyWords(book, batch) {
  return familyName(cropOf(book, batch).family);
}

/** `last frost 12 May, first 18 October`; empty where neither is said. @param {Record<string, any>} site @returns {string} */
export function frostWords(site) {
  return [site.last_frost && `last frost ${dayOfYear(site.last_frost)}`, site.first_frost && `first ${dayOfYear(site.first_frost)}`].filter(Boolean).join(", ");
}
