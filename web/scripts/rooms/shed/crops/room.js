// @ts-check
/** Every crop there is a calendar for: what the household grows first, then the rest; and crops of its own. */
import { fill, h } from "../../../lib/dom.js";
import { drawAround, drawCrops } from "./draw.js";
import { seeCrops } from "./seen.js";

/** What was looked for stays while the app is open. */
const asked = { name: "" };

/** @param {import("../../../types.js").Context} context */
export function room(context) {
  const { book, go, back } = context;
  const list = h("div");
  const look = () => {
    asked.name = search.value;
    draw();
  };
  const search = h("input", { type: "search", "aria-label": "Find a crop", placeholder: "Find a crop", autocomplete: "off", value: asked.name, oninput: look });
  const draw = () => fill(list, drawCrops(seeCrops(book, asked.name), (crop) => go("crop", crop)));
  const element = h("main", { class: "page", id: "room" }, drawAround(search, list, { back, add: () => go("own-crop") }));
  draw();
  return { element, title: "Crops", refresh: (/** @type {string} */ what) => what === "records" && draw() };
}
