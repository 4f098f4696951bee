// @ts-check
/** First run in three questions: where, what places, what is grown. The plan stands there before anything is written. */
import { fill, h } from "../../lib/dom.js";
import { plainDay } from "../../lib/dates.js";
import { counted, kept } from "../../lib/words.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { glyph } from "../../ui/glyphs.js";
import { stepper } from "../../ui/stepper.js";
import { HOUSES, placesOf, standingFor, suggestedCount, WISHED } from "./choices.js";
import { frostWords, houses, inside } from "../../household/names.js";
import { nextYear, workOut } from "../../household/plan-working.js";

const DRAFT = "begin";
const STEPS = ["Where", "Places", "What grows"];

/** @param {any} context */
export function room(context) {
  const { book, go, toast } = context;
  const element = h("main", { class: "page", id: "room" });
  const answer = h("div");
  const trouble = h("p", { class: "trouble", role: "alert" });
  trouble.hidden = true;
  const ask = { step: startStep(), house: { name: "", beds: 3, long: 400, wide: 120 }, sort: "", wanted: /** @type {Record<string, number>} */ ({}) };
  Object.assign(ask, readDraft(DRAFT) || {});

  function startStep() {
    if (book.fields("site").lat === undefined && !book.fields("site").name) return 0;
    return book.ofKind("place").length ? 2 : 1;
  }

  /** @param {any} part */
  function set(part) {
    Object.assign(ask, part);
    saveDraft(DRAFT, ask);
    draw();
  }

  function draw() {
    fill(
      element,
      h("header", { class: "head" }, h("h1", null, "Three questions")),
      h("div", { class: "keys three", style: { "margin-bottom": "14px" } }, STEPS.map((words, at) => h("button", { class: "key", type: "button", "aria-pressed": String(ask.step === at), onclick: () => set({ step: at }) }, `${at + 1}. ${words}`))),
      [where, places, crops][ask.step](),
      trouble,
    );
  }

  function where() {
    const site = book.fields("site");
    const known = site.lat !== undefined || site.name;
    return [
      h("p", { class: "ask" }, "Where do you grow?"),
      h("p", { class: "soft", style: { margin: "0 2px 12px" } }, "The place on the globe gives the light, the nearest climate the nights and the heat. Your own frost dates are better than any table."),
      known && h("div", { class: "board" }, h("p", { class: "line" }, h("b", null, site.name || "Your garden"), h("span", { class: "soft" }, frostWords(site) || "frosts from the climate"))),
      h("button", { class: known ? "key" : "key solid", type: "button", onclick: () => go("form", "site", "site") }, known ? "Change it" : "Say where"),
      h("button", { class: known ? "key solid" : "key", type: "button", style: { "margin-top": "10px" }, onclick: () => set({ step: 1 }) }, known ? "On to the places" : "Later: begin with a lowland garden at 53° north"),
    ];
  }

  function places() {
    const there = houses(book);
    const chosen = HOUSES.find((one) => one.id === ask.sort);
    return [
      h("p", { class: "ask" }, "What places do you have?"),
      there.length > 0 && h("div", { class: "board" }, there.map((/** @type {any} */ house) => h("button", { class: "line", type: "button", onclick: () => go("form", "place", house.id) }, h("b", null, house.fields.name), h("span", { class: "soft" }, inside(book, house.id).length ? counted(inside(book, house.id).length, "place") : "")))),
      h("div", { class: "keys two", style: { "margin-bottom": "12px" } }, HOUSES.map((one) => h("button", { class: "key", type: "button", "aria-pressed": String(one.id === ask.sort), onclick: () => set({ sort: one.id === ask.sort ? "" : one.id, house: { ...one.usual, name: freeName(one.words) } }) }, one.words))),
      chosen && houseForm(chosen),
      h("button", { class: there.length && !chosen ? "key solid" : "key", type: "button", style: { "margin-top": "10px" }, onclick: () => set({ step: 2 }) }, there.length ? "On to what grows" : "Later: on to what grows"),
    ];
  }

  /** @param {string} words */
  function freeName(words) {
    const names = book.ofKind("place").map((/** @type {any} */ one) => one.fields.name);
    if (!names.includes(words)) return words;
    let at = 2;
    while (names.includes(`${words} ${at}`)) at += 1;
    return `${words} ${at}`;
  }

  /** @param {any} chosen */
  function houseForm(chosen) {
    const name = h("input", { type: "text", maxlength: 200, value: ask.house.name, oninput: () => keep({ name: name.value }) });
    return h(
      "div",
      { class: "lab plain" },
      h(
        "div",
        { class: "in" },
        h(
          "div",
          { class: "sec" },
          h("label", { class: "field" }, h("span", null, "What you call it"), name),
          figure(chosen.inner === "bed" ? "Beds in it" : `Places in it: ${chosen.inner}`, "beds", 0, 60, 1),
          chosen.inner !== "propagator" && [figure("Each long, cm", "long", 10, 10000, 50), figure("Each wide, cm", "wide", 10, 2000, 10)],
          h("button", { class: "key solid", type: "button", onclick: () => void addHouse(chosen) }, "Add it"),
        ),
      ),
    );
  }

  /** @param {string} words @param {"beds" | "long" | "wide"} field @param {number} least @param {number} most @param {number} step */
  function figure(words, field, least, most, step) {
    return h("div", { class: "field" }, h("span", null, words), stepper({ value: Number(ask.house[field]), least, most, step, name: words, small: true, onChange: (value) => keep({ [field]: value }) }).element);
  }

  /** @param {any} part */
  function keep(part) {
    Object.assign(ask.house, part);
    saveDraft(DRAFT, ask);
  }

  /** @param {any} chosen */
  async function addHouse(chosen) {
    const walk = 1 + Math.max(0, ...houses(book).map((/** @type {any} */ one) => one.fields.walk ?? 0));
    const wishes = placesOf(chosen, { ...ask.house, walk }, context.newId);
    if (await write(wishes, `${ask.house.name} is on the ground plan.`)) set({ sort: "" });
  }

  function crops() {
    const known = Object.entries(book.rulebook.crops || {});
    if (!known.length) return h("p", { class: "trouble" }, "What is known of crops has not come from the server yet. Open the app once where it answers.");
    const rows = known.map(([id, crop]) => ({ id, words: /** @type {any} */ (crop).many })).sort((a, b) => a.words.localeCompare(b.words));
    const often = WISHED.filter((id) => id in book.rulebook.crops);
    const chosen = Object.keys(ask.wanted).filter((id) => id in book.rulebook.crops);
    const chip = (/** @type {{id: string, words: string}} */ { id, words }) => h("button", { class: "key", type: "button", "aria-pressed": String(id in ask.wanted), onclick: () => toggle(id) }, words);
    drawAnswer(chosen);
    return [
      h("p", { class: "ask" }, "What do you grow?"),
      h("div", { class: "keys two" }, often.map((id) => chip({ id, words: book.rulebook.crops[id].many }))),
      h("details", { class: "plan-step" }, h("summary", null, h("b", null, `All ${rows.length}`)), h("div", { class: "keys two" }, rows.filter((row) => !often.includes(row.id)).map(chip))),
      answer,
      h("button", { class: "key", type: "button", style: { "margin-top": "10px" }, onclick: () => go("plan", "mode=growing") }, "Put in what grows already"),
    ];
  }

  /** @param {string} id */
  function toggle(id) {
    const wanted = { ...ask.wanted };
    if (id in wanted) delete wanted[id];
    else wanted[id] = suggestedCount(book.rulebook.crops[id]);
    const at = window.scrollY;
    set({ wanted });
    window.scrollTo(0, at);
  }

  /** @param {string} crop */
  function wishOf(crop) {
    const today = context.today();
    const made = { crop, variety: null, want: ask.wanted[crop], for_place: standingFor(book, crop), year: 0, sow_on: null, spacing_cm: null, pot_l: null };
    made.year = nextYear(book.rulebook, book.records, made, today);
    return made;
  }

  /** @param {string[]} chosen */
  function drawAnswer(chosen) {
    const today = context.today();
    if (!chosen.length) {
      fill(answer);
      return;
    }
    const rows = chosen
      .map((crop) => ({ crop, plan: workOut(book.rulebook, book.records, wishOf(crop), today) }))
      .filter(({ plan }) => plan.jobs.length)
      .sort((a, b) => (a.plan.jobs[0].aim < b.plan.jobs[0].aim ? -1 : 1));
    fill(
      answer,
      h("h2", { class: "h" }, "The plan"),
      h(
        "div",
        { class: "board" },
        rows.map(({ crop, plan }) => {
          const pick = plan.stages.find((one) => one.stage === "picking");
          return h(
            "div",
            { class: "entry" },
            h("b", null, kept(plan.jobs[0].title)),
            h("span", { class: "soft" }, kept([`best ${plainDay(plan.jobs[0].aim, today)}`, pick ? `picking from ${plainDay(pick.from, today)}` : ""].filter(Boolean).join(", "))),
            h("div", { style: { "margin-top": "8px" } }, stepper({ value: ask.wanted[crop], least: 1, name: `${book.rulebook.crops[crop].many} wanted`, small: true, onChange: (want) => { ask.wanted[crop] = want; saveDraft(DRAFT, ask); } }).element),
          );
        }),
      ),
      h("button", { class: "key done", type: "button", onclick: () => void putIn(rows.map((row) => row.crop)) }, `Put ${rows.length === 1 ? "this batch" : `these ${rows.length}`} in the book`),
    );
  }

  /** @param {string[]} chosen */
  async function putIn(chosen) {
    /** @type {any[]} */
    const wishes = [];
    for (const crop of chosen) {
      const { crop: _crop, ...fields } = wishOf(crop);
      const held = book.ofKind("variety").find((/** @type {any} */ one) => one.fields.crop === crop);
      const variety = held?.id || context.newId();
      const name = book.rulebook.crops[crop].many;
      if (!held) wishes.push({ id: variety, kind: "variety", fields: { name: name[0].toUpperCase() + name.slice(1), crop } });
      wishes.push({ id: context.newId(), kind: "batch", fields: Object.fromEntries(Object.entries({ ...fields, variety }).filter(([, value]) => value !== null)) });
    }
    if (!(await write(wishes, `${counted(chosen.length, "batch", "batches")} in the book.`))) return;
    dropDraft(DRAFT);
    go("season");
  }

  /** @param {any[]} wishes @param {string} say @returns {Promise<boolean>} */
  async function write(wishes, say) {
    trouble.hidden = true;
    try {
      await book.write(wishes);
    } catch (/** @type {any} */ error) {
      trouble.hidden = false;
      trouble.textContent = error.say || "Not written down yet. It is still on screen; try again.";
      return false;
    }
    toast({ say, undo: () => void book.write(wishes.map(({ id, kind }) => ({ id, kind, fields: { gone: true } }))) });
    return true;
  }

  draw();
  return { element, title: "Three questions", refresh: (/** @type {string} */ what) => { if (what !== "sharing" && !element.querySelector("input:focus")) draw(); } };
}
