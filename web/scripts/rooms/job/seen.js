// @ts-check
/** What is to be seen of a job that is opened: from the book, the job and the day to plain data. Pure. */
import { batchName, believedWords, cropWords, fullPlace, houseOf, pathOf, personName, placeName } from "../../household/names.js";
import { chainOf } from "../../household/chain.js";
import { needWords } from "../../household/needs.js";
import { walkNumber } from "../../household/walk.js";
import { plainDay } from "../../lib/dates.js";
import { capital, kept, leewayWords, losesWords, minutesWords } from "../../lib/words.js";

/**
 * @typedef {import("../../types.js").Job} Job
 * @typedef {import("../../store/book.js").Book} Book
 * @typedef {{text: string, says: string, before: Job | null}} Way what stands in the way; before: the open job that clears it
 * @typedef {ReturnType<typeof seeJob>} Seen
 * @typedef {{sort: "undo" | "take back" | "look" | "done" | "waits" | "ways" | "lapsed", done: string, beside: "some" | "more" | ""}} Keys
 */

/** A job by its id: what is open of it before what was done. @param {Job[]} jobs @param {string} id @returns {Job | undefined} */
export function findJob(jobs, id) {
  return jobs.find((job) => job.id === id && job.state !== "done") || jobs.find((job) => job.id === id);
}

/**
 * @param {Book} book
 * @param {Job} job
 * @param {string} today
 */
export function seeJob(book, job, today) {
  const open = job.state !== "done" && job.state !== "lapsed";
  const { text, past } = leewayWords(job, today);
  return {
    job,
    today,
    open,
    says: job.state === "let go" ? "let go" : text,
    lapsed: job.state === "lapsed",
    past,
    minutes: minutesWords(job.minutes),
    letsGo: job.state === "ready" || job.state === "waiting" || job.state === "early" || job.state === "later",
    loses: open ? seeLoses(book, job, today) : "",
    span: `From ${plainDay(job.from, today)}, best ${plainDay(job.aim, today)}${job.by ? ", by " + plainDay(job.by, today) : ""}.`,
    cautions: job.cautions.map((id) => ({ id, ...book.rulebook.cautions?.[id] })).filter((caution) => caution.title),
    pinched: job.pinched && `${capital(kept(job.pinched.replace(/^pinched: /, "")))}.`,
    ways: open ? job.in_the_way.map((way) => seeWay(way, book.jobs(today), today)) : [],
    onlyOne: job.in_the_way.length === 1 && Boolean(job.in_the_way[0].job),
    why: job.why.map(kept),
    chain: open ? seeChain(book.jobs(today), job, today) : [],
    free: open && !job.in_the_way.length,
    needs: job.needs.map(needWords),
    plants: job.batch ? seePlants(book, job.batch, today) : null,
    people: open ? book.ofKind("person").map((person) => ({ id: person.id, name: person.fields.name || "?", chosen: job.for === person.id })) : null,
    toldBy: job.state !== "done" ? null : (job.told_by || []).map((by) => personName(book, by)).filter(Boolean).join(" and ") || "this phone",
  };
}

/** What is gone after a tick. @param {Book} book @param {Job} job @param {string} today */
function seeLoses(book, job, today) {
  if (!losesWords(job)) return "";
  const plants = book.stand(today).batches.find((/** @type {any} */ one) => one.id === job.batch)?.plants ?? null;
  const all = [plants ?? "all", cropWords(book, job.batch)].join(" ");
  return kept(job.writes.did === "clear" ? `Done ends the batch: ${all} are gone then.` : `Done ${losesWords(job)}. Tick only some to keep the rest.`);
}

/** Where it is: the house's plate, and the beds within. @param {Book} book @param {Job | null} job */
export function seeWhere(book, job) {
  const house = job && houseOf(book, job.place);
  const beds = job ? pathOf(book, job.place).slice(0, -1).reverse().map((step) => placeName(book, step)).join(", ") : "";
  return { house: house ? { walk: walkNumber(book, house), name: book.fields(house).name || "" } : null, beds: kept(beds) };
}

/** The keys a job's state asks for. @param {Job} job @returns {Keys} */
export function seeKeys(job) {
  const done = job.count === null ? "Done" : job.count === 1 ? "Done" : `Done, all\u00a0${job.count}`;
  const beside = job.count !== null && job.count > 1 ? "some" : "more";
  if (job.state === "done") return { sort: "undo", done, beside: "" };
  if (job.state === "let go") return { sort: "take back", done, beside: "" };
  if (job.state === "lapsed") return { sort: "lapsed", done, beside: "" };
  if (job.state === "ready" && job.ways?.length) return { sort: job.verb === "sow" && job.batch !== null ? "done" : "ways", done, beside: job.pinched ? "" : beside };
  if (job.state !== "ready" && job.state !== "early") return { sort: "waits", done, beside: "" };
  return { sort: job.verb === "look" && job.writes.found ? "look" : "done", done, beside };
}

/** @param {Job["in_the_way"][0]} way @param {Job[]} jobs @param {string} today @returns {Way} */
function seeWay(way, jobs, today) {
  const before = (way.job && jobs.find((other) => other.id === way.job && other.state !== "done")) || null;
  if (!before) return { text: kept(way.text), says: "", before };
  return { text: kept(way.text), says: `${before.state}, ${leewayWords(before, today).text}, ${minutesWords(before.minutes)}`, before };
}

/** What hangs on what, each with how long it has. @param {Job[]} jobs @param {Job} job @param {string} today */
export function seeChain(jobs, job, today) {
  return chainOf(jobs, job).map(({ job: one, text, own }) => ({ id: one.id, text: kept(capital(text)), says: kept(one.by ? `by ${plainDay(one.by, today)}` : `best ${plainDay(one.aim, today)}`), own, ready: one.state === "ready" }));
}

/** @param {Book} book @param {string} id @param {string} today */
function seePlants(book, id, today) {
  const batch = book.stand(today).batches.find((/** @type {any} */ one) => one.id === id);
  const lines = (batch?.cells || []).map((/** @type {any} */ cell) => {
    const words = cell.count === null ? cropWords(book, id) : `${cell.count} ${cell.stage}`;
    return kept([words, cell.place && fullPlace(book, cell.place)].filter(Boolean).join(", "));
  });
  return { id, name: batchName(book, id), lines: lines.length ? [...lines, ...believedWords(batch, today)] : ["not begun yet"] };
}
