// @ts-check
/** One place: its beds, what stands there, what is put up, and what is to do. */
import { fill, h } from "../../lib/dom.js";
import { plainDay } from "../../lib/dates.js";
import { counted, kept, leewayWords } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { plate } from "../../ui/plate.js";
import { onTap } from "../../ui/touch.js";
import { undoWishes } from "../../household/wishes.js";
import { batchName, byWalk, cropWords, houseOf, inside, pathOf, placeName } from "../../household/names.js";
import { jobForFixture } from "../../household/answers.js";

/** @param {any} context */
export function room(context) {
  const { book, go, back, toast } = context;
  const id = context.params[0];
  const element = h("main", { class: "page", id: "room" });

  function refresh() {
    const record = book.get(id);
    if (!record || !book.fields(id).name) {
      fill(element, h("header", { class: "headrow" }, backKey()), h("div", { class: "board empty" }, h("p", null, "This place is not in the book any more.")));
      return;
    }
    const today = context.today();
    const stand = book.stand(today);
    const jobs = book.jobs(today).filter((/** @type {any} */ job) => pathOf(book, job.place).includes(id) && (job.state === "ready" || job.state === "waiting"));
    const house = houseOf(book, id);
    const beds = inside(book, id);
    const here = stand.places.find((/** @type {any} */ one) => one.id === id);
    const fixtures = book.ofKind("fixture").filter((/** @type {any} */ fixture) => fixture.fields.place && pathOf(book, fixture.fields.place).includes(id)).sort(byWalk);
    fill(
      element,
      h("header", { class: "headrow" }, backKey(), plate(book.fields(house).walk, placeName(book, house)), house !== id && h("span", { class: "bed" }, kept(placeName(book, id)))),
      h("h1", { class: "unseen" }, placeName(book, id)),
      jobs.length > 0 && [h("h2", { class: "h" }, "To do here"), h("div", { class: "board" }, jobs.slice(0, 30).map((/** @type {any} */ job) => jobLine(job, today)))],
      beds.length > 0 && [h("h2", { class: "h" }, "In it"), h("div", { class: "board" }, beds.map((bed) => bedLine(bed, stand)))],
      frostWords(stand) && h("p", { class: "soft note", style: { margin: "10px 2px 0" } }, kept(frostWords(stand))),
      h("h2", { class: "h" }, "What stands here"),
      h("div", { class: "board" }, here?.plants.length ? here.plants.map(plantLine) : h("p", { class: "line soft" }, beds.length ? "Nothing but what its beds hold." : "Nothing grows here now.")),
      fixtures.length > 0 && [h("h2", { class: "h" }, "Put up here"), h("div", { class: "board" }, fixtures.map((/** @type {any} */ fixture) => fixtureLine(fixture, stand)))],
      h(
        "div",
        { class: "keys two", style: { "margin-top": "12px" } },
        h("button", { class: "key", type: "button", onclick: () => go("plan", `place=${id}`) }, "A batch for here"),
        h("button", { class: "key", type: "button", onclick: () => go("form", "place", "new", `within=${id}`, "sort=bed") }, "A bed in it"),
        h("button", { class: "key", type: "button", onclick: () => go("form", "fixture", "new", `place=${id}`) }, "A fixture here"),
        h("button", { class: "key", type: "button", onclick: () => go("readings", id) }, "Thermometer"),
        h("button", { class: "key", type: "button", onclick: () => go("form", "place", id) }, "Change this place"),
      ),
    );
  }

  /** When frost comes here, for a house or plot as a whole. @param {any} stand */
  function frostWords(stand) {
    if (houseOf(book, id) !== id) return "";
    const cover = stand.places.find((/** @type {any} */ one) => one.id === id)?.cover;
    const frost = book.rulebook.frost?.[book.rulebook.houses?.[id] ?? cover];
    if (!frost) return "";
    const [usual, rare] = [frost.half, frost.tenth].map((ends) => ends.map((/** @type {string} */ day) => plainDay(`2000-${day}`, "2000-01-01")));
    return `Frost comes here after ${usual[0]} and before ${usual[1]} in one year of two, after ${rare[0]} and before ${rare[1]} in one of ten.`;
  }

  function backKey() {
    return h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32));
  }

  /** @param {any} job @param {string} today */
  function jobLine(job, today) {
    const { text, past } = leewayWords(job, today);
    return h("button", { class: "line", type: "button", onclick: () => go("job", job.id) }, h("b", null, kept(job.title)), h("span", { class: past ? "past" : "soft" }, job.state === "waiting" ? "waiting" : text));
  }

  /** @param {any} bed @param {any} stand */
  function bedLine(bed, stand) {
    const plants = stand.places.find((/** @type {any} */ one) => one.id === bed.id)?.plants || [];
    const words = plants.map((/** @type {any} */ one) => [one.count ?? "", cropWords(book, one.batch)].filter(String).join(" ")).join(", ");
    return h("button", { class: "line", type: "button", onclick: () => go("place", bed.id) }, h("span", null, h("b", null, kept(bed.fields.name || "?")), h("br"), h("span", { class: "soft" }, kept(words) || "empty")), glyph("forward", 26));
  }

  /** @param {any} plants */
  function plantLine(plants) {
    return h("button", { class: "line", type: "button", onclick: () => go("batch", plants.batch) }, h("span", null, h("b", null, kept([plants.count ?? "", cropWords(book, plants.batch)].filter(String).join(" "))), h("br"), h("span", { class: "soft" }, batchName(book, plants.batch))), h("span", { class: "soft" }, plants.stage));
  }

  /** @param {any} fixture @param {any} stand */
  function fixtureLine(fixture, stand) {
    const state = stand.fixtures.find((/** @type {any} */ one) => one.id === fixture.id);
    const on = stand.places.find((/** @type {any} */ one) => one.id === fixture.id)?.plants.length || 0;
    const water = ["drip_line", "soaker_hose"].includes(fixture.fields.sort);
    const words = [state?.connected ? "connected" : state?.up ? "up" : water ? "not connected" : "put away", on ? `${counted(on, "batch", "batches")} on it` : ""].filter(Boolean).join(", ");
    const verb = water && !state?.connected ? "connect" : state?.up ? "remove" : "install";
    const key = { connect: "Connect", remove: "Take down", install: "Put up" }[verb];
    return h(
      "div",
      { class: "line" },
      h("button", { type: "button", style: { "min-height": "48px" }, onclick: () => go("form", "fixture", fixture.id) }, h("b", null, fixture.fields.name || "?"), h("br"), h("span", { class: "soft" }, words)),
      h("button", { class: "key slim", type: "button", "aria-label": `${key}: ${fixture.fields.name}`, onclick: onTap(() => void change(fixture, verb)) }, key),
    );
  }

  /** @param {any} fixture @param {string} verb */
  async function change(fixture, verb) {
    const job = jobForFixture(book.jobs(context.today()), fixture.id, verb);
    const moment = context.moment();
    const fields = { did: verb, fixture: fixture.id, place: fixture.fields.place, on: moment.on, at: moment.at, ...(moment.by ? { by: moment.by } : {}), ...(job ? { job: job.id, part: job.part } : {}) };
    const wish = { id: context.newId(), kind: "diary", fields };
    try {
      await book.write([wish]);
      toast({ say: `Written down: ${fixture.fields.name} ${verb === "connect" ? "connected" : verb === "remove" ? "taken down" : "put up"}`, undo: () => void book.write(undoWishes([wish.id])) });
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "Not written down yet. Try again." });
    }
  }

  refresh();
  return { element, title: placeName(book, id) || "Place", refresh: (/** @type {string} */ what) => { if (what === "records") refresh(); } };
}
