// @ts-check
/**
 * Jot: write down anything in at most four taps. The slip fills from left to right: did what, to what, how many. Nothing
 * typed is lost: it is kept as a draft until it is written down.
 */
import { fill, h } from "../../lib/dom.js";
import { longDay } from "../../lib/dates.js";
import { kept } from "../../lib/words.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { glyph } from "../../ui/glyphs.js";
import { undoWishes } from "../../household/wishes.js";
import { batchName, personName, placeName } from "../../household/names.js";
import { jobForBatch, jobForFixture, jobForPlace } from "../../household/answers.js";
import { VERBS, verbTakes, verbWord } from "./choices.js";
import { chooseBatch, chooseFixture, choosePlace, chooseVerb } from "./lists.js";
import { photoTaker, photoWishes } from "../parts/photo-views.js";
import { askCount, askNote, askReading, askSighting, askWhere } from "./details.js";

const DRAFT = "jot";

/**
 * @typedef {{did: string | null, batch: string | null, place: string | null, fixture: string | null,
 *   job: import("../../types.js").Job | null, found: string | null, on: string, more: Record<string, any>, note: string,
 *   photos: import("../parts/photo-views.js").Taken[]}} Slip
 */

/** @param {any} context */
export function room(context) {
  const { book, go, back, toast } = context;
  const element = h("main", { class: "page bare", id: "room" });
  /** @type {string | null} */
  let trouble = null;
  let all = false;
  /** @type {Slip} */
  const slip = { did: null, batch: null, place: null, fixture: null, job: null, found: null, on: context.today(), more: {}, note: "", photos: [] };
  begin();

  function begin() {
    const [verb, batch, found, job] = context.params;
    const draft = readDraft(DRAFT);
    if (draft && !verb) Object.assign(slip, draft, { job: null });
    if (VERBS.some(([name]) => name === verb)) slip.did = verb;
    if (batch) slip.batch = batch;
    if (found) slip.found = found;
    if (job) slip.job = findJob(job);
    if (slip.job && !slip.batch) {
      slip.place = slip.job.writes.to_place || slip.job.writes.place || null;
      slip.fixture = slip.job.fixture;
    }
  }

  /** @param {string} id */
  function findJob(id) {
    return book.jobs(context.today()).find((/** @type {any} */ job) => job.id === id && job.state !== "done") || null;
  }

  /** Keep what was chosen and typed so far. */
  function keep() {
    const { job: _job, ...rest } = slip;
    saveDraft(DRAFT, rest);
  }

  const tools = {
    photos: () => photoTaker(context, slip.photos, () => { keep(); refresh(); }),
    context,
    slip,
    keep,
    refresh,
    /** @param {Record<string, any>} more */
    write: (more) => write(more),
    set: (/** @type {Partial<Slip>} */ part) => {
      Object.assign(slip, part);
      keep();
      refresh();
      window.scrollTo(0, 0);
    },
    showAll: () => {
      all = true;
      refresh();
    },
  };

  /** @param {Record<string, any>} more */
  async function write(more) {
    const photos = photoWishes(slip.photos, context);
    const wish = { id: context.newId(), kind: "diary", fields: { ...fieldsOf(more), ...(photos.ids.length ? { photos: photos.ids } : {}) } };
    trouble = null;
    try {
      await book.write([...photos.wishes, wish]);
    } catch (/** @type {any} */ error) {
      trouble = error.say || "Not written down yet. It is still on screen; try again.";
      refresh();
      return;
    }
    dropDraft(DRAFT);
    rememberPlace();
    context.settings.lastJot = { did: slip.did, batch: slip.batch, place: slip.place, fixture: slip.fixture };
    toast({ say: `Written down: ${kept(sayWhat(wish.fields))}`, undo: () => void book.write(undoWishes([wish.id])) });
    if (element.isConnected) go("round"); // a write that ends late never moves whoever has gone on
  }

  /** @param {Record<string, any>} more */
  function fieldsOf(more) {
    const job = slip.job || matching();
    const moment = context.moment();
    /** @type {Record<string, any>} */
    const fields = { ...(job ? job.writes : {}), did: slip.did, on: slip.on, at: slip.on === moment.on ? moment.at : undefined, by: moment.by };
    if (slip.batch) fields.batch = slip.batch;
    if (slip.place && !fields.to_place) fields.place = slip.place;
    if (slip.fixture) fields.fixture = slip.fixture;
    if (job) Object.assign(fields, { job: job.id, part: job.part });
    if (slip.note.trim()) fields.note = slip.note.trim();
    Object.assign(fields, slip.more, more);
    for (const name of Object.keys(fields)) if (fields[name] === undefined || fields[name] === null || fields[name] === "") delete fields[name];
    return fields;
  }

  /** The open job that this answers, so that it ticks itself. */
  function matching() {
    const jobs = book.jobs(context.today());
    if (slip.did === "look" || slip.did === "treat") return watchJob(jobs);
    if (slip.batch && slip.did) return jobForBatch(jobs, slip.batch, slip.did);
    if (slip.fixture && slip.did) return jobForFixture(jobs, slip.fixture, slip.did);
    return slip.place && slip.did ? jobForPlace(jobs, slip.place, slip.did) : null;
  }

  /** @param {any[]} jobs */
  function watchJob(jobs) {
    if (slip.did === "look" && !slip.batch && slip.place && !slip.found) return jobForPlace(jobs, slip.place, "look");
    return jobs.find((job) => job.verb === slip.did && job.batch === slip.batch && job.writes.found && job.writes.found === slip.found && job.state === "ready") || null;
  }

  /** @param {Record<string, any>} fields */
  function sayWhat(fields) {
    const what = slip.batch ? batchName(book, slip.batch) : slip.fixture ? placeName(book, slip.fixture) : placeName(book, fields.place);
    return [verbWord(String(slip.did)).toLowerCase(), fields.count, what].filter(Boolean).join(" ");
  }

  function rememberPlace() {
    const place = slip.place || book.stand(context.today()).batches.find((/** @type {any} */ one) => one.id === slip.batch)?.cells[0]?.place;
    if (place) context.settings.placeInHand = place;
  }

  /** Which question is in hand. */
  function stepNow() {
    const { did } = slip;
    if (!did) return "did";
    const takes = verbTakes(did);
    if (did === "note") return "details";
    if (takes === "fixture") return "fixture";
    if (takes === "place") return slip.place ? "details" : "place";
    if (!slip.batch && !(did === "look" && slip.place)) return "batch";
    if (did === "move" && !slip.more.to_place) return "where";
    return did === "look" || did === "treat" ? "found" : "details";
  }

  function refresh() {
    const step = stepNow();
    fill(
      element,
      h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": slip.did ? "Back" : "Close", onclick: stepBack }, glyph(slip.did ? "back" : "cross", 32)), h("h1", null, "Jot")),
      slipRow(step),
      h("p", { class: "soft note", style: { margin: "0 2px 10px" } }, [personName(book, context.person()), longDay(slip.on)].filter(Boolean).join(", "), "."),
      trouble && h("p", { class: "trouble", role: "alert" }, trouble),
      screen(step),
    );
  }

  function stepBack() {
    if (!slip.did || context.params.length) {
      dropDraft(DRAFT);
      back();
      return;
    }
    if (slip.found) slip.found = null;
    else if (slip.more.to_place) slip.more = {};
    else if (slip.batch || slip.place || slip.fixture) Object.assign(slip, { batch: null, place: null, fixture: null });
    else slip.did = null;
    keep();
    refresh();
  }

  /** @param {string} step */
  function screen(step) {
    if (step === "did") return chooseVerb(tools, all);
    if (step === "batch") return chooseBatch(tools, all);
    if (step === "place") return choosePlace(tools);
    if (step === "fixture") return chooseFixture(tools);
    if (step === "where") return askWhere(tools);
    if (step === "found") return askSighting(tools);
    if (slip.did === "measure") return askReading(tools);
    if (slip.did === "note" || slip.did === "water" || slip.did === "clear" || slip.did === "harden_off") return askNote(tools);
    return askCount(tools);
  }

  /** @param {string} step */
  function slipRow(step) {
    const what = slip.batch ? batchName(book, slip.batch) : slip.fixture ? placeName(book, slip.fixture) : slip.place ? placeName(book, slip.place) : "";
    const parts = [
      ["did", slip.did ? verbWord(slip.did) : "what?", step === "did", () => tools.set({ did: null, batch: null, place: null, fixture: null, found: null, more: {} })],
      ["to", what || "", ["batch", "place", "fixture"].includes(step), () => slip.did && tools.set({ batch: null, place: null, fixture: null, found: null, more: {} })],
      ["how many", slip.found ? book.rulebook.care?.[slip.found]?.name || slip.found : "", ["details", "found", "where"].includes(step), () => {}],
    ];
    return h(
      "div",
      { class: "slip" },
      h(
        "div",
        { class: "in" },
        parts.map(([word, value, now, act]) => h("button", { type: "button", "aria-current": now ? "step" : null, onclick: act }, word, h("b", null, value || "\u00a0"))),
      ),
    );
  }

  refresh();
  return { element, title: "Jot", bare: true };
}
