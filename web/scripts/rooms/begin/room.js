// @ts-check
/** First run in three questions: where, what places, what is grown. The plan stands there before anything is written. */
import { lastOnWalk } from "../../household/walk.js";
import { STILL_ON_SCREEN, goneWishes } from "../../household/writing.js";
import { fill, h } from "../../lib/dom.js";
import { counted } from "../../lib/words.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { troubleLine } from "../../ui/board.js";
import { findLine } from "../../ui/find.js";
import { HOUSES, placesOf, suggestedCount } from "./choices.js";
import { drawCrops, drawPlaces, drawPlan, drawSite, drawSteps } from "./draw.js";
import { atFirst, batchWishes, placeless, seeCrops, seePlaces, seePlan, seeSite } from "./seen.js";
import { kmWords, nearestTo, readSpot, siteFrom } from "./where.js";

const DRAFT = "begin";
const PATIENCE_MS = 15_000;
const A_DAY_MS = 86_400_000;

/** @param {import("../../types.js").Context} context */
export function room(context) {
  const beginning = new Beginning(context);
  beginning.draw();
  void beginning.askClimates();
  return { element: beginning.element, title: "Three questions", refresh: (/** @type {string} */ what) => beginning.refresh(what) };
}

class Beginning {
  /** @param {import("../../types.js").Context} context */
  constructor(context) {
    const { book, go } = context;
    this.context = context;
    this.element = h("main", { class: "page", id: "room" });
    this.plan = h("div", { class: "contents" });
    /** @type {import("./where.js").Climate[]} */
    this.climates = [];
    this.asked = "";
    const onType = (/** @type {string} */ words) => {
      this.asked = words;
      this.draw();
    };
    this.parts = { find: findLine({ value: "", name: "Find a region", hint: "a town, a region", onType }), said: h("p", { class: "soft note gap-below", role: "status" }) };
    this.trouble = troubleLine();
    /** @type {import("./seen.js").Ask} */
    this.ask = { ...atFirst(book), ...(readDraft(DRAFT) || {}) };
    /** @type {import("./draw.js").Does} */
    this.does = {
      step: (step) => this.#set({ step, again: false }),
      site: () => go("form", "site", "site"),
      unfold: (unfolded) => this.#keep({ unfolded }),
      again: () => this.#set({ again: true }),
      locate: () => this.#locate(),
      take: (name) => void this.#take(name),
      type: (spot) => this.#keep({ spot: { ...this.ask.spot, ...spot } }),
      takeSpot: () => {
        const { spot, wrong } = readSpot(this.ask.spot.lat, this.ask.spot.lon);
        if (spot) void this.#takeNearest(spot);
        else this.#say(wrong || "");
      },
      stand: (crop, place) => this.#set({ stands: { ...this.ask.stands, [crop]: place } }),
      sort: (sort, usual) => this.#set({ sort, house: { ...usual } }),
      open: (place) => go("form", "place", place),
      keep: (part) => this.#keep({ house: { ...this.ask.house, ...part } }),
      add: () => void this.#addHouse(),
      toggle: (crop) => this.#toggle(crop),
      want: (crop, plants) => this.#keep({ wanted: { ...this.ask.wanted, [crop]: plants } }),
      putIn: (crops) => void this.#putIn(crops),
      growing: () => go("plan", "mode=growing"),
      upkeep: () => go("upkeep"),
    };
  }

  /** Named climates, as soon as they come; kept on the phone for when the server is away. */
  async askClimates() {
    try {
      await this.context.askKept("/api/climates", ({ climates }) => {
        this.climates = climates;
        if (this.ask.step === 0) this.draw();
      });
    } catch {
      this.#say("The list of climates is on the server, which does not answer now. Go on with the places, and say where later.");
    }
  }

