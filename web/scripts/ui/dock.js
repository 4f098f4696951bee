// @ts-check
/** The dock: five rooms along the bench edge, and the Jot pot at the thumb end. */
import { h } from "../lib/dom.js";
import { glyph } from "./glyphs.js";

const ROOMS = [
  ["round", "Round"],
  ["ground", "Ground"],
  ["season", "Season"],
  ["diary", "Diary"],
  ["shed", "Shed"],
];

/** @param {string} current @returns {HTMLElement} */
export function dock(current) {
  return h(
    "nav",
    { class: "dock", "aria-label": "Rooms" },
    h(
      "div",
      { class: "in" },
      ROOMS.map(([name, word]) =>
        h("a", { href: `#/${name}`, "aria-current": name === current ? "page" : null }, glyph(name, 28, 2.3), word),
      ),
      h("p", { class: "keyhint" }, "up and down walk the Round, space ticks, J jots"),
      h("a", { class: "jot-pot", href: "#/jot" }, "Jot"),
    ),
  );
}
