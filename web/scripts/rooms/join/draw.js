// @ts-check
/** Joining, as elements. */
import { h } from "../../lib/dom.js";
import { lead, section, sheet } from "../../ui/board.js";

/** The two fields of the form. @param {{code: string, name: string}} begin */
export function joinFields({ code, name }) {
  return {
    code: h("input", { type: "text", autocomplete: "one-time-code", autocapitalize: "characters", spellcheck: "false", maxlength: 20, value: code, class: "code" }),
    name: h("input", { type: "text", autocomplete: "off", maxlength: 60, value: name }),
  };
}

/**
 * @param {{code: HTMLInputElement, name: HTMLInputElement}} fields
 * @param {HTMLElement} trouble
 * @param {(event: Event) => void} join
 */
export function drawForm({ code, name }, trouble, join) {
  return h(
    "form",
    { novalidate: true, onsubmit: join },
    h("label", { class: "field" }, h("span", null, "Code"), code),
    h("label", { class: "field" }, h("span", null, "What this phone is called"), name),
    trouble,
    h("button", { class: "key done", type: "submit" }, "Join"),
  );
}

export function drawHead() {
  return h("header", { class: "head" }, h("h1", null, "Join the household"));
}

/** @param {string[]} notes */
export function drawNotes(notes) {
  return notes.map((words) => lead(words));
}

/** Until somebody says yes on a phone that has joined. @param {string} called */
export function drawWaiting(called) {
  return sheet(
    section(
      h("p", { role: "status" }, h("b", null, "Say yes on the other phone."), ` In its Shed, under Phones, it asks about “${called}”.`),
      h("p", { class: "soft gap" }, "This page goes on by itself. What is written here stays in any case."),
    ),
  );
}