  /** @param {string} words */
  #say(words) {
    this.parts.said.textContent = words;
  }

  #locate() {
    if (!navigator.geolocation) {
      this.#say("This browser does not tell where it is. Choose a name below.");
      return;
    }
    this.#say("Asking this phone where it is.");
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => void this.#takeNearest({ lat: hundredths(coords.latitude), lon: hundredths(coords.longitude) }),
      () => this.#say("The phone does not tell where it is. Choose a name below, or type the degrees."),
      { timeout: PATIENCE_MS, maximumAge: A_DAY_MS },
    );
  }

  /** @param {string} name */
  async #take(name) {
    const climate = this.climates.find((one) => one.name === name);
    if (climate) await this.#writeSite(siteFrom(climate, null, ""), `You grow in: ${name}.`);
  }

  /** @param {import("./where.js").Spot} here */
  async #takeNearest(here) {
    const [nearest] = nearestTo(this.climates, here);
    if (!nearest) {
      this.#say("The list of climates has not come from the server yet. Try again near it.");
      return;
    }
    const { climate, km } = nearest;
    if (await this.#writeSite(siteFrom(climate, here, phoneZone()), `The nearest climate: ${climate.name}.`)) this.#say(kmWords(km));
  }

  /** @param {Record<string, any>} fields @param {string} say */
  async #writeSite(fields, say) {
    const { book, write } = this.context;
    const before = book.fields("site");
    const undo = [{ id: "site", kind: "site", fields: Object.fromEntries(Object.keys(fields).map((name) => [name, before[name] ?? null])) }];
    this.trouble.clear();
    const written = await write([{ id: "site", kind: "site", fields }], { say, undo, trouble: this.trouble.say, still: STILL_ON_SCREEN });
    if (written) this.#set({ again: false });
    return Boolean(written);
  }

  /** What is being typed is left alone. @param {string} what */
  refresh(what) {
    if (what !== "sharing" && !this.element.querySelector("input:focus")) this.draw();
  }

  /** @param {Partial<import("./seen.js").Ask>} part */
  #keep(part) {
    Object.assign(this.ask, part);
    saveDraft(DRAFT, this.ask);
  }

  /** @param {Partial<import("./seen.js").Ask>} part */
  #set(part) {
    this.#keep(part);
    this.draw();
  }

  draw() {
    fill(this.element, drawSteps(this.ask.step, this.does), this.#question(), this.trouble.element);
  }

  #question() {
    const { book, today } = this.context;
    if (this.ask.step === 0) return drawSite(seeSite(book, this.ask, { climates: this.climates, asked: this.asked, zone: phoneZone() }), this.ask, this.parts, this.does);
    if (this.ask.step === 1) return drawPlaces(seePlaces(book, this.ask), this.ask, this.does);
    fill(this.plan, drawPlan(seePlan(book, this.ask, today()), this.does));
    return drawCrops(seeCrops(book, this.ask), this.plan, this.does);
  }

  async #addHouse() {
    const { book, newId } = this.context;
    const chosen = HOUSES.find((one) => one.id === this.ask.sort);
    const walk = lastOnWalk(book, null);
    if (await this.#write(placesOf(chosen, { ...this.ask.house, walk }, newId), `${this.ask.house.name} is on the ground plan.`)) this.#set({ sort: "" });
  }

  /** @param {string} crop */
  #toggle(crop) {
    const { [crop]: was, ...others } = this.ask.wanted;
    const at = window.scrollY;
    this.#set({ wanted: was === undefined ? { ...others, [crop]: suggestedCount(this.context.book.rulebook.crops[crop]) } : others });
    window.scrollTo(0, at);
  }

  /** @param {string[]} crops */
  async #putIn(crops) {
    const { book, today, newId, go } = this.context;
    const [nowhere] = placeless(book, this.ask);
    if (nowhere) {
      this.trouble.say(`Where are they to stand: ${book.rulebook.crops[nowhere].many}? Choose a place, or “not decided yet”.`);
      return;
    }
    const wishes = batchWishes(book, this.ask, { crops, today: today(), newId });
    if (!(await this.#write(wishes, `${counted(crops.length, "batch", "batches")} in the book.`))) return;
    dropDraft(DRAFT);
    go("season");
  }

  /** @param {import("../../types.js").Wish[]} wishes @param {string} say */
  #write(wishes, say) {
    this.trouble.clear();
    return this.context.write(wishes, { say, undo: goneWishes(wishes), trouble: this.trouble.say, still: STILL_ON_SCREEN });
  }
}

/** The phone's own time zone. @returns {string} */
function phoneZone() {
  return Intl.DateTimeFormat().resolvedOptions().timeZone || "";
}

/** @param {number} degrees */
function hundredths(degrees) {
  return Math.round(degrees * 100) / 100;
}
