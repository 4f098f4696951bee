// @ts-check
/** A place's thermometer, as elements. */
import { h } from "../../../lib/dom.js";
import { emptyBoard, lead, row, section, sheet } from "../../../ui/board.js";
import { finishing, heldKey, key, keyGroup, keys } from "../../../ui/key.js";
import { top } from "../../../ui/top.js";
import { fileKey, rowsLeftOut } from "../../parts/file.js";
import { yearChart } from "./chart.js";

/**
 * @typedef {ReturnType<typeof import("./seen.js").seeFound>} Found
 * @typedef {{back: () => void, showYear: (year: string) => void, older: () => void, choose: (file: File) => void, type: () => void,
 *   answer: (question: string, choice: string) => void, take: () => void}} Does
 */

/**
 * @param {ReturnType<typeof import("./seen.js").seeReadings>} seen
 * @param {{said: string, busy: boolean, found: Found | null, again: boolean}} state
 * @param {Does} does
 */
export function drawReadings({ place, learned, years, shown, older, days }, { said, busy, found, again }, does) {
  return [
    top(does.back, "Thermometer"),
    lead(place),
    learned && sheet(section(h("p", null, learned))),
    years.length > 0 && keyGroup("Year", "", years.map((year) => heldKey(year, year === shown, () => does.showYear(year), { look: "slim" }))),
    older && key("Older years too", does.older, { look: "slim gap-below" }),
    shown ? yearChart(days, shown) : emptyBoard("Nothing read here yet. A file from a thermometer that writes down its readings, or minimum and maximum typed on the round, move this house's dates."),
    said && h("p", { class: "trouble", role: "alert" }, said),
    busy && h("p", { class: "soft note", role: "status" }, "Reading the file."),
    found && drawFound(found, does),
    fileKey(again ? "Another file" : "A file from the thermometer", does.choose),
    key("Type what it says now", does.type, { look: "gap" }),
  ];
}

/** @param {Found} found @param {Does} does */
function drawFound({ question, problem, days, leftOut }, { answer, take }) {
  if (question) return [h("p", { class: "ask" }, question.ask), keys("two", question.choices.map((choice) => key(choice, () => answer(question.id, choice))))];
  return [
    problem && h("p", { class: "trouble", role: "alert" }, problem),
    days && sheet(section(h("p", { class: "big" }, days.count), h("p", { class: "soft" }, days.span)), row("Coldest", h("p", null, days.coldest)), row("Warmest", h("p", null, days.warmest))),
    rowsLeftOut(leftOut),
    days && finishing(key(days.key, take, { look: "done" })),
  ];
}
