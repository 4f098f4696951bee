// @ts-check
/** Boards and their lines, sheets and their sections, and what stands where there is nothing. */
import { h } from "../lib/dom.js";
import { key } from "./key.js";

/** @param {...any} lines */
export function board(...lines) {
  return h("div", { class: "board" }, lines);
}

/** A line that opens something. @param {(event: any) => void} act @param {...any} inside */
export function line(act, ...inside) {
  return h("button", { class: "line", type: "button", onclick: act }, inside);
}

/** A name, and beneath it what is said of it. @param {any} name @param {any} [says] */
export function named(name, says) {
  return h("span", null, h("b", null, name), says && [h("br"), soft(says)]);
}

/** @param {any} words */
export function soft(words) {
  return h("span", { class: "soft" }, words);
}

/** @param {string} words */
export function heading(words) {
  return h("h2", { class: "h" }, words);
}

/** Words before what they are about. @param {...any} words */
export function lead(...words) {
  return h("p", { class: "soft note lead-note" }, words);
}

const MOST_LINES = 30;

/** Lines of which those after the first many lie folded. @param {any[]} lines */
export function folded(lines) {
  const more = lines.length - MOST_LINES;
  return more > 0 ? [lines.slice(0, MOST_LINES), h("details", { class: "more-lines" }, h("summary", null, `${more} more`), lines.slice(MOST_LINES))] : lines;
}

/** A heading and the board under it; nothing for no lines. @param {string} words @param {any[]} lines */
export function titled(words, lines) {
  return lines.length > 0 && [heading(words), board(folded(lines))];
}

/** A sheet of sections. @param {...any} sections */
export function sheet(...sections) {
  return h("div", { class: "lab plain" }, h("div", { class: "in" }, sections));
}

/** @param {...any} inside */
export function section(...inside) {
  return h("div", { class: "sec" }, inside);
}

/** A section with its heading at its side. @param {string} head @param {any} body */
export function row(head, body) {
  return h("div", { class: "sec row" }, h("h2", null, head), body);
}

/** @param {string[]} lines */
export function bullets(lines) {
  return h("ul", null, lines.map((words) => h("li", null, words)));
}

/** Why there is nothing, and what to do about it. @param {string} words @param {any} [next] */
export function emptyBoard(words, next) {
  return h("div", { class: "board empty" }, h("p", null, words), next);
}

/** What went wrong, and the key to try again. @param {string} words @param {() => void} again */
export function troubleBoard(words, again) {
  return h("div", { class: "board empty" }, h("p", { role: "alert" }, words), key("Try again", again));
}

/** What stands above all rooms. @param {string} bold @param {string} words @param {HTMLElement} key */
export function barNote(bold, words, key) {
  return h("div", { class: "page above" }, h("div", { class: "bar-note", role: "status" }, h("span", null, h("b", null, bold), " ", words), key));
}

/** A line of trouble beneath a form, out of sight until there is any. @returns {{element: HTMLElement, say: (words: string) => void, clear: () => void}} */
export function troubleLine() {
  const element = h("p", { class: "trouble", role: "alert", hidden: true });
  /** @param {string} words */
  const say = (words) => {
    element.hidden = false;
    element.textContent = words;
  };
  return { element, say, clear: () => (element.hidden = true) };
}
