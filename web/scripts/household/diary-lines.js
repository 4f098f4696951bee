// @ts-check
/** The Diary's lines: records as sentences, grouped by day, searched. Pure. */
import { counted, kept, pastVerb, weightWords } from "../lib/words.js";
import { plainDay } from "../lib/dates.js";
import { holds } from "../lib/finding.js";
import { cropOf, cropWords, fullPlace, harvestWords, nameBeside, personName, placeName } from "./names.js";

/**
 * @typedef {{thumbs: string[], id: string, on: string, at: string, verb: string, what: string, where: string, who: string, note: string,
 *   extra: string, record: any, kept: boolean, sort: "deed" | "let go" | "put off"}} Line
 */

/** What is done with what was picked. */
export const OF_HARVEST = ["pick", "store", "use"];
/** What was seen and has no name in the book of troubles. */
export const OTHER = "other";

/** A diary record as a sentence in two parts: the verb, and what it was done to. @param {any} book @param {any} fields */
export function deedWords(book, fields) {
  const verb = pastVerb(fields.did);
  const care = book.rulebook.care?.[fields.found];
  if (fields.did === "measure") {
    const low = fields.tmin ?? "?";
    return [verb, `${low}\u00a0°C to ${fields.tmax ?? "?"}\u00a0°C`];
  }
  if (fields.fixture) return [fields.did === "look" ? "Checked" : verb, placeName(book, fields.fixture)];
  const plants = fields.batch ? plantsOf(book, fields) : placeName(book, fields.place) || upkeepWords(book, fields.job);
  if (fields.did === "look" && fields.found === OTHER) return ["Saw", ["something else", plants && `on ${plants}`].filter(Boolean).join(" ")];
  if (fields.did === "look" && fields.found) {
    const level = fields.level && fields.level !== "none" ? fields.level : "no";
    return ["Saw", [level, care?.name || fields.found, plants && `on ${plants}`].filter(Boolean).join(" ")];
  }
  if (fields.did === "treat" && care) return [verb, `${plants} for ${care.name}`];
  if (fields.did === "note" && fields.note && !plants) return [verb, ""];
  return [verb, plants];
}

/**
 * What was written just now, the whole of it: how many, of what, where, what was found.
 * @param {any} book @param {any} fields @param {string | null} [stands] where the plants stand, for a deed that does not say
 */
export function deedSaid(book, fields, stands = null) {
  const [verb, what] = deedWords(book, fields);
  const where = fullPlace(book, fields.to_place || fields.place || stands);
  const beside = [what.includes(where) ? "" : where, deedExtra(fields), fields.note && `“${fields.note}”`].filter(Boolean);
  const done = fields.did === "note" ? "a note" : verb.toLowerCase();
  return kept([[done, what].filter(Boolean).join(" "), ...beside].join("; "));
}

/** What else was said of it. @param {any} fields */
function deedExtra(fields) {
  const few = (/** @type {number | undefined} */ number, /** @type {string} */ one, /** @type {string} */ half) => number && (number === 0.5 ? half : counted(number, one, one === "pinch" ? "pinches" : undefined));
  return [
    fields.weight_g ? weightWords(fields.weight_g) : "",
    few(fields.rows, "row", "half a row"),
    few(fields.pinches, "pinch", "half a pinch"),
    fields.pot_l ? `${fields.pot_l}\u00a0L pots` : "",
    fields.condition === "potbound" ? "roots pot-bound" : "",
    fields.did === "look" && !fields.found && !fields.fixture && !fields.note ? "all well" : "",
    fields.product || "",
  ].filter(Boolean).join(", ");
}

/** What the other work was done to, where that is no place: `the compost heap`. @param {any} book @param {string | undefined} job @returns {string} */
function upkeepWords(book, job) {
  const [kind, work] = (job || "").split(".");
  const rule = kind === "upkeep" ? book.rulebook.upkeep?.[work] : null;
  return rule ? rule.say.slice(rule.lead + 1) : "";
}

/** @param {any} book @param {any} fields */
function plantsOf(book, fields) {
  const know = cropOf(book, fields.batch);
  const name = nameBeside(book, fields.batch);
  const many = OF_HARVEST.includes(fields.did) ? harvestWords(book, fields.batch) : cropWords(book, fields.batch);
  const words = fields.count ? `${fields.count} ${fields.count === 1 && many !== know.harvest ? know.one || "plant" : many}` : many;
  return name ? `${words}, ${name}` : words;
}

