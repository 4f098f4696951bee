// @ts-check
/** What is to be seen of one batch: where its plants are, how its season runs, what is to do, what was done. Pure. */
import { deedWords } from "../../../household/diary-lines.js";
import { batchName, believedWords, cropOf, cropWords, fullPlace } from "../../../household/names.js";
import { nearDay, plainDay } from "../../../lib/dates.js";
import { kept, leewayWords, weightWords } from "../../../lib/words.js";

/**
 * @typedef {import("../../../store/book.js").Book} Book
 * @typedef {import("../../../types.js").Job} Job
 */

/** @param {Book} book @param {string} id @param {string} today */
export function seeBatch(book, id, today) {
  const batch = book.stand(today).batches.find((/** @type {any} */ one) => one.id === id);
  if (!batch) return null;
  const jobs = book.jobs(today).filter((job) => job.batch === id && job.state !== "done");
  const deeds = book.ofKind("diary").filter(({ fields }) => fields.batch === id).sort((a, b) => (a.fields.on < b.fields.on ? 1 : -1));
  return {
    crop: cropWords(book, id),
    words: [batch.state, batch.want !== null ? `${batch.want} wanted` : "", batch.for_place ? `for ${fullPlace(book, batch.for_place)}` : ""].filter(Boolean).join(", "),
    stages: batch.stages,
    span: batch.stages.length ? spanOf(batch.stages, today) : null,
    plants: plantWords(book, batch, today),
    seed: seeSeed(book, id, batch),
    sums: kept(sumWords(batch)),
    ties: tieWords(book, book.fields(id)).map(kept),
    jobs: jobs.map((job) => seeJob(job, today)),
    deeds: deeds.map((deed) => seeDeed(book, deed, today)),
  };
}

/** Whether some can be left for seed, and are; null for what is over or sets none in its year. @param {Book} book @param {string} id @param {any} batch @returns {boolean | null} */
function seeSeed(book, id, batch) {
  return cropOf(book, id).seed?.dry && batch.state !== "over" ? book.fields(id).save_seed === true : null;
}

/** The line of time a batch is drawn on: its own, and today. @param {{from: string, to: string}[]} stages @param {string} today */
function spanOf(stages, today) {
  const { from } = stages[0];
  const { to } = stages[stages.length - 1];
  return { today, from: from < today ? from : today, to: to > today ? to : today };
}

/** @param {Book} book @param {any} batch @param {string} today @returns {string[]} */
function plantWords(book, batch, today) {
  const rows = batch.cells.map((/** @type {any} */ { count, stage, place }) => kept([count === null ? stage : `${count} ${stage}`, place && fullPlace(book, place)].filter(Boolean).join(", ")));
  if (rows.length) rows.push(...believedWords(batch, today));
  return rows.length ? rows : [batch.state === "over" ? `over since ${plainDay(batch.over, today)}` : "not begun yet"];
}

/** @param {any} batch */
function sumWords({ picked_g, picked, lost, spare }) {
  return [picked_g ? `${weightWords(picked_g)} picked` : "", picked ? `${picked} picked` : "", lost ? `${lost} lost` : "", spare ? `${spare} to spare` : ""].filter(Boolean).join(", ");
}

/** @param {number | null} left [cm] @param {number | null} wide [cm] */
function stripWords(left, wide) {
  if (!left && !wide) return "";
  const strip = wide ? `a strip of ${wide}\u00a0cm` : "a strip to the right edge";
  return left ? `takes ${strip}, ${left}\u00a0cm from the left edge` : `takes ${strip} along the left edge`;
}

/** @param {Book} book @param {Record<string, any>} fields @returns {string[]} */
function tieWords(book, { follows, near, left_cm, wide_cm, spacing_cm, pot_l, notes }) {
  return [
    follows ? `takes over from ${batchName(book, follows)}` : "",
    near ? `stands at the foot of ${batchName(book, near)}` : "",
    stripWords(left_cm, wide_cm),
    spacing_cm ? `${spacing_cm}\u00a0cm apart` : "",
    pot_l ? `stays in ${pot_l}\u00a0L pots` : "",
    notes || "",
  ].filter(Boolean);
}

/** @param {Job} job @param {string} today */
function seeJob(job, today) {
  const { text, past } = leewayWords(job, today);
  const says = job.state === "later" ? nearDay(job.from, today) : job.state === "ready" ? text : job.state;
  return { id: job.id, title: kept(job.title), says, past };
}

/** @param {Book} book @param {import("../../../types.js").RecordForm} deed @param {string} today */
function seeDeed(book, { id, fields }, today) {
  const [verb, what] = deedWords(book, fields);
  return { id, verb, what: kept(what), note: fields.note ? `“${fields.note}”` : "", day: plainDay(fields.on, today) };
}
