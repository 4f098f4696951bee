// @ts-check
/** One batch: where its plants are, how its season runs, what is to do, what was done. */
import { fill, h } from "../../lib/dom.js";
import { nearDay, plainDay } from "../../lib/dates.js";
import { kept, leewayWords, weightWords } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { deedWords } from "../../household/diary-lines.js";
import { batchName, cropWords, fullPlace } from "../../household/names.js";
import { seasonBar } from "../../ui/season-bar.js";

/** @param {any} context */
export function room(context) {
  const { book, go, back } = context;
  const id = context.params[0];
  const element = h("main", { class: "page", id: "room" });

  function refresh() {
    const fields = book.fields(id);
    const today = context.today();
    const batch = book.stand(today).batches.find((/** @type {any} */ one) => one.id === id);
    const top = h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, batchName(book, id) || "Batch"));
    if (!batch && book.restingYears.length) {
      fill(element, top);
      void book.wakeAll();
      return;
    }
    if (!batch) {
      fill(element, top, h("div", { class: "board empty" }, h("p", null, "This batch is not in the book any more.")));
      return;
    }
    const jobs = book.jobs(today).filter((/** @type {any} */ job) => job.batch === id && job.state !== "done");
    const deeds = book.ofKind("diary").filter((/** @type {any} */ record) => record.fields.batch === id).sort((/** @type {any} */ a, /** @type {any} */ b) => (a.fields.on < b.fields.on ? 1 : -1));
    fill(
      element,
      top,
      h(
        "div",
        { class: "lab plain" },
        h(
          "div",
          { class: "in" },
          h("div", { class: "sec" }, h("p", { class: "big" }, cropWords(book, id)), h("p", { class: "soft" }, [batch.state, batch.want !== null ? `${batch.want} wanted` : "", batch.for_place ? `for ${fullPlace(book, batch.for_place)}` : ""].filter(Boolean).join(", ")), batch.stages.length > 0 && h("div", { style: { "margin-top": "8px" } }, seasonBar(batch.stages, { today, from: spanStart(batch, today), to: spanEnd(batch, today) }))),
          h("div", { class: "sec row" }, h("h2", null, "Plants"), h("ul", null, cells(batch))),
          facts(batch),
          ties(fields),
        ),
      ),
      h("div", { class: "keys two" }, h("button", { class: "key", type: "button", onclick: () => go("jot", "move", id) }, "Move some"), h("button", { class: "key", type: "button", onclick: () => go("jot", "lose", id) }, "Lost some"), h("button", { class: "key", type: "button", onclick: () => go("jot", "look", id) }, "Saw something"), h("button", { class: "key", type: "button", onclick: () => go("form", "batch", id) }, "Change it")),
      jobs.length > 0 && [h("h2", { class: "h" }, "To do"), h("div", { class: "board" }, jobs.map((/** @type {any} */ job) => jobLine(job, today)))],
      h("h2", { class: "h" }, "So far"),
      h("div", { class: "board" }, deeds.length ? deeds.slice(0, 80).map((/** @type {any} */ record) => deedLine(record, today)) : h("p", { class: "line soft" }, "Nothing done yet.")),
    );
  }

  /** @param {any} batch */
  function cells(batch) {
    const rows = batch.cells.map((/** @type {any} */ cell) => h("li", null, kept([cell.count === null ? cell.stage : `${cell.count} ${cell.stage}`, cell.place && fullPlace(book, cell.place)].filter(Boolean).join(", "))));
    return rows.length ? rows : h("li", null, batch.state === "over" ? `over since ${plainDay(batch.over, context.today())}` : "not begun yet");
  }

  /** @param {any} batch */
  function facts(batch) {
    const words = [batch.picked_g ? `${weightWords(batch.picked_g)} picked` : "", batch.picked ? `${batch.picked} picked` : "", batch.lost ? `${batch.lost} lost` : "", batch.spare ? `${batch.spare} to spare` : ""].filter(Boolean);
    return words.length > 0 && h("div", { class: "sec row" }, h("h2", null, "Sums"), h("p", null, kept(words.join(", "))));
  }

  /** @param {any} fields */
  function ties(fields) {
    const words = [fields.follows ? `takes over from ${batchName(book, fields.follows)}` : "", fields.near ? `stands beside ${batchName(book, fields.near)}` : "", fields.spacing_cm ? `${fields.spacing_cm} cm apart` : "", fields.pot_l ? `stays in ${fields.pot_l} L pots` : "", fields.notes || ""].filter(Boolean);
    return words.length > 0 && h("div", { class: "sec row" }, h("h2", null, "Also"), h("ul", null, words.map((word) => h("li", null, kept(word)))));
  }

  /** @param {any} job @param {string} today */
  function jobLine(job, today) {
    const { text, past } = leewayWords(job, today);
    return h("button", { class: "line", type: "button", onclick: () => go("job", job.id) }, h("b", null, kept(job.title)), h("span", { class: past ? "past" : "soft" }, job.state === "waiting" ? "waiting" : job.state === "later" ? nearDay(job.from, today) : job.state === "let go" ? "let go" : text));
  }

  /** @param {any} record @param {string} today */
  function deedLine(record, today) {
    const [verb, what] = deedWords(book, record.fields);
    return h("button", { class: "line", type: "button", onclick: () => go("deed", record.id) }, h("span", null, h("b", null, verb), ` ${kept(what)}`, record.fields.note && [h("br"), h("span", { class: "soft" }, `“${record.fields.note}”`)]), h("span", { class: "soft" }, plainDay(record.fields.on, today)));
  }

  refresh();
  return { element, title: batchName(book, id) || "Batch", refresh: (/** @type {string} */ what) => { if (what === "records") refresh(); } };
}

/** @param {any} batch @param {string} today */
function spanStart(batch, today) {
  const first = batch.stages[0].from;
  return first < today ? first : today;
}

/** @param {any} batch @param {string} today */
function spanEnd(batch, today) {
  const last = batch.stages[batch.stages.length - 1].to;
  return last > today ? last : today;
}
