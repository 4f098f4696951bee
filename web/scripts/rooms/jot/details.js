// @ts-check
/** The last question of Jot: how many, what was seen, what the thermometer said, where to, or a word. */
import { h } from "../../lib/dom.js";
import { kept } from "../../lib/words.js";
import { stepper } from "../../ui/stepper.js";
import { onTap } from "../../ui/touch.js";
import { byWalk, cropOf, cropWords, fullPlace, houses } from "../../household/names.js";
import { jobForBatch } from "../../household/answers.js";
import { countsFor, potSizes, troublesFor, verbWord } from "./choices.js";

const LEVELS = ["few", "many", "severe"];

/** Another day, a word, and the bar that writes. @param {any} tools @param {() => Record<string, any> | null} more null to hold back @param {string} [words] */
function below(tools, more, words = "Write it down") {
  const { slip, keep, write, context } = tools;
  const note = h("textarea", {
    rows: 2,
    "aria-label": "A word about it",
    placeholder: "a word about it",
    oninput: () => {
      slip.note = note.value;
      keep();
    },
  });
  note.value = slip.note;
  const on = h("input", {
    type: "date",
    value: slip.on,
    max: context.today(),
    "aria-label": "On which day",
    onchange: () => {
      if (on.value) slip.on = on.value;
      keep();
    },
  });
  return h(
    "div",
    null,
    h("label", { class: "field", style: { "margin-top": "14px" } }, h("span", null, "A word"), note),
    h("label", { class: "field" }, h("span", null, "On"), on),
    tools.photos(),
    h("div", { class: "write-bar" }, h("button", { class: "key done", type: "button", onclick: onTap(() => { const fields = more(); if (fields) void write(fields); }) }, words)),
  );
}

/** @param {any} tools */
export function askCount(tools) {
  const { context, slip, refresh } = tools;
  const { book } = context;
  const today = context.today();
  const batch = book.stand(today).batches.find((/** @type {any} */ one) => one.id === slip.batch);
  if (!batch) return h("p", { class: "trouble" }, "These plants are not in the book any more.");
  const job = slip.job || jobForBatch(book.jobs(today), slip.batch, slip.did);
  const { value, jumps } = countsFor({ verb: slip.did, batch, job, diary: book.ofKind("diary") });
  const weighing = slip.did === "pick" && (slip.more.weigh ?? lastWeighed(book, slip.batch));
  const count = weighing
    ? stepper({ value: slip.more.weight ?? lastWeight(book, slip.batch), least: 0, step: 50, name: "Grams", under: "grams", onChange: (now) => (slip.more.weight = now) })
    : stepper({ value: slip.more.typed ?? value, least: 0, name: "How many", under: job?.count ? `the list says ${job.count}` : undefined, onChange: (now) => (slip.more.typed = now) });
  const pots = slip.did === "pot_up" ? potSizes(book, slip.batch) : [];
  const pot = slip.more.pot ?? job?.writes.pot_l ?? pots[0];
  const keys = weighing ? [100, 250, 500, 1000].map((grams) => ({ value: grams, words: grams === 1000 ? "1 kg" : "" })) : jumps;
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, weighing ? "How heavy" : "How many"), ` ${cropWords(book, slip.batch)}?`),
    count.element,
    h("div", { class: "keys jumps four" }, keys.map((jump) => h("button", { class: "key", type: "button", onclick: () => count.set(jump.value) }, jump.value, jump.words && h("small", null, jump.words)))),
    pots.length > 0 && h("div", { class: "keys jumps", role: "group", "aria-label": "Pot size" }, pots.map((litres) => h("button", { class: "key", type: "button", "aria-pressed": String(litres === pot), onclick: () => { slip.more.pot = litres; refresh(); } }, kept(`${litres} L`)))),
    slip.did === "pick" &&
      h(
        "div",
        { class: "keys three jumps" },
        h("button", { class: "key", type: "button", "aria-pressed": String(!weighing), onclick: () => { slip.more.weigh = false; refresh(); } }, "Count"),
        h("button", { class: "key", type: "button", "aria-pressed": String(Boolean(weighing)), onclick: () => { slip.more.weigh = true; refresh(); } }, "Weigh"),
        h("button", { class: "key", type: "button", onclick: onTap(() => void tools.write({ ...blank(), count: null })) }, "No count"),
      ),
    placeKeys(tools, batch, job),
    ["plant_out", "pot_up"].includes(slip.did) && potbound(tools),
    below(tools, () => ({
      ...blank(),
      count: weighing ? null : count.value(),
      weight_g: weighing ? count.value() : null,
      pot_l: slip.did === "pot_up" ? pot : undefined,
    })),
  );
}

