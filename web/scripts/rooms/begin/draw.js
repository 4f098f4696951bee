// @ts-check
/** The first three questions, as elements. */
import { spotsIn } from "../../household/spots.js";
import { readLength } from "../../lib/amounts.js";
import { h } from "../../lib/dom.js";
import { unitName } from "../../lib/quantities.js";
import { board, heading, line, named, section, sheet, soft } from "../../ui/board.js";
import { glyph } from "../../ui/glyphs.js";
import { finishing, heldKey, key, keys } from "../../ui/key.js";
import { stepper } from "../../ui/stepper.js";
import { housePlan, scaleFor } from "../../ui/house-plan.js";
import { choice } from "../parts/ask.js";
import { STEPS } from "./seen.js";

/**
 * @typedef {import("./seen.js").Ask} Ask
 * @typedef {{step: (at: number) => void, site: () => void, unfold: (open: boolean) => void, again: () => void, locate: () => void, take: (climate: string) => void,
 *   type: (spot: Partial<Ask["spot"]>) => void, takeSpot: () => void, stand: (crop: string, place: string) => void, sort: (id: string, usual: import("./seen.js").Usual) => void, open: (place: string) => void,
 *   keep: (part: Partial<import("./seen.js").Usual>) => void, add: () => void, toggle: (crop: string) => void, want: (crop: string, plants: number) => void,
 *   putIn: (crops: string[]) => void, growing: () => void, upkeep: () => void}} Does
 */

/** @param {number} step @param {Does} does */
export function drawSteps(step, does) {
  return [
    h("header", { class: "head" }, h("h1", null, "Three questions")),
    h("div", { class: "gap-below" }, keys("three", STEPS.map((words, at) => heldKey(`${at + 1}. ${words}`, step === at, () => does.step(at))))),
  ];
}

/**
 * @param {ReturnType<typeof import("./seen.js").seeSite>} seen
 * @param {Ask} ask
 * @param {{find: HTMLElement, said: HTMLElement}} parts the line to type in, and what is said of the last answer
 * @param {Does} does
 */
export function drawSite({ known, asks, name, frosts, assumed, groups, none }, ask, { find, said }, does) {
  if (!asks) {
    return [
      h("p", { class: "ask" }, "Where do you grow?"),
      board(h("p", { class: "line" }, h("b", null, name), soft(frosts))),
      said,
      h("details", { class: "plan-step", open: ask.unfolded, ontoggle: (/** @type {any} */ event) => does.unfold(event.target.open) }, h("summary", null, h("b", null, "What we assumed")), board(assumed.map((one) => line(does.site, named(one.name, one.says), glyph("forward", 26))))),
      key("Somewhere else", does.again, { look: "gap" }),
      key("On to the places", () => does.step(1), { look: "done gap" }),
    ];
  }
  return [
    h("p", { class: "ask" }, "Where do you grow?"),
    key("Where this phone is", does.locate, { look: "solid gap-below" }),
    find,
    said,
    groups.map(({ title, names }) => [title && heading(title), board(names.map((one) => line(() => does.take(one), h("b", null, one), glyph("forward", 26))))]),
    !groups.length && none && board(h("p", { class: "line" }, none)),
    drawSpot(ask, does),
    key(known ? "It is right as it was" : "Later: begin with a lowland garden at 53° north", () => does.step(1), { look: "gap" }),
  ];
}

/** @param {Ask} ask @param {Does} does */
function drawSpot({ spot }, does) {
  const field = (/** @type {"lat" | "lon"} */ name, /** @type {string} */ words) => {
    const input = h("input", { type: "text", autocomplete: "off", value: spot[name], oninput: () => does.type({ [name]: input.value }) });
    return h("label", { class: "field" }, h("span", null, words), input);
  };
  return h("details", { class: "plan-step" }, h("summary", null, h("b", null, "By latitude and longitude")), field("lat", "Degrees north, below 0 for south"), field("lon", "Degrees east, below 0 for west"), key("The climate nearest to that", does.takeSpot));
}

