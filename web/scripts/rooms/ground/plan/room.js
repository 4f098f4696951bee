// @ts-check
/**
 * Plan a batch: what, how many, where; the list's answer stands beneath and changes with every answer, with or without
 * signal. Plants that grow already are put in at the stage they have come to.
 */
import { STILL_ON_SCREEN, goneWishes } from "../../../household/writing.js";
import { fill, h } from "../../../lib/dom.js";
import { kept } from "../../../lib/words.js";
import { dropDraft, readDraft, saveDraft } from "../../../store/drafts.js";
import { troubleLine } from "../../../ui/board.js";
import { top } from "../../../ui/top.js";
import { drawKeys, drawPlan, drawPutIn, drawQuestions } from "./draw.js";
import { atFirst, knowOf, planWishes, seePlan, seeQuestions } from "./seen.js";

const DRAFT = "plan";

/** @param {import("../../../types.js").Context} context params: name=value pairs to begin with */
export function room(context) {
  const plan = new Planning(context);
  plan.draw();
  return { element: plan.element, title: "A batch", refresh: (/** @type {string} */ what) => plan.refresh(what) };
}

/** Which rulebook it is, and whether its crops have come: one that is read again is the same. @param {import("../../../types.js").Context} context */
const whichRulebook = ({ book: { rulebook } }) => `${rulebook.version} ${Object.keys(rulebook.crops).length}`;

class Planning {
  /** Batches put in that grow already, while one stays here. */
  #putIn = 0;

  /** @param {import("../../../types.js").Context} context */
  constructor(context) {
    const { book, params, today } = context;
    this.context = context;
    this.element = h("main", { class: "page", id: "room" });
    this.result = h("div");
    this.trouble = troubleLine();
    /** @type {import("./seen.js").Ask} */
    this.ask = { ...atFirst(today()), ...(readDraft(DRAFT) || {}), ...Object.fromEntries(params.map((pair) => pair.split("=", 2))) };
    if (this.ask.variety && !this.ask.crop) this.ask.crop = book.fields(this.ask.variety).crop || "";
    /** @type {import("./draw.js").Set} */
    this.set = (part, all = true) => {
      Object.assign(this.ask, part);
      saveDraft(DRAFT, this.ask);
      if (all) this.draw();
      else this.#drawResult();
    };
  }

  /** The questions hold still while somebody answers them; they change when what is known of crops comes. @param {string} what */
  refresh(what) {
    if (what !== "records") return;
    if (whichRulebook(this.context) !== this.known) this.draw();
    else this.#drawResult();
  }

  draw() {
    const { book, back, go, today } = this.context;
    this.known = whichRulebook(this.context);
    if (this.ask.place && book.restingYears.length) void book.wakeAll(); // what stood there years ago
    const seen = seeQuestions(book, this.ask, today());
    if (seen.growing) this.ask.stage = seen.growing.stage;
    fill(
      this.element,
      top(back, "A batch"),
      drawQuestions(seen, this.ask, this.set),
      this.ask.crop && this.result,
      this.trouble.element,
      drawKeys(this.ask, { save: () => void this.#save(), asForm: () => go("form", "batch", "new") }),
    );
    this.#drawResult();
  }

  #drawResult() {
    const { book, today } = this.context;
    const known = knowOf(book, this.ask, today()) !== null;
    if (this.ask.mode === "growing") fill(this.result, drawPutIn(this.#putIn));
    else fill(this.result, known && drawPlan(seePlan(book, this.ask, today()), this.set));
  }

  async #save() {
    const { book, today, moment, newId, write, go } = this.context;
    this.trouble.clear();
    const { batch, variety, wishes } = planWishes(book, this.ask, { today: today(), at: moment(), newId });
    const name = this.ask.name.trim() || book.fields(variety).name || knowOf(book, this.ask, today()).many;
    if (!(await write(wishes, { say: `In the book: ${kept(name)}.`, undo: goneWishes(wishes), trouble: this.trouble.say, still: STILL_ON_SCREEN }))) return;
    if (this.ask.mode === "begin") {
      dropDraft(DRAFT);
      if (this.element.isConnected) go("batch", batch);
      return;
    }
    this.#putIn += 1;
    this.set({ variety: "", name: "", picked: false });
    window.scrollTo(0, 0);
  }
}
