// @ts-check
/**
 * Jot: write down anything in at most four taps. The slip fills from left to right: did what, to what, how many. It begins where one
 * stands. Nothing typed is lost: it is kept as a draft until it is written down.
 */
import { deedSaid } from "../../household/diary-lines.js";
import { cropWords, fullPlace } from "../../household/names.js";
import { undoWishes } from "../../household/wishes.js";
import { ON_THE_LIST_AGAIN, STILL_ON_SCREEN } from "../../household/writing.js";
import { fill, h } from "../../lib/dom.js";
import { dropDraft, readDraft, saveDraft } from "../../store/drafts.js";
import { findLine } from "../../ui/find.js";
import { photoTaker, photoWishes, takePhoto } from "../parts/photo-views.js";
import { NO_COUNT, stageOfNew } from "./choices.js";
import { drawBelow, drawCount, drawNoPlants, drawNote, drawOther, drawReading, drawRows, drawSightings, drawWhere } from "./draw-last.js";
import { drawBatches, drawFixtures, drawFrame, drawPlaces, drawVerbs } from "./draw.js";
import { seeBatches, seeCount, seeFixtures, seeFrame, seeNote, seePlaces, seeReading, seeRows, seeSightings, seeVerbs, seeWhere } from "./seen.js";
import { takeShared } from "./shared.js";
import { beginSlip, deedOf, doneHere, oneBack, stepNow, unsaid } from "./slip.js";
import { whereOneStands } from "./stands.js";

const DRAFT = "jot";
/** Opened by another app, with words or photos. */
const SHARED = "shared";

/** @param {import("../../types.js").Context} context params: verb, batch, found, job; each may be missing */
export function room(context) {
  const jot = new Jot(context);
  jot.draw();
  if (jot.params[0] === SHARED) void jot.takeShared();
  return { element: jot.element, title: "Jot", bare: true, stepBack: () => jot.stepBack() };
}

class Jot {
  /** @type {string | null} */
  #trouble = null;
  #all = false;
  /** What was typed to find something. */
  #asked = "";
  /** @type {import("./slip.js").Slip[]} The slip as it was at each question before this one. */
  #before = [];

  /** @param {import("../../types.js").Context} context */
  constructor(context) {
    const { book, params, today, settings, go, from } = context;
    this.context = context;
    this.params = params;
    this.element = h("main", { class: "page bare", id: "room" });
    const jobs = book.jobs(today());
    this.here = whereOneStands(book, from, { jobs, today: today(), placeInHand: settings.placeInHand });
    /** Whether one came from there, and it is not only where something was jotted last. */
    this.sure = ["batch", "place", "job", "put-off", "readings"].includes(from?.name || "");
    this.slip = beginSlip({ params: params[0] === SHARED ? ["note"] : params, draft: readDraft(DRAFT), sure: this.sure, jobs, today: today() });
    this.find = findLine({ value: "", name: "Find", hint: "a crop, a place", onType: (words) => this.#look({ asked: words }) });
    /** @type {import("./draw.js").Does} */
    this.does = {
      verb: (verb) => this.#set({ did: verb, ...this.#doneHere(verb) }),
      set: (part) => this.#set(part),
      elsewhere: () => {
        this.sure = false;
        this.draw();
      },
      unsay: (verbToo) => this.#set(unsaid(verbToo)),
      again: () => this.#set({ ...settings.lastJot }),
      showAll: () => this.#look({ all: true }),
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
      newBatch: () => {
        const stage = stageOfNew(this.slip.did);
        const begun = stage ? ["mode=growing", `stage=${stage}`, `since=${this.slip.on}`, ...(this.here.place ? [`here=${this.here.place}`] : [])] : [];
        if (stage) go("plan", ...begun);
        else go("form", "batch", "new");
      },
    };
  }

  /** What another app has handed in becomes a note, or whatever else it is said to be. */
  async takeShared() {
    this.params = [];
    const given = await takeShared().catch(() => null);
    if (!given) this.#trouble = "What was shared did not come along. Share it once more, or write it here.";
    this.slip.note = [this.slip.note, given?.words].filter(Boolean).join("\n");
    for (const photo of given?.photos || []) {
      await takePhoto(photo, this.slip.photos).catch((/** @type {any} */ error) => {
        this.#trouble = error.say || "A photo could not be kept. Take it here instead.";
      });
    }
    this.#keep();
    if (this.element.isConnected) this.draw();
  }

  /** Keep what was chosen and typed so far. */
  #keep() {
    const { job: _job, ...rest } = this.slip;
    saveDraft(DRAFT, rest);
  }

  /** @param {{all?: boolean, asked?: string}} how the list is looked at */
  #look({ all = this.#all, asked = this.#asked }) {
    this.#all = all;
    this.#asked = asked;
    this.draw();
  }

