// @ts-check
/** Ground: the places in walking order, what stands there, and what is to do there. */
import { fill, h } from "../../lib/dom.js";
import { counted } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { plate } from "../../ui/plate.js";
import { houses, inside } from "../../household/names.js";
import { fiveMetres, housePlan, scaleFor } from "./plans.js";

/** @param {any} context */
export function room(context) {
  const { book, go } = context;
  const element = h("main", { class: "page", id: "room" });

  function refresh() {
    const today = context.today();
    const all = houses(book);
    const stand = book.stand(today);
    const jobs = book.jobs(today);
    const scale = scaleFor(all.map((house) => inside(book, house.id).map((bed) => bed.fields)));
    const drawn = all.some((house) => inside(book, house.id).some((bed) => bed.fields.length_cm));
    fill(
      element,
      h("header", { class: "head" }, h("h1", null, "Ground"), h("p", { class: "two soft" }, h("span", null, `${counted(all.length, "place")}, in walking order`), drawn && h("span", { class: "scale" }, fiveMetres(scale), "5\u00a0m"))),
      all.length > 0 && h("div", { class: "board" }, all.map((house) => row(house, stand, jobs, scale))),
      !all.length && h("div", { class: "board empty" }, h("p", null, "No places yet. A house, the tunnel, the plot: each has its number in the order you walk."), h("p", { class: "soft" }, "Beds, benches and propagators go inside them.")),
      h("div", { class: "keys two" }, h("button", { class: "key", type: "button", onclick: () => go("form", "place", "new", "sort=house") }, "Add a place"), h("button", { class: "key", type: "button", onclick: () => go("plan") }, "Add a batch")),
      h("div", { class: "keys two", style: { "margin-top": "8px" } }, h("button", { class: "key", type: "button", onclick: () => go("form", "fixture", "new") }, "Add a fixture"), h("button", { class: "key", type: "button", onclick: () => go("form", "job", "new") }, "A job by hand")),
    );
  }

  /** @param {any} house @param {any} stand @param {any[]} jobs @param {number} scale */
  function row(house, stand, jobs, scale) {
    const here = jobs.filter((job) => job.house === house.id);
    const ready = here.filter((job) => job.state === "ready");
    const past = ready.filter((job) => job.leeway !== null && job.leeway < 0).length;
    const waiting = here.filter((job) => job.state === "waiting").length;
    const beds = inside(book, house.id);
    const grown = beds.map((bed) => ({ ...bed.fields, grows: growsIn(stand, bed.id) }));
    const says = [ready.length ? counted(ready.length, "job") : "", waiting ? `${waiting} waiting` : ""].filter(Boolean).join(", ") || "no jobs";
    return h(
      "a",
      { class: "place-row", href: `#/place/${house.id}` },
      h(
        "span",
        null,
        plate(house.fields.walk, house.fields.name || "?"),
        h("span", { class: "says", style: { display: "block" } }, h("b", null, says), past > 0 && h("b", { class: "past" }, `, ${past} past`), h("br"), h("span", { class: "soft" }, beds.length ? bedWords(beds) : coverWords(house.fields.cover))),
      ),
      h("span", { class: "plan" }, housePlan(grown, house.fields.cover || "open", scale) || glyph("forward", 26)),
    );
  }

  refresh();
  return { element, title: "Ground", refresh: (/** @type {string} */ what) => { if (what === "records") refresh(); } };
}

/** @param {any} stand @param {string} place @returns {"planted" | "potted" | "none"} */
function growsIn(stand, place) {
  const plants = stand.places.filter((/** @type {any} */ one) => one.path.includes(place)).flatMap((/** @type {any} */ one) => one.plants);
  if (plants.some((/** @type {any} */ one) => one.stage === "planted")) return "planted";
  return plants.length ? "potted" : "none";
}

/** @param {any[]} beds */
function bedWords(beds) {
  /** @type {Map<string, number>} */
  const sorts = new Map();
  for (const bed of beds) sorts.set(bed.fields.sort || "bed", (sorts.get(bed.fields.sort || "bed") || 0) + 1);
  return [...sorts].map(([sort, count]) => (count === 1 ? sort : counted(count, sort, sort === "shelf" ? "shelves" : sort === "bench" ? "benches" : undefined))).join(", ");
}

/** @param {string | undefined} cover */
function coverWords(cover) {
  return { glass: "glass", tunnel: "a tunnel", frame: "cold frames", open: "open ground", indoors: "indoors" }[cover || ""] || "nothing said yet";
}