/** @param {ReturnType<typeof import("./seen.js").seePlaces>} seen @param {Ask} ask @param {Does} does */
export function drawPlaces({ there, sorts, adding }, ask, does) {
  const on = there.length > 0 && !adding;
  return [
    h("p", { class: "ask" }, "What places do you have?"),
    there.length > 0 && board(there.map(({ id, name, says }) => line(() => does.open(id), h("b", null, name), soft(says)))),
    h("div", { class: "gap-below" }, keys("two", sorts.map(({ id, words, chosen, usual }) => heldKey(words, chosen, () => does.sort(chosen ? "" : id, usual))))),
    adding && drawHouse(adding, ask, does),
    key(there.length ? "On to what grows" : "Later: on to what grows", () => does.step(2), { look: on ? "solid gap" : "gap" }),
  ];
}

/** @param {{cover: string, beds: string, sized: boolean}} adding @param {Ask} ask @param {Does} does */
function drawHouse({ cover, beds, sized }, { house }, does) {
  const name = h("input", { type: "text", maxlength: 200, value: house.name, oninput: () => does.keep({ name: name.value }) });
  return sheet(
    section(
      sized && h("div", { class: "gap-below" }, drawnHouse(house, cover)),
      h("label", { class: "field" }, h("span", null, "What you call it"), name),
      figure(beds, { value: house.beds, least: 0, most: 60, step: 1 }, (value) => does.keep({ beds: value })),
      sized && figure(`Each long, ${unitName("length")}`, { value: house.long, least: 10, most: 10000, step: 50, of: "length", reads: readLength }, (long) => does.keep({ long })),
      sized && figure(`Each wide, ${unitName("length")}`, { value: house.wide, least: 10, most: 2000, step: 10, of: "length", reads: readLength }, (wide) => does.keep({ wide })),
      key("Add it", does.add, { look: "solid" }),
    ),
  );
}

/** A house as it would lie on the ground plan. @param {import("./seen.js").Usual} house @param {string} cover */
function drawnHouse(house, cover) {
  const places = Array.from({ length: house.beds }, (_, at) => ({ id: String(at), fields: { length_cm: house.long, width_cm: house.wide } }));
  const beds = [...spotsIn(places).values()].map((spot) => ({ ...spot, grows: /** @type {"none"} */ ("none") }));
  return housePlan(beds, cover, scaleFor([beds]));
}

/** @param {string} words @param {Omit<Parameters<typeof stepper>[0], "name">} range @param {(value: number) => void} act */
function figure(words, range, act) {
  return h("div", { class: "field" }, h("span", null, words), stepper({ ...range, name: words, small: true, onChange: act }).element);
}

/** @param {ReturnType<typeof import("./seen.js").seeCrops>} seen @param {HTMLElement} plan @param {Does} does */
export function drawCrops({ count, often, rest }, plan, does) {
  if (!count) return h("p", { class: "trouble" }, "What is known of crops has not come from the server yet. Open the app once where it answers.");
  const chips = (/** @type {typeof often} */ crops) => keys("two", crops.map(({ id, words, chosen }) => heldKey(words, chosen, () => does.toggle(id))));
  return [
    h("p", { class: "ask" }, "What do you grow?"),
    chips(often),
    h("details", { class: "plan-step" }, h("summary", null, h("b", null, `All ${count}`)), chips(rest)),
    plan,
    key("Put in what grows already", does.growing, { look: "gap" }),
    key("Choose other work: weeding, washing, seed order", does.upkeep, { look: "gap" }),
  ];
}

/** @param {ReturnType<typeof import("./seen.js").seePlan>} rows @param {Does} does */
export function drawPlan(rows, does) {
  if (!rows.length) return null;
  return [
    heading("The plan"),
    board(
      rows.map(({ crop, title, days, many, want, stands, places }) =>
        h(
          "div",
          { class: "entry" },
          h("b", null, title),
          soft(days),
          h("div", { class: "gap" }, stepper({ value: want, least: 1, name: `${many} wanted`, small: true, onChange: (plants) => does.want(crop, plants) }).element),
          choice(`Where the ${many} stand`, stands, places, (place) => does.stand(crop, place), "say where"),
        ),
      ),
    ),
    finishing(key(rows.length === 1 ? "Put this batch in the book" : `Put these ${rows.length} in the book`, () => does.putIn(rows.map(({ crop }) => crop)), { look: "done" })),
  ];
}
