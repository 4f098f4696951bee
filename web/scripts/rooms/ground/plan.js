// @ts-check
/**
 * Plan a batch: what, how many, where; the list's answer stands beneath and changes with every answer, with or without
 * signal. Plants that grow already are put in at the stage they have come to.
 */
import { fill, h } from "../../lib/dom.js";
import { plainDay } from "../../lib/dates.js";
import { counted, kept } from "../../lib/words.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { glyph } from "../../ui/glyphs.js";
import { choice, count, dateLine, line } from "../parts/ask.js";
import { byWalk, fullPlace } from "../../household/names.js";
import { growingWishes, stagesOf } from "./plan-growing.js";
import { holds, knowledgeOf, nextYear, workOut, yearOfDay } from "../../household/plan-working.js";
import { seasonBar } from "../../ui/season-bar.js";

const DRAFT = "plan";

/** @param {any} context params: name=value pairs to begin with */
export function room(context) {
  const { book, back, go, toast } = context;
  const element = h("main", { class: "page", id: "room" });
  const result = h("div");
  const trouble = h("p", { class: "trouble", role: "alert" });
  trouble.hidden = true;
  let putIn = 0;
  const ask = { mode: "begin", crop: "", variety: "", name: "", want: 6, place: "", day: "", spacing: "", stage: "", pot: 0, here: "", since: context.today(), count: 6, picked: false };
  Object.assign(ask, readDraft(DRAFT) || {}, Object.fromEntries(context.params.map((/** @type {string} */ pair) => pair.split("=", 2))));
  if (ask.variety && !ask.crop) ask.crop = book.fields(ask.variety).crop || "";

  /** @returns {import("../../household/plan-working.js").Wish} */
  function wish() {
    const made = { crop: ask.crop, variety: ask.variety || null, want: ask.want, for_place: ask.place || null, year: 0, sow_on: ask.day || null, spacing_cm: Number(ask.spacing) || null, pot_l: null };
    made.year = made.sow_on ? yearOfDay(book.rulebook, book.records, made) : nextYear(book.rulebook, book.records, made, context.today());
    return made;
  }

  const know = () => knowledgeOf(book.rulebook, wish());

  /** @param {Partial<typeof ask>} part @param {boolean} [all] whether the questions change with it */
  function set(part, all = true) {
    Object.assign(ask, part);
    saveDraft(DRAFT, ask);
    if (all) draw();
    else drawPlan();
  }

  function draw() {
    const crops = Object.entries(book.rulebook.crops || {}).map(([id, crop]) => [id, /** @type {any} */ (crop).many]).sort((a, b) => a[1].localeCompare(b[1]));
    const varieties = book.ofKind("variety").filter((/** @type {any} */ one) => one.fields.crop === ask.crop).map((/** @type {any} */ one) => [one.id, one.fields.name]);
    fill(
      element,
      h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "A batch")),
      h("div", { class: "keys two", style: { "margin-bottom": "14px" } }, mode("begin", "To begin"), mode("growing", "Growing already")),
      !crops.length && h("p", { class: "trouble" }, "What is known of crops has not come from the server yet. Open the app once where it answers."),
      choice("Which crop", ask.crop, crops, (crop) => set({ crop, variety: "", spacing: "", stage: "" })),
      ask.crop && choice("Which variety", ask.variety, varieties, (variety) => set({ variety }), "one that is not in the book yet"),
      ask.crop && !ask.variety && line("What the packet says", ask.name, (name) => set({ name }, false), "may stay empty"),
      ask.crop && ask.mode === "begin" && [
        count("Plants wanted", ask.want, (want) => set({ want }, false)),
        choice("Where they end", ask.place, places(), (place) => set({ place })),
        apart(),
        dateLine("Your own day for the first step", ask.day, (day) => set({ day }, false), "left empty: the list proposes"),
      ],
      ask.crop && ask.mode === "growing" && growing(),
      ask.crop && result,
      trouble,
      ask.crop && h("button", { class: "key done", type: "button", style: { "margin-top": "14px" }, onclick: () => void save() }, ask.mode === "begin" ? "Put it in the book" : "Write it down"),
      h("button", { class: "key", type: "button", style: { "margin-top": "10px" }, onclick: () => go("form", "batch", "new") }, "All there is to say, as a form"),
    );
    drawPlan();
  }

  /** @param {string} value @param {string} words */
  function mode(value, words) {
    return h("button", { class: "key", type: "button", "aria-pressed": String(ask.mode === value), onclick: () => set({ mode: value }) }, words);
  }

  function places() {
    const holding = book.ofKind("fixture").filter((/** @type {any} */ one) => one.fields.holds === true);
    return [...book.ofKind("place").sort(byWalk), ...holding].map((/** @type {any} */ one) => [one.id, fullPlace(book, one.id)]).sort((a, b) => a[1].localeCompare(b[1], undefined, { numeric: true }));
  }

  /** Distances the crop stands, each with how many fit. */
  function apart() {
    const spacing = know()?.spacing_cm;
    if (!spacing) return null;
    const bed = book.fields(ask.place);
    const row = know().row_cm;
    const options = [...new Set([spacing[0], spacing[2], spacing[1]])];
    return h(
      "div",
      { class: "field" },
      h("span", null, "Apart"),
      h("div", { class: "keys three" }, options.map((cm) => {
        const fits = holds(bed, cm, row ? Math.min(row, row * (cm / spacing[2])) : null);
        return h("button", { class: "key", type: "button", "aria-pressed": String(Number(ask.spacing || spacing[2]) === cm), onclick: () => set({ spacing: String(cm) }) }, kept(`${cm} cm`), fits !== null && h("small", null, `${fits} fit`));
      })),
    );
  }

  function growing() {
    const stages = stagesOf(know());
    const stage = stages.find((one) => one.stage === ask.stage) || stages[stages.length - 1];
    ask.stage = stage?.stage || "";
    return [
      h("div", { class: "field" }, h("span", null, "They are"), h("div", { class: "keys two", role: "group", "aria-label": "Stage" }, stages.map((one) => h("button", { class: "key", type: "button", "aria-pressed": String(one.stage === ask.stage), onclick: () => set({ stage: one.stage }) }, one.stage)))),
      stage?.pots.length ? h("div", { class: "field" }, h("span", null, "In pots of"), h("div", { class: "keys three" }, stage.pots.map((/** @type {number} */ litres) => h("button", { class: "key", type: "button", "aria-pressed": String((ask.pot || stage.pots[0]) === litres), onclick: () => set({ pot: litres }) }, kept(`${litres} L`))))) : null,
      count(ask.stage === "sown" ? "Seeds sown" : "How many", ask.count, (value) => set({ count: value }, false)),
      choice("Where they stand", ask.here, places(), (here) => set({ here })),
      ask.stage !== "planted" && choice("Where they end", ask.place, places(), (place) => set({ place })),
      dateLine(`About when they were ${ask.stage === "up" ? "up" : ask.stage === "hardening" ? "first put out" : ask.stage}`, ask.since, (since) => set({ since }, false), "a guess will do"),
      ask.stage === "planted" && h("label", { class: "field tick-line" }, h("input", { type: "checkbox", checked: ask.picked, onchange: (/** @type {any} */ event) => set({ picked: event.target.checked }, false) }), h("span", null, "They are being picked")),
    ];
  }

  function drawPlan() {
    if (!ask.crop || !know()) {
      fill(result);
      return;
    }
    if (ask.mode === "growing") {
      fill(result, putIn > 0 && h("p", { class: "soft note", role: "status" }, `${counted(putIn, "batch", "batches")} put in so far.`));
      return;
    }
    const today = context.today();
    const plan = workOut(book.rulebook, book.records, wish(), today);
    const picks = plan.jobs.filter((job) => job.verb === "pick");
    fill(
      result,
      h(
        "section",
        { class: "lab plain", "aria-label": "The plan" },
        h(
          "div",
          { class: "in" },
          h(
            "div",
            { class: "sec" },
            h("p", { class: "big" }, summary(plan, today)),
            plan.window && h("p", { class: "soft" }, kept(`any day from ${plainDay(plan.window.from, today)} to ${plainDay(plan.window.by, today)} will do; best ${plan.window.why}`)),
            plan.stages.length > 0 && h("div", { style: { "margin-top": "10px" } }, seasonBar(plan.stages, { today, from: plan.stages[0].from, to: plan.stages[plan.stages.length - 1].to })),
          ),
          [...plan.advice, ...shortOfSeed(plan)].map((words) => h("p", { class: "sec pinched", role: "status" }, kept(words))),
          h("div", { class: "sec row" }, h("h2", null, "Takes"), h("ul", null, takes(plan).map((words) => h("li", null, kept(words))))),
          h("div", { class: "sec" }, h("h2", null, "Step by step"), plan.jobs.filter((job) => !picks.includes(job) || job === picks[0]).map((job) => stepLine(job, today))),
        ),
      ),
    );
  }

  /** @param {import("../../household/plan-working.js").Plan} plan @param {string} today */
  function summary(plan, today) {
    const first = plan.jobs[0];
    const pick = plan.stages.find((one) => one.stage === "picking");
    if (!first) return "Its time in that year is over.";
    return kept(`${first.title}: ${plainDay(first.aim, today)}${pick ? `. Picking from about ${plainDay(pick.from, today)} to ${plainDay(pick.to, today)}` : ""}.`);
  }

  /** @param {import("../../household/plan-working.js").Plan} plan @returns {string[]} */
  function shortOfSeed(plan) {
    const held = book.fields(ask.variety).seeds ?? null;
    return held !== null && plan.seeds !== null && plan.seeds > held ? [`${counted(held, "seed")} in hand, ${plan.seeds} to sow: fewer plants may come than are wanted.`] : [];
  }

  /** @param {import("../../household/plan-working.js").Plan} plan */
  function takes(plan) {
    const rows = [];
    if (plan.seeds) rows.push(`${plan.seeds} seeds, so that ${ask.want} plants come with 95 % certainty where ${know().seeds_for} in 100 come up`);
    if (plan.trays) rows.push(plan.trays);
    rows.push(...plan.takes.filter((need) => need.what !== "seed" && need.what !== "cells").map((need) => `${need.amount}${need.unit ? ` ${need.unit}` : ""} ${need.what}`));
    return rows.length ? rows : ["nothing but the plants"];
  }

  /** @param {any} job @param {string} today */
  function stepLine(job, today) {
    const span = job.by && job.by < job.from ? `not before ${plainDay(job.from, today)}` : job.by && job.by !== job.from ? `${plainDay(job.from, today)} to ${plainDay(job.by, today)}` : `from ${plainDay(job.from, today)}`;
    return h("details", { class: "plan-step" }, h("summary", null, h("b", null, kept(job.title)), h("span", { class: "soft" }, kept(job.aim === job.from ? span : `best ${plainDay(job.aim, today)}; ${span}`))), h("ul", null, job.why.map((/** @type {string} */ words) => h("li", null, kept(words)))));
  }

  async function save() {
    trouble.hidden = true;
    const today = context.today();
    const variety = ask.variety || context.newId();
    /** @type {any[]} */
    const wishes = ask.variety ? [] : [{ id: variety, kind: "variety", fields: { name: ask.name.trim() || know().many, crop: ask.crop } }];
    const batch = context.newId();
    if (ask.mode === "begin") {
      const { crop: _crop, ...fields } = wish();
      wishes.push({ id: batch, kind: "batch", fields: present({ ...fields, variety }) });
    } else {
      wishes.push(...growingWishes(know(), { batch, variety, stage: ask.stage, count: ask.count, here: ask.here || null, place: ask.place || null, since: ask.since || today, pot: ask.pot || null, picked: ask.picked }, { today, at: context.moment(), newId: context.newId }));
    }
    try {
      await book.write(wishes);
    } catch (/** @type {any} */ error) {
      trouble.hidden = false;
      trouble.textContent = error.say || "Not written down yet. It is still on screen; try again.";
      return;
    }
    toast({ say: `In the book: ${kept(ask.name.trim() || book.fields(variety).name || know().many)}.`, undo: () => void book.write(wishes.map(({ id, kind }) => ({ id, kind, fields: { gone: true } }))) });
    if (ask.mode === "begin") {
      dropDraft(DRAFT);
      if (element.isConnected) go("batch", batch);
      return;
    }
    putIn += 1;
    set({ variety: "", name: "", picked: false });
    window.scrollTo(0, 0);
  }

  draw();
  return { element, title: "A batch", refresh: (/** @type {string} */ what) => { if (what === "rulebook") draw(); } };
}

/** @param {Record<string, any>} fields */
function present(fields) {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== null && value !== ""));
}
