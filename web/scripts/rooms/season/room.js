// @ts-check
/** Season: every batch of a year as labels on one line of time. */
import { fill, h } from "../../lib/dom.js";
import { kept } from "../../lib/words.js";
import { batchName, cropWords, familyWords, fullPlace } from "../../household/names.js";
import { monthsHead, seasonBar, setWide, stageKey } from "../../ui/season-bar.js";

const STAGES = ["raised", "potted", "planted", "picking"];
/** @type {{year: number | null}} */
const asked = { year: null };

/** @param {any} context */
export function room(context) {
  const { book, go } = context;
  const element = h("main", { class: "page", id: "room" });

  function refresh() {
    setWide(element.clientWidth > 560 || matchMedia("(min-width: 1000px)").matches);
    const today = context.today();
    const thisYear = Number(today.slice(0, 4));
    const all = book.stand(today).batches.filter((/** @type {any} */ batch) => batch.stages.length);
    const years = [...new Set([thisYear, ...book.restingYears, ...all.map((/** @type {any} */ batch) => batch.year)])].sort();
    const year = asked.year ?? (all.some((/** @type {any} */ batch) => batch.year === thisYear) ? thisYear : (years.find((one) => one > thisYear) ?? thisYear));
    const from = `${year}-01-01`;
    const to = `${year}-12-31`;
    const rows = all.filter((/** @type {any} */ batch) => batch.stages.some((/** @type {any} */ one) => one.to >= from && one.from <= to));
    /** @type {Map<string, any[]>} */
    const families = new Map();
    for (const batch of rows) {
      const family = familyWords(book, batch.id);
      families.set(family, [...(families.get(family) || []), batch]);
    }
    fill(
      element,
      h("header", { class: "head" }, h("h1", null, `Season ${year}`)),
      years.length > 1 && h("div", { class: "keys", role: "group", "aria-label": "Year", style: { "margin-bottom": "10px" } }, years.slice(-4).map((one) => h("button", { class: "key slim", type: "button", "aria-pressed": String(one === year), onclick: () => void show(one) }, one))),
      h("div", { class: "keyline" }, STAGES.map((stage) => h("span", null, stageKey(stage), stage))),
      rows.length > 0 && h("div", { class: "season months-head" }, monthsHead({ from, to, today })),
      [...families].sort((a, b) => (a[0] < b[0] ? -1 : 1)).map(([family, batches]) => [
        h("h2", { class: "h" }, family),
        h("div", { class: "season" }, batches.sort((a, b) => (a.stages[0].from < b.stages[0].from ? -1 : 1)).map((batch) => row(batch, { from, to, today }))),
      ]),
      h("button", { class: "key", type: "button", style: { "margin-top": "14px" }, onclick: () => go("year") }, "How the year runs"),
      !rows.length && h("div", { class: "board empty" }, h("p", null, "No batch runs in this year yet."), h("button", { class: "key", type: "button", onclick: () => go("plan") }, "Add a batch")),
    );
  }

  /** @param {number} year */
  async function show(year) {
    asked.year = year;
    if (book.restingYears.includes(year)) await book.wakeAll();
    refresh();
  }

  /** @param {any} batch @param {{from: string, to: string, today: string}} span */
  function row(batch, span) {
    const words = [batch.want ?? "", cropWords(book, batch.id)].filter(String).join(" ");
    const says = words.slice(0, 1).toUpperCase() + words.slice(1);
    return h(
      "a",
      { class: "batch-row", href: `#/batch/${batch.id}` },
      h("span", { class: "name" }, h("b", null, kept(says)), " ", h("span", { class: "soft" }, kept([batchName(book, batch.id), batch.for_place ? fullPlace(book, batch.for_place) : ""].filter(Boolean).join(", ")))),
      h("span", { class: "unseen" }, batch.stages.map((/** @type {any} */ one) => `${one.stage} from ${one.from} to ${one.to}`).join(", ")),
      seasonBar(batch.stages, span),
    );
  }

  if (asked.year !== null && book.restingYears.includes(asked.year)) void show(asked.year);
  else refresh();
  return { element, title: "Season", refresh: (/** @type {string} */ what) => { if (what === "records") refresh(); } };
}
