// @ts-check
/** The last question of Jot, as elements: how many, what was seen, what the thermometer said, where to, or a word. */
import { OTHER } from "../../household/diary-lines.js";
import { readDegrees, readGrams } from "../../lib/amounts.js";
import { h } from "../../lib/dom.js";
import { unitName } from "../../lib/quantities.js";
import { capital } from "../../lib/words.js";
import { board, heading, line, section } from "../../ui/board.js";
import { finishing, heldKey, key, keyGroup, keys } from "../../ui/key.js";
import { stepper } from "../../ui/stepper.js";
import { onTap } from "../../ui/touch.js";
import { list } from "./draw.js";

/** @typedef {import("./draw.js").Does} Does */

const LEVELS = ["few", "many", "severe"];
const LOWEST_C = -40;
/** What stands under a weight. */
const WEIGHED = new Map([["g", "grams"], ["oz", "ounces"]]);

/**
 * Another day, a word, photos, and the bar that writes.
 * @param {{slip: import("./slip.js").Slip, today: string, photos: HTMLElement}} below
 * @param {Does} does
 * @param {() => Record<string, any> | null} said null to hold back
 */
export function drawBelow({ slip, today, photos }, does, said) {
  const note = h("textarea", { rows: 2, "aria-label": "A word about it", placeholder: "a word about it", oninput: () => does.type({ note: note.value }) });
  note.value = slip.note;
  const on = h("input", { type: "date", value: slip.on, max: today, "aria-label": "On which day", onchange: () => on.value && does.type({ on: on.value }) });
  const write = () => {
    const fields = said();
    if (fields) does.write(fields);
  };
  return [
    h("label", { class: "field gap-l" }, h("span", null, "A word"), note),
    h("label", { class: "field" }, h("span", null, "On"), on),
    photos,
    finishing(key("Write it down", onTap(write), { look: "done" })),
  ];
}

export function drawNoPlants() {
  return h("p", { class: "trouble" }, "These plants are not in the book any more.");
}

/** @param {NonNullable<ReturnType<typeof import("./seen.js").seeCount>>} seen @param {Does} does @param {(said: () => Record<string, any> | null) => any[]} below */
export function drawCount(seen, does, below) {
  const { weighing, to, pot, asks } = seen;
  const weighed = WEIGHED.get(unitName("weight")) || "";
  const count = weighing
    ? stepper({ value: seen.grams, least: 0, step: 50, name: capital(weighed), under: weighed, of: "weight", reads: readGrams, onChange: (weight) => does.type({ more: { weight } }) })
    : stepper({ value: seen.count, least: 0, offers: seen.there ?? undefined, name: "How many", under: seen.under, onChange: (typed) => does.type({ more: { typed } }) });
  const store = seen.stores.find((one) => one.chosen);
  const ends = to ? { to_place: to.chosen } : store ? { to_place: store.id } : {};
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, asks), ` ${seen.crop}?`),
    count.element,
    h("div", { class: "keys jumps four" }, seen.jumps.map((jump) => key([jump.says, jump.words && h("small", null, jump.words)], () => count.set(jump.value)))),
    seen.pots.length > 0 && jumps(keyGroup("Pot size", "", seen.pots.map(({ litres, words, chosen }) => heldKey(words, chosen, () => does.choose({ pot: litres }))))),
    seen.picking && jumps(keys("three", heldKey("Count", !weighing, () => does.choose({ weigh: false })), heldKey("Weigh", weighing, () => does.choose({ weigh: true })), key("No count", onTap(() => does.write({ ...ends, count: null }))))),
    to && drawEnds(to.places, does),
    seen.stores.length > 0 && jumps(keyGroup("Into store", "two", seen.stores.map((one) => heldKey(`Into ${one.name}`, one.chosen, () => does.choose({ to_place: one.chosen ? null : one.id }))))),
    seen.potbound !== null && jumps(keys("", heldKey("Roots were pot-bound", seen.potbound, () => does.choose({ condition: seen.potbound ? null : "potbound" })))),
    below(() => {
      const amount = count.value();
      if (amount === null) return null;
      return { ...ends, ...(weighing ? { count: null, weight_g: Math.round(amount) } : { count: amount }), ...(pot === null ? {} : { pot_l: pot }) };
    }),
  );
}

/** How much was sown, where nobody counts. @param {NonNullable<ReturnType<typeof import("./seen.js").seeRows>>} seen @param {Does} does @param {(said: () => Record<string, any>) => any[]} below */
export function drawRows({ crop, amounts, to }, does, below) {
  const chosen = (/** @type {typeof amounts[0]} */ one) => does.choose(one.chosen ? { rows: null, pinches: null } : { rows: one.rows, pinches: one.pinches });
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, "How much"), ` of the ${crop}?`),
    keyGroup("How much", "three", amounts.map((one) => heldKey(one.words, one.chosen, () => chosen(one)))),
    drawEnds(to.places, does),
    below(() => (to.chosen ? { to_place: to.chosen } : {})),
  );
}

/** @param {HTMLElement} element */
function jumps(element) {
  element.classList.add("jumps");
  return element;
}

/** @param {{id: any, name: string, chosen: boolean}[]} places @param {Does} does */
function drawEnds(places, does) {
  return h("div", null, h("h2", { class: "ask small" }, h("b", null, "Where to?")), keys("two", places.map(({ id, name, chosen }) => heldKey(name, chosen, () => does.choose({ to_place: id })))));
}

