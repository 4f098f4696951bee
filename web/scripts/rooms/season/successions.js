// @ts-check
/**
 * One after another: sowings worked back from the picking wanted, or every so many days, or so far apart in heat that their
 * pickings come evenly. The server works them out; the batches they become are the phone's own.
 */
import { plainDay } from "../../lib/dates.js";
import { fill, h } from "../../lib/dom.js";
import { counted, kept } from "../../lib/words.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { glyph } from "../../ui/glyphs.js";
import { pickingsPicture } from "../../ui/pickings-picture.js";
import { choice, count, dateLine } from "../parts/ask.js";
import { byWalk, fullPlace } from "../../household/names.js";
import { yearOfDay } from "../../household/plan-working.js";

const WAIT_MS = 250;
const MOST = 366;
const MODES = [["picking", "By the picking"], ["days", "Every so often"], ["heat", "By heat"]];

/** @param {any} context params: crop */
export function room(context) {
  const { book, back, go, toast } = context;
  const named = context.params[0];
  const crop = book.rulebook.version && !book.rulebook.crops[named] ? undefined : named; // it may have been put away
  const element = h("main", { class: "page", id: "room" });
  const result = h("div");
  const draft = `successions.${crop}`;
  const ask = { mode: "picking", variety: "", place: "", from: "", to: "", a_week: 7, every: 14, plants: 12, ...(readDraft(draft) || {}) };
  /** @type {any} */
  let found = null;
  let trouble = "";
  /** @type {any} */
  let waiting = 0;
  let asked = 0;
  const know = () => book.rulebook.crops?.[crop];
  const header = () => h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "One after another"));

  /** @param {Partial<typeof ask>} part @param {boolean} [all] whether the questions change with it */
  function set(part, all = true) {
    Object.assign(ask, part);
    saveDraft(draft, ask);
    if (all) draw();
    clearTimeout(waiting);
    waiting = setTimeout(() => void work(), WAIT_MS);
  }

  /** Come here by no crop's own page. */
  function askCrop() {
    const crops = Object.entries(book.rulebook.crops || {}).map(([id, one]) => [id, /** @type {any} */ (one).many]).sort((a, b) => a[1].localeCompare(b[1]));
    fill(element, header(), choice("Which crop", "", crops, (id) => id && go("successions", id)));
  }

  async function work() {
    if (!crop) return;
    asked += 1;
    const mine = asked;
    const query = new URLSearchParams({ crop, mode: ask.mode, a_day: String(ask.a_week / 7), every: String(ask.every), plants: String(ask.plants) });
    for (const name of /** @type {const} */ (["variety", "place", "from", "to"])) if (ask[name]) query.set(name, ask[name]);
    try {
      const answer = await context.ask(`/api/successions?${query}`);
      if (mine !== asked) return;
      found = answer;
      trouble = "";
      drawDays();
    } catch (/** @type {any} */ error) {
      if (mine !== asked) return;
      trouble = error.say || "The server works this out, and it does not answer now. What you chose stays here.";
    }
    drawResult();
  }

  const days = h("div", { class: "keys two" });

  function drawDays() {
    const picking = ask.mode === "picking";
    fill(
      days,
      dateLine(picking ? "Pick from" : "Sow from", ask.from || found?.from || "", (from) => set({ from }, false)),
      dateLine(picking ? "Pick to" : "Sow to", ask.to || found?.to || "", (to) => set({ to }, false)),
    );
  }

  function draw() {
    if (!crop) {
      askCrop();
      return;
    }
    const many = know()?.many || crop;
    const varieties = book.ofKind("variety").filter((/** @type {any} */ one) => one.fields.crop === crop).map((/** @type {any} */ one) => [one.id, one.fields.name]);
    const places = book.ofKind("place").sort(byWalk).map((/** @type {any} */ one) => [one.id, fullPlace(book, one.id)]).sort((/** @type {string[]} */ a, /** @type {string[]} */ b) => a[1].localeCompare(b[1], undefined, { numeric: true }));
    const modes = found && !found.by_heat ? MODES.slice(0, 2) : MODES;
    drawDays();
    fill(
      element,
      header(),
      h("p", { class: "soft note", style: { margin: "0 2px 10px" } }, `So that there are always ${many}, and never all at once.`),
      h("div", { class: modes.length === 2 ? "keys two" : "keys three", role: "group", "aria-label": "How they follow", style: { "margin-bottom": "14px" } }, modes.map(([mode, words]) => h("button", { class: "key", type: "button", "aria-pressed": String(ask.mode === mode), onclick: () => set({ mode, from: "", to: "" }) }, words))),
      choice("Which variety", ask.variety, varieties, (variety) => set({ variety }, false), "none in particular"),
      choice("Where they end", ask.place, places, (place) => set({ place }, false), "open ground"),
      ask.mode === "picking" && count("Plants a week", ask.a_week, (a_week) => set({ a_week }, false), MOST),
      ask.mode !== "picking" && count(ask.mode === "days" ? "Days between sowings" : "Days between pickings", ask.every, (every) => set({ every }, false), MOST),
      ask.mode !== "picking" && count("Plants each time", ask.plants, (plants) => set({ plants }, false), MOST),
      days,
      result,
    );
    drawResult();
  }

  function drawResult() {
    if (trouble) {
      fill(result, h("div", { class: "board empty" }, h("p", { role: "alert" }, trouble), h("button", { class: "key", type: "button", onclick: () => void work() }, "Try again")));
      return;
    }
    if (!found) {
      fill(result, h("p", { class: "soft note", role: "status" }, "Working it out."));
      return;
    }
    const today = context.today();
    const sowings = found.sowings;
    fill(
      result,
      h("h2", { class: "h" }, sowings.length ? kept(counted(sowings.length, "sowing")) : "No sowing serves that"),
      found.says && h("p", { class: "soft note" }, kept(found.says)),
      sowings.length > 0 && pickingsPicture({ from: sowings[0].sow, to: lastDay(), sowings, gaps: found.gaps, today }),
      found.gaps.map((/** @type {any} */ gap) => h("p", { class: "trouble" }, kept(`Nothing ${gap.from === gap.to ? `on ${plainDay(gap.from, today)}` : `from ${plainDay(gap.from, today)} to ${plainDay(gap.to, today)}`}: ${gap.why}.`))),
      sowings.length > 0 && h("div", { class: "board" }, sowings.map((/** @type {any} */ sowing) => sowingRow(sowing, today))),
      sowings.length > 0 && h("button", { class: "key done", type: "button", onclick: () => void putIn() }, sowings.length === 1 ? "Put it in the book" : `Put these ${sowings.length} in the book`),
    );
  }

  function lastDay() {
    return [...found.sowings.map((/** @type {any} */ one) => one.pick_to), ...found.gaps.map((/** @type {any} */ one) => one.to)].sort().pop();
  }

  /** @param {any} sowing @param {string} today */
  function sowingRow(sowing, today) {
    const first = `${know()?.steps?.[0]?.verb === "plant_out" ? "Plant" : `Sow ${sowing.seeds}`}, ${plainDay(sowing.sow, today)}`;
    const then = [found.raised ? `planted ${plainDay(sowing.plant, today)}` : "", `picked ${plainDay(sowing.pick_from, today)} to ${plainDay(sowing.pick_to, today)}`].filter(Boolean).join(", ");
    return h("p", { class: "line" }, h("span", null, h("b", null, kept(first)), h("br"), h("span", { class: "soft" }, kept(then))), h("span", { class: "soft" }, kept(counted(sowing.plants, "plant"))));
  }

  async function putIn() {
    const variety = ask.variety || context.newId();
    /** @type {any[]} */
    const wishes = ask.variety ? [] : [{ id: variety, kind: "variety", fields: { name: know().many, crop } }];
    found.sowings.forEach((/** @type {any} */ sowing, /** @type {number} */ at) => {
      const wish = { crop, variety: ask.variety || null, want: sowing.plants, for_place: ask.place || null, year: 0, sow_on: sowing.sow, spacing_cm: null, pot_l: null };
      const year = yearOfDay(book.rulebook, book.records, wish);
      wishes.push({ id: context.newId(), kind: "batch", fields: { variety, year, want: sowing.plants, sow_on: sowing.sow, name: `${know().many}, ${at + 1} of ${found.sowings.length}`, ...(ask.place ? { for_place: ask.place } : {}) } });
    });
    try {
      await book.write(wishes);
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "Not written down yet. It is still on screen; try again." });
      return;
    }
    dropDraft(draft);
    toast({ say: `In the book: ${counted(found.sowings.length, "batch", "batches")} of ${know().many}.`, undo: () => void book.write(wishes.map(({ id, kind }) => ({ id, kind, fields: { gone: true } }))) });
    if (element.isConnected) go("season");
  }

  draw();
  void work();
  return { element, title: "One after another", leave: () => clearTimeout(waiting) };
}