  /** @param {string} verb @returns {Partial<import("./slip.js").Slip>} */
  #doneHere(verb) {
    if (!this.sure) return {};
    const { groups } = seeBatches(this.context.book, { ...this.slip, did: verb }, { ...this.#given(), all: true, asked: "" });
    return doneHere(this.context.book, verb, this.here, groups.flatMap(({ lines }) => lines.map(({ id }) => id)));
  }

  /** A question is answered: the phone's Back comes back to it. @param {Partial<import("./slip.js").Slip>} part */
  #set(part) {
    this.#before.push({ ...this.slip, more: { ...this.slip.more } });
    this.context.deeper();
    this.#show({ ...this.slip, ...part });
  }

  /** @param {import("./slip.js").Slip} slip */
  #show(slip) {
    this.slip = slip;
    this.#all = false;
    this.#asked = "";
    /** @type {HTMLInputElement} */ (this.find.querySelector("input")).value = "";
    this.#keep();
    this.draw();
    window.scrollTo(0, 0);
  }

  /** The phone's Back: what was typed meanwhile stays. */
  stepBack() {
    const was = this.#before.pop();
    if (was) this.#show({ ...was, note: this.slip.note, photos: this.slip.photos, on: this.slip.on });
  }

  #back() {
    if (this.#before.length) {
      history.back();
      return;
    }
    if (!this.slip.did || this.params.length) {
      dropDraft(DRAFT);
      this.context.back();
      return;
    }
    this.#show({ ...this.slip, ...oneBack(this.slip) });
  }

  /** @returns {import("./seen.js").Given} */
  #given() {
    return { today: this.context.today(), here: this.here, sure: this.sure, all: this.#all, asked: this.#asked };
  }

  draw() {
    const { book, person } = this.context;
    const step = stepNow(this.slip);
    const frame = seeFrame(book, this.slip, { step, person: person(), here: this.sure ? this.here : null });
    fill(this.element, drawFrame(frame, this.#trouble, this.does), this.#question(step));
  }

  /** @param {import("./slip.js").Step} step */
  #question(step) {
    const { context, slip, does } = this;
    const { book, settings } = context;
    const given = this.#given();
    if (step === "did") return drawVerbs(seeVerbs(book, given, settings.lastJot), does);
    if (step === "batch") return drawBatches(seeBatches(book, slip, given), this.find, does);
    if (step === "place") return drawPlaces(seePlaces(book, slip, given), this.find, does);
    if (step === "fixture") return drawFixtures(seeFixtures(book, slip, given), does);
    if (step === "where") return drawWhere(seeWhere(book, slip, given.today), does);
    if (step === "found") return drawSightings(seeSightings(book, slip, given.today), (found, level) => this.#sighted(found, level), does);
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
    if (slip.did === "look") return drawOther({ on: slip.batch ? cropWords(book, slip.batch) : fullPlace(book, slip.place), silent: () => !slip.note.trim() && !slip.photos.length }, below);
    if (slip.did === "measure") return drawReading(seeReading(book, slip), does, below);
    if (NO_COUNT.includes(slip.did || "")) return drawNote(seeNote(book, slip), does, below);
    const rows = seeRows(book, slip, given);
    if (rows) return drawRows(rows, does, below);
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
    if (!(await write([...photos.wishes, wish], { say: `Written down: ${deedSaid(book, fields, this.#stands())}`, undo: undoWishes([wish.id]), undone, trouble, still: STILL_ON_SCREEN }))) return;
    dropDraft(DRAFT);
    this.#remember();
    context.back("job"); // only from here: a write that ends late never moves whoever has gone on
  }

  /** Where the plants in question stand. @returns {string | null} */
  #stands() {
    const { book, today } = this.context;
    return book.stand(today()).batches.find((/** @type {any} */ one) => one.id === this.slip.batch)?.cells[0]?.place ?? null;
  }

  /** The place in hand, and what can be done once more. */
  #remember() {
    const { settings } = this.context;
    const { did, batch, place, fixture } = this.slip;
    const stands = place || this.#stands();
    if (stands) settings.placeInHand = stands;
    settings.lastJot = { did, batch, place, fixture };
  }
}
