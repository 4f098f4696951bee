// @ts-check
/**
 * Jot: write down anything in at most four taps. The slip fills from left to right: did what, to what, how many. Nothing
 * typed is lost: it is kept as a draft until it is written down.
 */
import { undoWishes } from "../../household/wishes.js";
import { ON_THE_LIST_AGAIN, STILL_ON_SCREEN } from "../../household/writing.js";
import { fill, h } from "../../lib/dom.js";
import { kept } from "../../lib/words.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { photoTaker, photoWishes } from "../parts/photo-views.js";
import { drawBelow, drawCount, drawNoPlants, drawNote, drawReading, drawSightings, drawWhere } from "./draw-last.js";
import { drawBatches, drawFixtures, drawFrame, drawPlaces, drawVerbs } from "./draw.js";
import { seeBatches, seeCount, seeFixtures, seeFrame, seeNote, seePlaces, seeReading, seeSightings, seeVerbs, seeWhere } from "./seen.js";
import { beginSlip, deedOf, deedSaid, oneBack, stepNow, unsaid } from "./slip.js";

const DRAFT = "jot";
/** Verbs of which only a word is asked. */
const NO_COUNT = ["note", "water", "clear", "harden_off"];

/** @param {import("../../types.js").Context} context params: verb, batch, found, job; each may be missing */
export function room(context) {
  const jot = new Jot(context);
  jot.draw();
  return { element: jot.element, title: "Jot", bare: true };
}

class Jot {
  /** @type {string | null} */
  #trouble = null;
  #all = false;

  /** @param {import("../../types.js").Context} context */
  constructor(context) {
    const { book, params, today, settings, go } = context;
    this.context = context;
    this.element = h("main", { class: "page bare", id: "room" });
    this.slip = beginSlip({ params, draft: readDraft(DRAFT), jobs: book.jobs(today()), today: today() });
    /** @type {import("./draw.js").Does} */
    this.does = {
      set: (part) => this.#set(part),
      unsay: (verbToo) => this.#set(unsaid(verbToo)),
      again: () => this.#set({ ...settings.lastJot }),
      showAll: () => {
        this.#all = true;
        this.draw();
      },
      write: (said) => void this.#write(said),
      choose: (more) => {
        Object.assign(this.slip.more, more);
        this.#keep();
        this.draw();
      },
      type: ({ more, ...part }) => {
        Object.assign(this.slip, part);
        Object.assign(this.slip.more, more);
        this.#keep();
      },
      back: () => this.#back(),
      newBatch: () => go("form", "batch", "new"),
    };
  }

  /** Keep what was chosen and typed so far. */
  #keep() {
    const { job: _job, ...rest } = this.slip;
    saveDraft(DRAFT, rest);
  }

  /** @param {Partial<import("./slip.js").Slip>} part */
  #set(part) {
    Object.assign(this.slip, part);
    this.#keep();
    this.draw();
    window.scrollTo(0, 0);
  }

  #back() {
    if (!this.slip.did || this.context.params.length) {
      dropDraft(DRAFT);
      this.context.back();
      return;
    }
    Object.assign(this.slip, oneBack(this.slip));
    this.#keep();
    this.draw();
  }

  draw() {
    const { book, person } = this.context;
    const step = stepNow(this.slip);
    fill(this.element, drawFrame(seeFrame(book, this.slip, step, person()), this.#trouble, this.does), this.#question(step));
  }

  /** @param {import("./slip.js").Step} step */
  #question(step) {
    const { context, slip, does } = this;
    const { book, settings } = context;
    const given = { today: context.today(), placeInHand: settings.placeInHand, all: this.#all };
    if (step === "did") return drawVerbs(seeVerbs(book, given, settings.lastJot), does);
    if (step === "batch") return drawBatches(seeBatches(book, slip, given), does);
    if (step === "place") return drawPlaces(seePlaces(book, slip), does);
    if (step === "fixture") return drawFixtures(seeFixtures(book, slip, given.today), does);
    if (step === "where") return drawWhere(seeWhere(book, slip, given.today), does);
    if (step === "found") return drawSightings(seeSightings(book, slip), (found, level) => this.#sighted(found, level));
    return this.#details(given);
  }

  /** @param {import("./seen.js").Given} given */
  #details(given) {
    const { context, slip, does } = this;
    const { book } = context;
    const photos = photoTaker(context, slip.photos, () => {
      this.#keep();
      this.draw();
    });
    const below = (/** @type {() => Record<string, any> | null} */ said) => drawBelow({ slip, today: given.today, photos }, does, said);
    if (slip.did === "measure") return drawReading(seeReading(book, slip), does, below);
    if (NO_COUNT.includes(slip.did || "")) return drawNote(seeNote(book, slip), does, below);
    const count = seeCount(book, slip, given);
    return count ? drawCount(count, does, below) : drawNoPlants();
  }

  /** @param {string | null} found @param {string | null} level */
  #sighted(found, level) {
    this.slip.found = found;
    void this.#write({ found, level });
  }

  /** @param {Record<string, any>} said at the last question */
  async #write(said) {
    const { context, slip } = this;
    const { book, write, newId, moment, today } = context;
    const photos = photoWishes(slip.photos, context);
    const fields = deedOf(slip, said, { jobs: book.jobs(today()), moment: moment() });
    const wish = { id: newId(), kind: "diary", fields: photos.ids.length ? { ...fields, photos: photos.ids } : fields };
    const trouble = (/** @type {string} */ words) => {
      this.#trouble = words;
      this.draw();
    };
    const undone = fields.job ? ON_THE_LIST_AGAIN : "";
    this.#trouble = null;
    if (!(await write([...photos.wishes, wish], { say: `Written down: ${kept(deedSaid(book, slip, fields))}`, undo: undoWishes([wish.id]), undone, trouble, still: STILL_ON_SCREEN }))) return;
    dropDraft(DRAFT);
    this.#remember();
    context.back("job"); // only from here: a write that ends late never moves whoever has gone on
  }

  /** The place in hand, and what can be done once more. */
  #remember() {
    const { book, settings, today } = this.context;
    const { did, batch, place, fixture } = this.slip;
    const stands = place || book.stand(today()).batches.find((/** @type {any} */ one) => one.id === batch)?.cells[0]?.place;
    if (stands) settings.placeInHand = stands;
    settings.lastJot = { did, batch, place, fixture };
  }
}
