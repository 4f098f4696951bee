// @ts-check
/** First run in three questions: where, what places, what is grown. The plan stands there before anything is written. */
import { lastOnWalk } from "../../household/walk.js";
import { STILL_ON_SCREEN, goneWishes } from "../../household/writing.js";
import { fill, h } from "../../lib/dom.js";
import { counted } from "../../lib/words.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { troubleLine } from "../../ui/board.js";
import { HOUSES, placesOf, suggestedCount } from "./choices.js";
import { drawCrops, drawPlaces, drawPlan, drawSite, drawSteps } from "./draw.js";
import { atFirst, batchWishes, seeCrops, seePlaces, seePlan, seeSite } from "./seen.js";

const DRAFT = "begin";

/** @param {import("../../types.js").Context} context */
export function room(context) {
  const beginning = new Beginning(context);
  beginning.draw();
  return { element: beginning.element, title: "Three questions", refresh: (/** @type {string} */ what) => beginning.refresh(what) };
}

class Beginning {
  /** @param {import("../../types.js").Context} context */
  constructor(context) {
    const { book, go } = context;
    this.context = context;
    this.element = h("main", { class: "page", id: "room" });
    this.plan = h("div", { class: "contents" });
    this.trouble = troubleLine();
    /** @type {import("./seen.js").Ask} */
    this.ask = { ...atFirst(book), ...(readDraft(DRAFT) || {}) };
    /** @type {import("./draw.js").Does} */
    this.does = {
      step: (step) => this.#set({ step }),
      site: () => go("form", "site", "site"),
      sort: (sort, usual) => this.#set({ sort, house: { ...usual } }),
      open: (place) => go("form", "place", place),
      keep: (part) => this.#keep({ house: { ...this.ask.house, ...part } }),
      add: () => void this.#addHouse(),
      toggle: (crop) => this.#toggle(crop),
      want: (crop, plants) => this.#keep({ wanted: { ...this.ask.wanted, [crop]: plants } }),
      putIn: (crops) => void this.#putIn(crops),
      growing: () => go("plan", "mode=growing"),
    };
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
    if (this.ask.step === 0) return drawSite(seeSite(book), this.does);
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
