// @ts-check
/** A chain of jobs as a small picture: labels one under another, each hanging on the one above. */
import { h, svg } from "../lib/dom.js";

/**
 * @param {{id: string, text: string, says: string, own: boolean, ready: boolean}[]} links own: the one that is looked at; ready: it can be done now
 * @param {(id: string) => void} open
 */
export function chain(links, open) {
  return h(
    "ol",
    { class: "chain", "aria-label": "What hangs on what" },
    links.map(({ id, text, says, own, ready }, at) =>
      h(
        "li",
        { class: own ? "own" : ready ? "ready" : null },
        at > 0 && svg("svg", { class: "hook", width: 16, height: 18, viewBox: "0 0 16 18", "aria-hidden": "true" }, svg("path", { d: "M8 0v12M3 9l5 7 5-7", stroke: "var(--ink)", "stroke-width": 2.4, fill: "none" })),
        own ? h("div", { class: "link" }, h("b", null, text), h("span", { class: "soft" }, says)) : h("button", { type: "button", class: "link", onclick: () => open(id) }, h("b", null, text), h("span", { class: "soft" }, says)),
      ),
    ),
  );
}
