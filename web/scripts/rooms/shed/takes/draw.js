// @ts-check
/** What it takes, as elements. */
import { readNumber } from "../../../lib/amounts.js";
import { h } from "../../../lib/dom.js";
import { board, emptyBoard, heading, lead, line, named, soft } from "../../../ui/board.js";
import { heldKey, key, keyGroup } from "../../../ui/key.js";
import { stepper } from "../../../ui/stepper.js";
import { top } from "../../../ui/top.js";
import { onTap } from "../../../ui/touch.js";
import { dateLine } from "../../parts/ask.js";

/**
 * @typedef {import("./seen.js").Seen} Seen
 * @typedef {{back: () => void, stretch: (days: number) => void, days: (own: {from?: string, to?: string}) => void, got: (row: Seen["buy"][0]) => void, opened: string | null, open: (key: string | null) => void,
 *   count: (row: Seen["shed"][0], held: number) => void, print: () => void, own: () => void}} Does opened: whose count is being changed
 */

/** @param {Seen} seen @param {Does} does */
export function drawTakes({ words, stretches, own, buy, got, shed, empty }, does) {
  return [
    top(does.back, "What it takes"),
    lead(words),
    keyGroup("For how long", "two", stretches.map((one) => heldKey(one.words, one.chosen, () => does.stretch(one.days), { look: "slim" }))),
    h("details", { class: "plan-step no-paper", open: Boolean(own.from || own.to) }, h("summary", null, h("b", null, "Other days")), dateLine("From", own.from, (from) => does.days({ from })), dateLine("To", own.to, (to) => does.days({ to })), own.wrong && h("p", { class: "past", role: "alert" }, own.wrong)),
    empty && h("div", { class: "gap" }, emptyBoard(empty)),
    buy.length > 0 && heading("To buy"),
    buy.length > 0 && h("div", { class: "board shopping" }, buy.map((row) => drawBuy(row, does))),
    !buy.length && shed.length > 0 && h("p", { class: "gap", role: "status" }, "The shed holds all of it."),
    got.length > 0 && [heading("Bought today"), board(got.map((row) => h("p", { class: "line bought" }, named(row.words))))],
    buy.length > 0 && key("Print the list", does.print, { look: "slim gap" }),
    shed.length > 0 && [heading("In the shed"), soft("A tap puts down how much there is."), board(shed.map((row) => drawHeld(row, does)))],
    key("Our own pots and trays", does.own, { look: "gap" }),
  ];
}

/** @param {Seen["buy"][0]} row @param {Does} does */
function drawBuy(row, { got }) {
  return h("div", { class: "line" }, named(row.words, row.beside), key("Got it", onTap(() => got(row)), { look: "slim", "aria-label": `Got it: ${row.words}` }));
}

/** @param {Seen["shed"][0]} row @param {Does} does */
function drawHeld(row, { opened, open, count }) {
  if (opened !== row.key) return line(() => open(row.key), named(row.words, row.beside));
  const figure = stepper({ value: row.held, least: 0, most: 1_000_000, decimals: row.unit === "L" || row.unit === "kg" ? 1 : 0, name: `${row.words} in the shed`, under: row.unit || undefined, small: true, reads: readNumber });
  const put = () => {
    const held = figure.value();
    if (held !== null) count(row, held);
  };
  return h("div", { class: "line counting" }, named(row.words, row.beside), figure.element, key("So much is there", put), key("Leave it", () => open(null), { look: "slim" }));
}
