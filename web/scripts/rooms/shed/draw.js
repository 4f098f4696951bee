// @ts-check
/** The Shed, as elements. */
import { h } from "../../lib/dom.js";
import { board, heading, line, named, section, sheet, soft } from "../../ui/board.js";
import { glyph } from "../../ui/glyphs.js";
import { heldKey, key, keys } from "../../ui/key.js";

/**
 * @typedef {ReturnType<typeof import("./seen.js").seeHousehold>} Household
 * @typedef {ReturnType<typeof import("./seen.js").seeRefused>} Refused
 * @typedef {{open: (...way: [string, ...string[]]) => void, holds: (person: string) => void, set: (name: "scheme" | "hand" | "awake", value: string) => void,
 *   share: (key: HTMLElement) => void, saveCopy: () => void, bringBack: (file: File) => void, change: (refused: Refused) => void, drop: (refused: Refused) => void}} Does
 */

const SCHEMES = [["day", "Day"], ["sun", "Bright sun"], ["dusk", "Dusk"]];
const HANDS = [["left", "left thumb"], ["right", "right thumb"]];
const AWAKE = [["no", "goes dark"], ["yes", "stays on"]];

/** @param {string} words */
export function drawHead(words) {
  return h("header", { class: "head" }, h("h1", null, "Shed"), h("p", { class: "soft note" }, words));
}

/** @param {ReturnType<typeof import("./seen.js").seeSharing>} seen @param {Does} does */
export function drawSharing({ words, lines }, does) {
  return sheet(
    section(
      h("p", { class: "title" }, h("b", null, words)),
      lines.map((one) => h("p", { class: "soft gap-s" }, one)),
      key("Share now", (event) => does.share(event.currentTarget), { look: "gap-l" }),
    ),
  );
}

/** @param {Refused[]} refused @param {Does} does */
export function drawRefused(refused, does) {
  return refused.length > 0 && [heading("Not taken by the server"), board(refused.map((one) => drawRefusedRow(one, does)))];
}

/** @param {Refused} one @param {Does} does */
function drawRefusedRow(one, { change, drop }) {
  return h(
    "div",
    { class: "entry" },
    h("b", null, one.verb),
    ` ${one.what}`,
    soft(one.why),
    one.note && h("span", { class: "quote" }, one.note),
    h("div", { class: "gap" }, keys("two", key("Change it", () => change(one), { look: "slim" }), key("Throw away", () => drop(one), { look: "slim" }))),
  );
}

/** @param {Household} seen @param {{scheme: string, hand: string, awake: string}} settings @param {Does} does */
export function drawPhone({ people }, { scheme, hand, awake }, does) {
  return [
    heading("Who holds this phone"),
    keys("", people.map(({ id, name, holds }) => heldKey(name, holds, () => does.holds(id))), key(people.length ? "Add a name" : "Put down a name", () => does.open("form", "person", "new"))),
    heading("To see by"),
    keys("three", SCHEMES.map(([id, words]) => heldKey(words, scheme === id, () => does.set("scheme", id), { look: `see-${id}` }))),
    heading("Tick and Jot under"),
    keys("two", HANDS.map(([id, words]) => heldKey(words, hand === id, () => does.set("hand", id)))),
    "wakeLock" in navigator && [heading("The screen, on a round"), keys("two", AWAKE.map(([id, words]) => heldKey(words, awake === id, () => does.set("awake", id))))],
  ];
}

/** @param {string | null} said @param {string} space @param {Does} does */
export function drawKept(said, space, does) {
  /** @param {any} event */
  const onchange = (event) => event.target.files?.[0] && does.bringBack(event.target.files[0]);
  return [
    heading("Kept safe"),
    board(
      line(does.saveCopy, named("Save a copy", "everything this phone holds, as one file; needs no server"), glyph("forward", 26)),
      h("label", { class: "line" }, named("Bring a copy back", "adds what is missing here, takes nothing away"), h("input", { type: "file", accept: "application/json,.json", class: "unseen", onchange }), glyph("forward", 26)),
      said && h("p", { class: "line", role: "status" }, said),
      h("p", { class: "line soft" }, space || "Asking the phone how much room there is."),
    ),
  ];
}

/** @param {Household} seen @param {Does} does */
export function drawHousehold({ site, varieties, upkeep, leftOut }, { open }) {
  return [
    heading("This household"),
    board(
      line(() => open("form", "site", "site"), named("Where you are", site), glyph("forward", 26)),
      line(() => open("varieties"), h("b", null, "Varieties"), soft(varieties)),
      line(() => open("takes"), named("What it takes", "seed, pots, compost, and what is to be bought"), glyph("forward", 26)),
      line(() => open("vessels"), named("Pots and trays", "your own sizes"), glyph("forward", 26)),
      line(() => open("upkeep"), named("Other work", upkeep), glyph("forward", 26)),
      line(() => open("phones"), named("Phones", "who has joined, and one more"), glyph("forward", 26)),
      line(() => open("crops"), named("Crops", "their numbers, and your own way with them"), glyph("forward", 26)),
      leftOut.map((words) => h("p", { class: "line soft" }, words)),
    ),
  ];
}

/** @param {{offline: string, homeScreen: string, version: string}} words */
export function drawOpening({ offline, homeScreen, version }) {
  return [
    heading("Opening with no signal"),
    board(h("p", { class: "line" }, offline), h("p", { class: "line soft" }, homeScreen)),
    h("p", { class: "soft note gap-l" }, "What the list says is a help, not an order. For sprays the label and local rules hold, for wiring and water a licensed person, for what may be eaten your own good sense."),
    h("p", { class: "soft note gap-l" }, `Mudproof, version ${version}.`),
  ];
}
