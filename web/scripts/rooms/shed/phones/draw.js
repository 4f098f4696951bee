// @ts-check
/** Phones, as elements. */
import { h } from "../../../lib/dom.js";
import { board, emptyBoard, named, section } from "../../../ui/board.js";
import { heldKey, key, keys } from "../../../ui/key.js";
import { squares } from "../../../ui/squares.js";

/**
 * @typedef {ReturnType<typeof import("./seen.js").seePhones>} Seen
 * @typedef {{newCode: () => void, answer: (id: string, name: string, yes: boolean) => void, ask: (id: string) => void, turnOut: (id: string, name: string) => void,
 *   invite: (inviting: boolean) => void, place: (id: string) => void, until: (day: string) => void, guestCode: () => void}} Does
 */

export function drawAlone() {
  return emptyBoard("This server answers its own machine alone, so no phone can join. Start it with “mudproof serve” for the home network.");
}

/** @param {Seen} seen @param {string} asking the phone that may be turned out @param {Does} does */
export function drawPhones({ waiting, phones }, asking, does) {
  return [
    waiting.map((one) => drawWaiting(one, does)),
    board(phones.map((phone) => [drawPhone(phone, asking, does), asking === phone.id && drawTurnOut(phone, does)]), !phones.length && h("p", { class: "line soft" }, "No phone has joined yet.")),
  ];
}

/** @param {boolean} inviting @param {Does} does */
export function drawMore(inviting, does) {
  return keys("two", key("One more phone", does.newCode, { look: "solid" }), key("A guest", () => does.invite(!inviting), { "aria-expanded": String(inviting) }));
}

/** @param {Seen["waiting"][0]} one @param {Does} does */
function drawWaiting({ id, name, words }, { answer }) {
  return asked(
    { role: "alert", "aria-label": `${name} asks to join` },
    h("p", null, h("b", null, name), " asks to join the household."),
    h("p", { class: "soft gap-s" }, words),
    h("div", { class: "gap" }, keys("two", key("Not this one", () => answer(id, name, false)), key("Let it in", () => answer(id, name, true), { look: "solid" }))),
  );
}

/** @param {import("./seen.js").SeenPhone} phone @param {string} asking @param {Does} does */
function drawPhone({ id, name, mine, words }, asking, { ask }) {
  return h("div", { class: "line" }, named(name, words), !mine && key("Turn out", () => ask(asking === id ? "" : id), { look: "slim", "aria-label": `Turn out ${name}` }));
}

/** @param {import("./seen.js").SeenPhone} phone @param {Does} does */
function drawTurnOut({ id, name }, { ask, turnOut }) {
  return section(
    h("p", null, `${name} is shown nothing more from now on. What it had not shared yet stays on it, and comes when it joins again.`),
    h("div", { class: "gap" }, keys("two", key("Let it stay", () => ask("")), key("Turn it out", () => turnOut(id, name), { look: "solid" }))),
  );
}

/**
 * @param {ReturnType<typeof import("./seen.js").seeGuestPlaces>} places
 * @param {{until: string, today: string}} days
 * @param {Does} does
 */
export function drawGuestForm(places, { until, today }, does) {
  const day = h("input", { type: "date", value: until, min: today, onchange: () => does.until(day.value) });
  return h(
    "section",
    { "aria-label": "A guest" },
    h("p", { class: "soft note gap-l" }, "While you are away: a guest sees the jobs of the places you choose, can tick them and write notes, and no more. It ends by itself."),
    h("div", { class: "gap" }, keys("two", places.map(({ id, name, chosen }) => heldKey(name, chosen, () => does.place(id))))),
    h("label", { class: "field gap-l" }, h("span", null, "Last day"), day),
    key("A code for the guest", does.guestCode, { look: "solid", disabled: !places.some(({ chosen }) => chosen) }),
  );
}

/** @param {ReturnType<typeof import("./seen.js").seeCode>} seen */
export function drawCode({ code, address, until, squares: picture }) {
  return asked(
    { "aria-label": "A code for one phone" },
    h("p", { class: "soft" }, "On the new phone open"),
    h("p", null, h("b", null, address)),
    h("p", { class: "soft gap" }, "put it on the home screen, open it there, and type"),
    h("p", { class: "big spaced" }, code),
    h("p", { class: "soft" }, until),
    h("div", { class: "gap" }, squares(picture, "The address and the code, for a camera")),
  );
}

/** @param {Record<string, string>} attributes @param {...any} inside */
function asked(attributes, ...inside) {
  return h("section", { class: "lab plain", ...attributes }, h("div", { class: "in" }, section(inside)));
}
