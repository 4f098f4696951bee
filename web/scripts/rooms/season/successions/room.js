// @ts-check
/**
 * One after another: sowings worked back from the picking wanted, or every so many days, or so far apart in heat that their
 * pickings come evenly. The server works them out; the batches they become are the phone's own.
 */
import { cropChoices } from "../../../household/names.js";
import { STILL_ON_SCREEN, goneWishes } from "../../../household/writing.js";
import { fill, h } from "../../../lib/dom.js";
import { counted } from "../../../lib/words.js";
import { dropDraft, readDraft, saveDraft } from "../../../store/drafts.js";
import { troubleBoard } from "../../../ui/board.js";
import { top } from "../../../ui/top.js";
import { choice } from "../../parts/ask.js";
import { drawAnswer, drawDays, drawQuestions, drawWorking } from "./draw.js";
import { AT_FIRST, question, seeAnswer, seeQuestions, sowingWishes } from "./seen.js";

const WAIT_MS = 250;

/** @param {import("../../../types.js").Context} context params: crop */
export function room(context) {
  const { rulebook } = context.book;
  const [named] = context.params;
  const putAway = rulebook.version && !rulebook.crops[named];
  const successions = new Successions(context, putAway ? undefined : named);
  successions.draw();
  void successions.work();
  return { element: successions.element, title: "One after another", leave: () => clearTimeout(successions.waiting) };
}

class Successions {
  /** @type {import("./seen.js").Found | null} */
  #found = null;
  #trouble = "";
  /** Questions asked: of two answers the one to the last stands. */
  #asked = 0;
  /** @type {any} */
  waiting = 0;

  /** @param {import("../../../types.js").Context} context @param {string | undefined} crop */
  constructor(context, crop) {
    this.context = context;
    this.crop = crop;
    this.draft = `successions.${crop}`;
    this.ask = { ...AT_FIRST, ...(readDraft(this.draft) || {}) };
    this.element = h("main", { class: "page", id: "room" });
    this.days = h("div", { class: "keys two" });
    this.result = h("div", { class: "contents" });
    /** @type {import("./draw.js").Set} */
    this.set = (part, all = true) => this.#set(part, all);
  }

  /** @param {Partial<import("./seen.js").Ask>} part @param {boolean} all */
  #set(part, all) {
    Object.assign(this.ask, part);
    saveDraft(this.draft, this.ask);
    if (all) this.draw();
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => void this.work(), WAIT_MS);
  }

  draw() {
    const { book, back, go } = this.context;
    const head = top(back, "One after another");
    if (!this.crop) {
      fill(this.element, head, choice("Which crop", "", cropChoices(book), (id) => id && go("successions", id)));
      return;
    }
    this.#drawDays();
    fill(this.element, head, drawQuestions(seeQuestions(book, this.crop, this.#found), this.ask, this.set, this.days), this.result);
    this.#drawResult();
  }

  #drawDays() {
    fill(this.days, drawDays(this.ask, this.#found, this.set));
  }

  #drawResult() {
    const { book, today } = this.context;
    if (this.#trouble) fill(this.result, troubleBoard(this.#trouble, () => void this.work()));
    else if (!this.#found || !this.crop) fill(this.result, drawWorking());
    else fill(this.result, drawAnswer(seeAnswer(book, this.crop, this.#found, today()), () => void this.#putIn()));
  }

  async work() {
    if (!this.crop) return;
    const mine = (this.#asked += 1);
    try {
      const answer = await this.context.ask(question(this.crop, this.ask));
      if (mine !== this.#asked) return;
      this.#found = answer;
      this.#trouble = "";
      this.#drawDays();
    } catch (/** @type {any} */ error) {
      if (mine !== this.#asked) return;
      this.#trouble = error.say || "The server works this out, and it does not answer now. What you chose stays here.";
    }
    this.#drawResult();
  }

  async #putIn() {
    const { crop, ask } = this;
    const { book, newId, write, go } = this.context;
    if (!crop || !this.#found) return;
    const { sowings } = this.#found;
    const wishes = sowingWishes(book, { crop, ask, sowings, newId });
    const say = `In the book: ${counted(sowings.length, "batch", "batches")} of ${book.rulebook.crops[crop].many}.`;
    if (!(await write(wishes, { say, undo: goneWishes(wishes), still: STILL_ON_SCREEN }))) return;
    dropDraft(this.draft);
    if (this.element.isConnected) go("season");
  }
}