/** Working choices never go into the record. */
function blank() {
  return { typed: null, weight: null, weigh: null, pot: null };
}

/** @param {any} tools */
function potbound(tools) {
  const { slip, refresh } = tools;
  const on = slip.more.condition === "potbound";
  return h("div", { class: "keys jumps" }, h("button", { class: "key", type: "button", "aria-pressed": String(on), onclick: () => { slip.more.condition = on ? null : "potbound"; refresh(); } }, "Roots were pot-bound"));
}

/** Where moving plants end, as keys; the likeliest chosen. @param {any} tools @param {any} batch @param {any} job */
function placeKeys(tools, batch, job) {
  const { context, slip, refresh } = tools;
  const { book } = context;
  if (!["sow", "prick_out", "pot_up", "plant_out"].includes(slip.did)) return null;
  const likely = [job?.writes.to_place, batch.for_place, context.settings.placeInHand, ...batch.cells.map((/** @type {any} */ cell) => cell.place)].filter(Boolean);
  const sorts = slip.did === "plant_out" ? ["bed", "border", "frame"] : ["propagator", "bench", "shelf"];
  const more = book.ofKind("place").filter((/** @type {any} */ place) => sorts.includes(place.fields.sort)).sort(byWalk).map((/** @type {any} */ place) => place.id);
  const places = [...new Set([...likely, ...more])].slice(0, 6);
  const chosen = slip.more.to_place ?? places[0];
  if (chosen && slip.more.to_place !== chosen) slip.more.to_place = chosen;
  return h(
    "div",
    null,
    h("h2", { class: "ask", style: { "font-size": "var(--t-say)" } }, h("b", null, "Where to?")),
    h("div", { class: "keys two" }, places.map((place) => h("button", { class: "key", type: "button", "aria-pressed": String(place === chosen), onclick: () => { slip.more.to_place = place; refresh(); } }, fullPlace(book, place)))),
  );
}

/** @param {any} tools */
export function askWhere(tools) {
  const { context, slip, write } = tools;
  const { book } = context;
  const batch = book.stand(context.today()).batches.find((/** @type {any} */ one) => one.id === slip.batch);
  const count = stepper({ value: batch?.plants || 1, least: 1, name: "How many", small: true });
  const holding = book.ofKind("fixture").filter((/** @type {any} */ fixture) => fixture.fields.holds === true);
  const places = [...houses(book).flatMap((house) => [house, ...book.ofKind("place").filter((/** @type {any} */ place) => place.fields.within === house.id).sort(byWalk)]), ...holding];
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, "How many"), ` ${cropWords(book, slip.batch)}, and where to?`),
    batch?.plants !== null && count.element,
    h(
      "div",
      { class: "board" },
      places.map((place) =>
        h(
          "button",
          {
            class: "line",
            type: "button",
            onclick: onTap(() => void write({ to_place: place.id, place: batch?.cells[0]?.place ?? null, count: batch?.plants === null || count.value() === batch?.plants ? null : count.value() })),
          },
          h("b", null, fullPlace(book, place.id)),
        ),
      ),
    ),
  );
}

