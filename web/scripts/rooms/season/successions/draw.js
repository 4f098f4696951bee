// @ts-check
/** One after another, as elements. */
import { h } from "../../../lib/dom.js";
import { board, heading, lead, named, soft } from "../../../ui/board.js";
import { finishing, heldKey, key, keyGroup } from "../../../ui/key.js";
import { pickingsPicture } from "../../../ui/pickings-picture.js";
import { choice, count, dateLine } from "../../parts/ask.js";

/**
 * @typedef {import("./seen.js").Ask} Ask
 * @typedef {(part: Partial<Ask>, all?: boolean) => void} Set all: whether the questions change with it
 */

const MOST = 366;

/**
 * @param {ReturnType<typeof import("./seen.js").seeQuestions>} seen
 * @param {Ask} ask
 * @param {Set} set
 * @param {HTMLElement} days the two days, drawn anew when an answer comes
 */
export function drawQuestions({ many, modes, varieties, places }, ask, set, days) {
  const byPicking = ask.mode === "picking";
  return [
    lead(`So that there are always ${many}, and never all at once.`),
    h("div", { class: "gap-below" }, keyGroup("How they follow", modes.length === 2 ? "two" : "three", modes.map(([mode, words]) => heldKey(words, ask.mode === mode, () => set({ mode, from: "", to: "" }))))),
    choice("Which variety", ask.variety, varieties, (variety) => set({ variety }, false), "none in particular"),
    choice("Where they end", ask.place, places, (place) => set({ place }, false), "open ground"),
    byPicking && count("Plants a week", ask.a_week, (a_week) => set({ a_week }, false), MOST),
    !byPicking && count(ask.mode === "days" ? "Days between sowings" : "Days between pickings", ask.every, (every) => set({ every }, false), MOST),
    !byPicking && count("Plants each time", ask.plants, (plants) => set({ plants }, false), MOST),
    days,
  ];
}

/** @param {Ask} ask @param {{from: string, to: string} | null} found @param {Set} set */
export function drawDays(ask, found, set) {
  const verb = ask.mode === "picking" ? "Pick" : "Sow";
  return [dateLine(`${verb} from`, ask.from || found?.from || "", (from) => set({ from }, false)), dateLine(`${verb} to`, ask.to || found?.to || "", (to) => set({ to }, false))];
}

export function drawWorking() {
  return h("p", { class: "soft note", role: "status" }, "Working it out.");
}

/** @param {ReturnType<typeof import("./seen.js").seeAnswer>} seen @param {() => void} putIn */
export function drawAnswer({ title, says, picture, gaps, lines, key: words }, putIn) {
  return [
    heading(title),
    says && h("p", { class: "soft note" }, says),
    picture && pickingsPicture(picture),
    gaps.map((gap) => h("p", { class: "trouble" }, gap)),
    lines.length > 0 && [board(lines.map(({ first, then, plants }) => h("p", { class: "line" }, named(first, then), soft(plants)))), finishing(key(words, putIn, { look: "done" }))],
  ];
}