/**
 * Every line of the diary, newest first: deeds, and jobs let go or put off.
 * @param {any} book
 * @param {any[]} records visible records of kinds diary and job
 * @param {{unsent: Set<string>, titles: Map<string, string>}} given unsent: ids that are on this phone only; titles: of the jobs on the list
 * @returns {Line[]}
 */
export function linesOf(book, records, given) {
  /** @type {Line[]} */
  const lines = [];
  for (const record of records) {
    const fields = record.fields;
    if (record.kind === "diary" && fields.on) lines.push(deedLine(book, record, given));
    if (record.kind === "job" && fields.hand !== true && fields.let_go === true && fields.let_go_on) lines.push(changeLine(book, record, "let go", given));
    if (record.kind === "job" && fields.put_off_until && fields.let_go !== true) lines.push(changeLine(book, record, "put off", given));
  }
  return lines.sort((a, b) => (a.on !== b.on ? (a.on < b.on ? 1 : -1) : a.at !== b.at ? (a.at < b.at ? 1 : -1) : a.id < b.id ? 1 : -1));
}

/** @param {any} book @param {any} record @param {{unsent: Set<string>}} given @returns {Line} */
function deedLine(book, record, { unsent }) {
  const fields = record.fields;
  const [verb, what] = deedWords(book, fields);
  return {
    id: record.id,
    on: fields.on,
    at: fields.at || "",
    verb,
    what: kept(what),
    where: fullPlace(book, fields.to_place || fields.place),
    who: personName(book, fields.by),
    note: fields.note || "",
    extra: deedExtra(fields),
    thumbs: (fields.photos || []).map((/** @type {string} */ id) => book.fields(id).thumb).filter(Boolean),
    record,
    kept: unsent.has(record.id),
    sort: "deed",
  };
}

/** @param {any} book @param {any} record @param {"let go" | "put off"} sort @param {{unsent: Set<string>, titles: Map<string, string>}} given @returns {Line} */
function changeLine(book, record, sort, { unsent, titles }) {
  const fields = record.fields;
  const at = parseInt((record.stamps?.[sort === "let go" ? "let_go" : "put_off_until"] || record.stamp).slice(0, 12), 16);
  const written = new Date(at).toISOString().slice(0, 10);
  return {
    id: record.id,
    on: (sort === "let go" ? fields.let_go_on : fields.put_off_on) || written,
    at: "",
    verb: sort === "let go" ? "Let go" : "Put off",
    what: kept(fields.title || titles.get(record.id) || idWords(record.id)),
    where: "",
    who: "",
    note: "",
    thumbs: [],
    extra: sort === "put off" ? `until ${plainDay(fields.put_off_until, written)}` : "",
    record,
    kept: unsent.has(record.id),
    sort,
  };
}

/** What a job's id says of it, where it is not on the list any more. @param {string} id */
function idWords(id) {
  return id.split(".").slice(-1)[0].replaceAll("_", " ");
}

/**
 * Whether a line answers what was typed: every word somewhere in it.
 * @param {Line} line
 * @param {string} asked
 * @returns {boolean}
 */
export function answers(line, asked) {
  return holds([line.verb, line.what, line.where, line.who, line.note, line.extra, line.on, plainDay(line.on, line.on)].join(" "), asked);
}

/** Lines by day, in their order. @param {Line[]} lines @returns {{on: string, lines: Line[]}[]} */
export function byDay(lines) {
  /** @type {{on: string, lines: Line[]}[]} */
  const days = [];
  for (const line of lines) {
    const last = days[days.length - 1];
    if (last && last.on === line.on) last.lines.push(line);
    else days.push({ on: line.on, lines: [line] });
  }
  return days;
}

/** The coldest and warmest that was read on a day. @param {Line[]} lines @returns {string} */
export function readingWords(lines) {
  const read = lines.map((line) => line.record.fields).filter((fields) => fields.did === "measure");
  const lows = read.map((fields) => fields.tmin).filter((value) => typeof value === "number");
  const highs = read.map((fields) => fields.tmax).filter((value) => typeof value === "number");
  if (!lows.length && !highs.length) return counted(lines.length, "entry", "entries");
  return `${lows.length ? Math.min(...lows) : "?"}\u00a0°C to ${highs.length ? Math.max(...highs) : "?"}\u00a0°C`;
}