/** @param {any} tools */
export function askSighting(tools) {
  const { context, slip, write } = tools;
  const { book } = context;
  const care = book.rulebook.care || {};
  const order = slip.found ? [slip.found, ...troublesFor(book, slip.batch).filter((one) => one !== slip.found)] : troublesFor(book, slip.batch);
  const treating = slip.did === "treat";
  const put = (/** @type {string | null} */ found, /** @type {string | null} */ level) => {
    slip.found = found;
    void write({ found, level });
  };
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, treating ? [h("b", null, "Treated"), " for what?"] : [h("b", null, "Saw"), " what, and how much?"]),
    !treating && h("button", { class: "key", type: "button", style: { "margin-bottom": "10px" }, onclick: onTap(() => put(slip.found, slip.found ? "none" : null)) }, slip.found ? `None seen of ${care[slip.found]?.name || slip.found}` : "Looked, all well"),
    h(
      "div",
      { class: "board" },
      order.map((found) =>
        h(
          "div",
          { class: "sec" },
          h("p", { style: { "margin-bottom": "6px" } }, h("b", null, care[found].name)),
          treating
            ? h("button", { class: "key", type: "button", "aria-label": `Treated for ${care[found].name}`, onclick: onTap(() => put(found, null)) }, "Treated")
            : h("div", { class: "keys three" }, LEVELS.map((level) => h("button", { class: "key", type: "button", "aria-label": `${care[found].name}: ${level}`, onclick: onTap(() => put(found, level)) }, level))),
        ),
      ),
    ),
    treating && h("p", { class: "soft note" }, "Only approved products, and just as the label says."),
  );
}

/** @param {any} tools */
export function askReading(tools) {
  const { context, slip } = tools;
  const last = context.book
    .ofKind("diary")
    .filter((/** @type {any} */ record) => record.fields.did === "measure" && record.fields.place === slip.place && record.fields.tmin !== undefined)
    .sort((/** @type {any} */ a, /** @type {any} */ b) => (a.fields.on < b.fields.on ? 1 : -1))[0]?.fields;
  const low = stepper({ value: slip.more.low ?? last?.tmin ?? 8, least: -40, most: 50, step: 0.5, decimals: 1, name: "Night minimum, °C", under: "lowest, °C", small: true, onChange: (now) => (slip.more.low = now) });
  const high = stepper({ value: slip.more.high ?? last?.tmax ?? 20, least: -40, most: 60, step: 0.5, decimals: 1, name: "Day maximum, °C", under: "highest, °C", small: true, onChange: (now) => (slip.more.high = now) });
  const wrong = h("p", { class: "trouble", role: "alert", hidden: true }, "The lowest is above the highest. Change one of them.");
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, "Lowest and highest"), ` in ${fullPlace(context.book, slip.place)}?`),
    low.element,
    high.element,
    wrong,
    below(tools, () => {
      const bad = low.value() > high.value();
      wrong.hidden = !bad;
      return bad ? null : { low: null, high: null, tmin: low.value(), tmax: high.value() };
    }),
  );
}

/** @param {any} tools */
export function askNote(tools) {
  const { context, slip, set } = tools;
  const { book } = context;
  const about = slip.batch ? cropWords(book, slip.batch) : slip.place ? fullPlace(book, slip.place) : "";
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, verbWord(slip.did)), about ? ` ${about}` : ""),
    slip.did === "note" && h("label", { class: "field" }, h("span", null, "About a place"), select(book, slip.place, (place) => set({ place }))),
    slip.did === "clear" && cropOf(book, slip.batch).many && h("p", { class: "soft" }, "All of them, roots and all. The ground is free after that."),
    below(tools, () => ({})),
  );
}

/** @param {any} book @param {string | null} chosen @param {(place: string | null) => void} act */
function select(book, chosen, act) {
  const element = h("select", { onchange: () => act(element.value || null) }, h("option", { value: "" }, "no place"), book.ofKind("place").sort(byWalk).map((/** @type {any} */ place) => h("option", { value: place.id }, fullPlace(book, place.id))));
  element.value = chosen || "";
  return element;
}

/** @param {any} book @param {string} batch */
function lastWeighed(book, batch) {
  return book.ofKind("diary").some((/** @type {any} */ record) => record.fields.batch === batch && record.fields.weight_g);
}

/** @param {any} book @param {string} batch */
function lastWeight(book, batch) {
  const weighed = book.ofKind("diary").filter((/** @type {any} */ record) => record.fields.batch === batch && record.fields.weight_g);
  return weighed.sort((/** @type {any} */ a, /** @type {any} */ b) => (a.fields.on < b.fields.on ? 1 : -1))[0]?.fields.weight_g ?? 500;
}
