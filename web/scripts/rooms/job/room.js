// @ts-check
/** A job opened: why, what is in the way, what it takes, and the Done bar. */
import { fill, h } from "../../lib/dom.js";
import { counted, kept, leewayWords, minutesWords } from "../../lib/words.js";
import { cautionGlyph, glyph } from "../../ui/glyphs.js";
import { titleParts } from "../../ui/label.js";
import { largeBar } from "../../ui/leeway-bar.js";
import { mark } from "../../ui/mark.js";
import { plate } from "../../ui/plate.js";
import { stepper } from "../../ui/stepper.js";
import { onTap } from "../../ui/touch.js";
import { forWish, letGoWish, tickWish, undoWishes } from "../../household/wishes.js";
import { batchName, cropWords, fullPlace, houseOf, pathOf, personName, placeName } from "../../household/names.js";

/** @typedef {import("../../types.js").Job} Job */

/** @param {any} context */
export function room(context) {
  const { book, go, back, toast } = context;
  const id = context.params[0];
  const element = h("main", { class: "page with-acts", id: "room" });
  let some = false;

  /** @returns {Job | undefined} */
  function find() {
    const jobs = /** @type {Job[]} */ (book.jobs(context.today()));
    return jobs.find((job) => job.id === id && job.state !== "done") || jobs.find((job) => job.id === id);
  }

  /** @param {Record<string, any>} more */
  async function done(more) {
    const job = find();
    if (!job) return;
    const wish = tickWish(job, context.newId(), context.moment(), more);
    if (!(await write([wish]))) return;
    toast({ say: `Written down: ${kept(job.title)}`, undo: () => void write(undoWishes([wish.id])) });
    back();
  }

  /** @param {any[]} wishes @returns {Promise<boolean>} */
  async function write(wishes) {
    try {
      await book.write(wishes);
      return true;
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "Not written down yet. Try again." });
      return false;
    }
  }

  async function letGo() {
    const job = find();
    if (!job || !(await write([letGoWish(job.id, true, context.today(), job.title)]))) return;
    toast({ say: `Let go: ${kept(job.title)}`, undo: () => void write([letGoWish(job.id, false, context.today(), job.title)]) });
    back();
  }

  function refresh() {
    const job = find();
    if (!job) {
      fill(
        element,
        top(null),
        h("div", { class: "board empty" }, h("p", null, "This job is not on the list any more: it was done, let go, or what it hung on has changed."), h("button", { class: "key", type: "button", onclick: () => go("round") }, "Back to the Round")),
      );
      return;
    }
    fill(element, top(job), sheet(job), actions(job));
  }

  /** @param {Job | null} job */
  function top(job) {
    const house = job ? houseOf(book, job.place) : null;
    const fields = book.fields(house);
    const beds = job ? pathOf(book, job.place).slice(0, -1).reverse().map((step) => placeName(book, step)).join(", ") : "";
    return h(
      "header",
      { class: "headrow" },
      h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)),
      house && plate(fields.walk, fields.name || ""),
      beds && h("span", { class: "bed" }, kept(beds)),
    );
  }

  /** @param {Job} job */
  function sheet(job) {
    const today = context.today();
    const { text, past } = leewayWords(job, today);
    return h(
      "div",
      { class: "lab plain" },
      h(
        "div",
        { class: "in" },
        h(
          "div",
          { class: "sec" },
          h("h1", { class: "big" }, titleParts(job)),
          job.subject && h("p", { class: "soft" }, job.subject),
          job.state !== "done" && h("p", { class: past ? "big-say past" : "big-say" }, job.state === "let go" ? "let go" : text, h("span", null, minutesWords(job.minutes))),
          job.state !== "done" && h("div", { class: "steel" }, largeBar(job, today)),
          h("p", { class: "unseen" }, `From ${job.from}, best ${job.aim}${job.by ? `, by ${job.by}` : ""}.`),
        ),
        job.cautions.map((caution) => cautionBox(caution)),
        job.pinched && h("div", { class: "sec pinched" }, h("h2", null, "Pinched"), h("p", null, upper(kept(job.pinched.replace(/^pinched: /, ""))), ".")),
        job.in_the_way.length > 0 && job.state !== "done" && h("div", { class: "sec" }, h("h2", null, "Waiting on"), job.in_the_way.map((way) => wayRow(way, job)), onlyOne(job)),
        job.hint && row("How", h("p", null, job.hint)),
        job.why.length > 0 && row("Why", h("ul", null, job.why.map((line) => h("li", null, kept(line))))),
        job.state !== "done" && !job.in_the_way.length && row("In the way", h("p", null, "Nothing now.")),
        job.needs.length > 0 && row("Needs", h("ul", null, job.needs.map((need) => h("li", null, needWords(need))))),
        job.batch && row("Plants", plants(job)),
        job.state !== "done" && row("For", people(job)),
        job.state === "done" && row("Told by", h("p", null, (job.told_by || []).map((by) => personName(book, by)).filter(Boolean).join(" and ") || "this phone")),
      ),
    );
  }

  /** @param {string} caution */
  function cautionBox(caution) {
    const known = book.rulebook.cautions?.[caution];
    if (!known) return null;
    return h("div", { class: "caution", role: "note" }, h("p", { class: "caut" }, glyph(cautionGlyph(caution), 28), known.title), h("p", null, known.say));
  }

  /** @param {any} way @param {Job} job */
  function wayRow(way, job) {
    const before = way.job && book.jobs(context.today()).find((/** @type {Job} */ other) => other.id === way.job && other.state !== "done");
    if (!before) return h("p", { class: "block still" }, kept(way.text));
    const { text } = leewayWords(before, context.today());
    return h(
      "div",
      { class: "block" },
      h("button", { class: "t", type: "button", onclick: () => go("job", before.id) }, h("b", null, kept(way.text)), h("br"), h("span", { class: "soft" }, `${before.state === "ready" ? "ready" : before.state}, ${text}, ${minutesWords(before.minutes)}`)),
      before.state === "ready"
        ? h("button", { class: "well", type: "button", "aria-label": `Done: ${before.title}`, onclick: onTap(() => void tickOther(before, job)) }, mark("ready"), "Done")
        : h("button", { class: "well", type: "button", "aria-label": `Open: ${before.title}`, onclick: () => go("job", before.id) }, mark(before.state), before.state),
    );
  }

  /** @param {Job} before @param {Job} job */
  async function tickOther(before, job) {
    const wish = tickWish(before, context.newId(), context.moment());
    if (await write([wish])) toast({ say: `Written down: ${kept(before.title)}`, undo: () => void write(undoWishes([wish.id])) });
    if (job.id !== id) back();
  }

  /** @param {Job} job */
  function onlyOne(job) {
    return job.in_the_way.length === 1 && job.in_the_way[0].job && h("p", { class: "soft note" }, "Tick that and this one is ready.");
  }

  /** @param {Job} job */
  function plants(job) {
    const batch = book.stand(context.today()).batches.find((/** @type {any} */ one) => one.id === job.batch);
    const cells = (batch?.cells || []).map((/** @type {any} */ cell) =>
      h("li", null, kept([cell.count === null ? cropWords(book, job.batch) : `${cell.count} ${cell.stage}`, cell.place && fullPlace(book, cell.place)].filter(Boolean).join(", "))),
    );
    return h(
      "div",
      null,
      h("ul", null, cells.length ? cells : h("li", null, "not begun yet")),
      h("button", { class: "key slim", type: "button", style: { "margin-top": "8px" }, onclick: () => go("batch", job.batch) }, batchName(book, job.batch)),
    );
  }

  /** @param {Job} job */
  function people(job) {
    const known = book.ofKind("person");
    if (!known.length) return h("p", { class: "soft" }, "whoever is there");
    return h(
      "div",
      { class: "keys" },
      known.map((/** @type {any} */ person) =>
        h("button", { class: "key slim", type: "button", "aria-pressed": String(job.for === person.id), onclick: () => void write([forWish(job, job.for === person.id ? null : person.id)]) }, person.fields.name || "?"),
      ),
    );
  }

  /** @param {Job} job */
  function actions(job) {
    if (job.state === "done") {
      return acts(h("button", { class: "key done", type: "button", onclick: onTap(() => void write(undoWishes(job.deeds || [])).then((ok) => ok && back())) }, "Undo"));
    }
    if (job.state === "let go") {
      return acts(h("button", { class: "key done", type: "button", onclick: onTap(() => void write([letGoWish(job.id, false, context.today(), job.title)])) }, "Take it back"));
    }
    if (some) return someActions(job);
    const waits = job.state !== "ready";
    const others = h(
      "div",
      { class: "keys three" },
      h("button", { class: "key", type: "button", onclick: () => go("put-off", job.id) }, "Put off"),
      h("button", { class: "key", type: "button", onclick: onTap(() => void letGo()) }, "Let go"),
      waits
        ? h("button", { class: "key", type: "button", onclick: onTap(() => void done({})) }, "Did it anyway")
        : job.count !== null && job.count > 1
          ? h("button", { class: "key", type: "button", onclick: () => { some = true; refresh(); } }, "Only some")
          : h("button", { class: "key", type: "button", onclick: () => go("jot", job.verb, job.batch || "", "", job.id) }, "Say more"),
    );
    if (waits) return acts(others);
    if (job.verb === "look" && job.writes.found) {
      return acts(
        h(
          "div",
          { class: "keys two" },
          h("button", { class: "key done", type: "button", onclick: onTap(() => void done({ level: "none" })) }, "None seen"),
          h("button", { class: "key done", type: "button", onclick: () => go("jot", "look", job.writes.batch || "", job.writes.found, job.id) }, "Seen"),
        ),
        others,
      );
    }
    const all = job.count === null ? "Done" : job.count === 1 ? "Done, the 1" : `Done, all\u00a0${job.count}`;
    return acts(h("button", { class: "key done", type: "button", onclick: onTap(() => void done({})) }, glyph("tick", 34, 4), all), others);
  }

  /** @param {Job} job */
  function someActions(job) {
    const most = job.count ?? 1;
    const count = stepper({ value: Math.max(1, Math.floor(most / 2)), least: 1, most: 99999, name: "How many", small: true, onChange: (value) => { if (key) key.textContent = `Done, ${value} of ${most}`; } });
    const key = h("button", { class: "key done", type: "button", onclick: onTap(() => void done({ count: count.value() })) }, `Done, ${count.value()} of ${most}`);
    return acts(count.element, h("div", { class: "keys two" }, h("button", { class: "key", type: "button", onclick: () => { some = false; refresh(); } }, "Back"), key));
  }

  refresh();
  return { element, title: find()?.title || "Job", refresh: (/** @type {string} */ what) => { if (what === "records" && !some) refresh(); } };
}

/** @param {...any} inside */
function acts(...inside) {
  return h("div", { class: "acts" }, h("div", { class: "in" }, inside));
}

/** @param {string} head @param {any} body */
function row(head, body) {
  return h("div", { class: "sec row" }, h("h2", null, head), body);
}

/** @param {{what: string, amount: number, unit: string}} need */
function needWords(need) {
  if (need.unit) return `${need.what} ${need.amount}\u00a0${need.unit}`;
  return /^\d/.test(need.what) ? `${need.amount} × ${kept(need.what)}` : `${counted(need.amount, need.what, need.what)}`;
}

/** @param {string} text */
function upper(text) {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
