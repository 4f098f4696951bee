// @ts-check
/** The drawings on the keys of Jot, one a verb. */
import { drawn } from "../../ui/glyphs.js";

/** @type {Record<string, import("../../ui/glyphs.js").Strokes>} */
const STROKES = {
  sow: ["M2 25h28", ["M8 18c-2-3 0-6 2-7 2 2 2 5 0 7zM16 13c-2-3 0-6 2-7 2 2 2 5 0 7zM23 20c-2-3 0-6 2-7 2 2 2 5 0 7z", "fill"]],
  emerge: ["M2 26h28M16 26V16M16 16c-6 0-8-3-8-6 5 0 8 2 8 6zM16 16c0-5 3-7 8-7 0 4-4 7-8 7z"],
  prick_out: ["M13 29V15M13 15c-6 0-8-3-8-6 5 0 8 2 8 6zM13 15c0-5 3-7 7-7 0 4-3 7-7 7zM26 4v18l-2 7"],
  pot_up: ["M5 14h22v4H5zM7 18l3 12h12l3-12M16 14V4M16 9c3 0 5-2 5-5-3 0-5 2-5 5z"],
  plant_out: ["M2 20h28M16 20V8M16 12c-5 0-7-3-7-6 4 0 7 2 7 6zM16 9c0-4 3-6 7-6 0 4-3 6-7 6zM16 20v9M16 23l-5 5M16 23l5 5"],
  pick: ["M3 14h26l-4 14H7zM7 14C7 4 25 4 25 14M5 21h22"],
  water: ["M16 4c5 7 7 10 7 14a7 7 0 0 1-14 0c0-4 2-7 7-14zM6 29h20"],
  train: ["M16 2v28M16 12c8-5 10 3 4 4s-12 0-9-4 8 0 5 6"],
  string: ["M4 3h24M10 3v20M22 3v20M10 23c-4 2-4 6 0 6s4-4 0-6zM22 23c-4 2-4 6 0 6s4-4 0-6z"],
  clear: ["M16 3v14M12 3h8M10 17h12v5c0 5-3 7-6 8-3-1-6-3-6-8z"],
  look: ["M2 16c6-10 22-10 28 0-6 10-22 10-28 0z", ["M16 11.500a4.500 4.500 0 1 0 .01 0z", "fill"]],
  lose: ["M9 3h14v18l-7 8-7-8zM3 25 29 7"],
  measure: ["M13 4h6v15a6 6 0 1 1-6 0zM16 12v12M22 6h4M22 11h3M22 16h4"],
  note: ["M5 27l3-8L22 5l5 5-14 14zM19 8l5 5M5 27h20"],
  feed: ["M10 12h14v16H10zM13 12V7h8v5M10 17h14M17 20v5M14.500 22.500h5"],
  treat: ["M6 16h9v13H6zM8 16V9h5v7M13 10h6l3 3M24 6l2-2M25 10h4M24 14l2 2"],
  move: ["M3 24h26M6 24V14h8v10M18 9h10M24 5l4 4-4 4"],
  install: ["M4 28V8h24v20M4 16h24M16 2v10M12 6l4-4 4 4"],
  remove: ["M4 28V10h24v18M4 18h24M16 2v7M12 5l4 4 4-4"],
  connect: ["M3 20h9v-6h8v6h9M12 14v-4h8v4M7 25v3M16 25v3M25 25v3"],
  harden_off: ["M4 28h24M6 28V14h20v14M6 14l6-8h20M16 21v-4"],
  weed: ["M28 3 9 22M13 26 5 18l-2 4 6 6zM2 29h26"],
  mulch: ["M2 21c3-6 7-5 9-1 2-8 10-8 11-1 3-4 6-2 8 2M2 27h28", ["M8 16a1.500 1.500 0 1 0 .01 0zM17 12a1.500 1.500 0 1 0 .01 0zM25 15a1.500 1.500 0 1 0 .01 0z", "fill"]],
  earth_up: ["M2 28c6 0 6-10 14-10s8 10 14 10M16 18V7M16 11c-5 0-6-3-6-5 4 0 6 2 6 5zM16 9c0-3 3-5 6-5 0 3-2 5-6 5z"],
  prune: ["M7 3l12 17M25 3 13 20M10 20a4 4 0 1 0 .01 0zM22 20a4 4 0 1 0 .01 0z"],
  divide: ["M16 3v26M11 24c-5-1-8-6-8-15 5 1 8 6 8 15zM21 24c5-1 8-6 8-15-5 1-8 6-8 15z"],
  store: ["M4 12 16 4l12 8v16H4zM9 28V17h14v11M9 21h14M9 25h14"],
  use: ["M4 17h24c0 6-5 10-12 10S4 23 4 17zM11 12c-2-3 2-4 0-8M17 12c-2-3 2-4 0-8M23 12c-2-3 2-4 0-8"],
  clean: ["M6 28h20M9 28l2-9h10l2 9M16 19V4M12 23v5M20 23v5"],
  dress: ["M3 24h26M7 24c1-6 5-8 9-8s8 2 9 8M10 10l2 3M16 7v4M22 10l-2 3"],
  cover: ["M3 27V17a13 13 0 0 1 26 0v10M10 27V17a6 6 0 0 1 12 0v10M1 27h30"],
  uncover: ["M3 27v-6M29 27v-6M1 27h30M16 22V5M9 11l7-7 7 7"],
  vent: ["M4 29V14L16 5l12 9v15M4 29h24M9 14l9-9M16 29v-8M11 24l5-5 5 5"],
  more: [["M7 14a2.500 2.500 0 1 0 .01 0zM16 14a2.500 2.500 0 1 0 .01 0zM25 14a2.500 2.500 0 1 0 .01 0z", "fill"]],
};

/** Decorative: the word stands beneath it. @param {string} verb @param {number} [size] @returns {SVGElement} */
export function verbGlyph(verb, size = 46) {
  return drawn(STROKES[verb] || STROKES.note, size, 2.3);
}