/** @param {ReturnType<typeof import("./seen.js").seeWhere>} seen @param {Does} does */
export function drawWhere({ crop, plants, from, places }, does) {
  const count = stepper({ value: plants || 1, least: 1, name: "How many", small: true });
  const goTo = (/** @type {any} */ place) => {
    const many = count.value();
    if (many !== null) does.write({ to_place: place, place: from, count: plants === null || many === plants ? null : many });
  };
  const rows = places.map(({ id, name }) => line(onTap(() => goTo(id)), h("b", null, name)));
  const asked = list([h("b", null, "How many"), ` ${crop}, and where to?`], rows);
  if (plants !== null) asked.firstChild?.after(count.element);
  return asked;
}

/** @param {ReturnType<typeof import("./seen.js").seeSightings>} seen @param {(found: string | null, level: string | null) => void} put @param {Does} does */
export function drawSightings({ treating, on, none, likely, others }, put, does) {
  const troubles = (/** @type {typeof likely} */ some) => board(some.map((trouble) => drawTrouble(trouble, treating, put)));
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, treating ? "Treated" : "Saw"), treating ? ` ${on} for what?` : ` what on ${on}?`),
    !treating && key(none.words, onTap(() => put(none.found, none.found ? "none" : null)), { look: "gap-below" }),
    likely.length > 0 && troubles(likely),
    !treating && key("Something else", () => does.set({ more: { other: true } })),
    others.length > 0 && [heading("Less often"), troubles(others)],
    treating && !likely.length && h("p", { class: "soft note" }, "Nothing is known here that these plants are treated for. Write a note instead."),
    treating && h("p", { class: "soft note" }, "Only approved products, and just as the label says."),
  );
}

/**
 * Something that has no name here: in words, or with a photo.
 * @param {{on: string, silent: () => boolean}} seen silent: nothing is said of it yet
 * @param {(said: () => Record<string, any> | null) => any[]} below
 */
export function drawOther({ on, silent }, below) {
  const wrong = h("p", { class: "trouble", role: "alert", hidden: true }, "Say in a word what you saw, or take a photo of it.");
  const said = () => {
    wrong.hidden = !silent();
    return wrong.hidden ? { found: OTHER } : null;
  };
  return h("div", null, h("h2", { class: "ask" }, h("b", null, "Saw something else"), ` on ${on}`), wrong, below(said));
}

/** @param {{id: string, name: string}} trouble @param {boolean} treating @param {(found: string, level: string | null) => void} put */
function drawTrouble({ id, name }, treating, put) {
  return section(
    h("p", null, h("b", null, name)),
    treating
      ? key("Treated", onTap(() => put(id, null)), { look: "gap", "aria-label": `Treated for ${name}` })
      : keys("three", LEVELS.map((level) => key(level, onTap(() => put(id, level)), { "aria-label": `${name}: ${level}` }))),
  );
}

/** @param {ReturnType<typeof import("./seen.js").seeReading>} seen @param {Does} does @param {(said: () => Record<string, any> | null) => any[]} below */
export function drawReading(seen, does, below) {
  const unit = unitName("degrees");
  const half = { least: LOWEST_C, step: 0.5, decimals: 1, small: true, of: /** @type {const} */ ("degrees"), reads: readDegrees };
  const low = stepper({ ...half, value: seen.low, most: 50, name: `Night minimum, ${unit}`, under: `lowest, ${unit}`, onChange: (now) => does.type({ more: { low: now } }) });
  const high = stepper({ ...half, value: seen.high, most: 60, name: `Day maximum, ${unit}`, under: `highest, ${unit}`, onChange: (now) => does.type({ more: { high: now } }) });
  const wrong = h("p", { class: "trouble", role: "alert", hidden: true }, "The lowest is above the highest. Change one of them.");
  const said = () => {
    const [tmin, tmax] = [low.value(), high.value()];
    if (tmin === null || tmax === null) return null;
    wrong.hidden = tmin <= tmax;
    return wrong.hidden ? { tmin, tmax } : null;
  };
  return h("div", null, h("h2", { class: "ask" }, h("b", null, "Lowest and highest"), ` in ${seen.where}?`), low.element, high.element, wrong, below(said));
}

/** @param {ReturnType<typeof import("./seen.js").seeNote>} seen @param {Does} does @param {(said: () => Record<string, any>) => any[]} below */
export function drawNote({ verb, about, places, place, roots }, does, below) {
  return h(
    "div",
    null,
    h("h2", { class: "ask" }, h("b", null, verb), about),
    places && h("label", { class: "field" }, h("span", null, "About a place"), drawSelect(places, place, does)),
    roots && h("p", { class: "soft" }, "All of them, roots and all. The ground is free after that."),
    below(() => ({})),
  );
}

/** @param {{id: string, name: string}[]} places @param {string | null} chosen @param {Does} does */
function drawSelect(places, chosen, does) {
  const select = h("select", { onchange: () => does.set({ place: select.value || null }) }, h("option", { value: "" }, "no place"), places.map(({ id, name }) => h("option", { value: id }, name)));
  select.value = chosen || "";
  return select;
}
