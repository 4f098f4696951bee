// @ts-check
/** A job opened: what its keys do. */
import { tickSaid } from "../../household/names.js";
import { forWish, letGoWish, putOffWish, stillWish, tickWish, undoWay, undoWishes, wayWishes } from "../../household/wishes.js";
import { ON_THE_LIST_AGAIN } from "../../household/writing.js";
import { addDays } from "../../lib/dates.js";
import { fill, h } from "../../lib/dom.js";
import { kept, weightWords } from "../../lib/words.js";
import { drawAsked, drawGone, drawJob, drawKeys, drawSome, drawWeighed, drawWhere } from "./draw.js";
import { putOffSaid } from "./put-off/seen.js";
import { findJob, seeJob, seeKeys, seeWhere } from "./seen.js";

/** @typedef {import("../../types.js").Job} Job */

/** @param {import("../../types.js").Context} context params: the job's id */
export function room(context) {
  const opened = new OpenedJob(context);
  opened.draw();
  return { element: opened.element, title: opened.job?.title || "Job", refresh: (/** @type {string} */ what) => opened.refresh(what) };
}

class OpenedJob {
  /** Whether it is asked how many of them were done. */
  #some = false;
  /** @type {import("../../types.js").Way | null} An answer that asks how many first. */
  #asked = null;

  /** @param {import("../../types.js").Context} context */
  constructor(context) {
    this.context = context;
    this.element = h("main", { class: "page with-acts", id: "room" });
    const { go } = context;
    const id = context.params[0];
    /** @type {import("./draw.js").Does} */
    this.does = {
      done: (more) => void this.#done(more),
      undo: () => void this.#undo(),
      letGo: () => void this.#letGo(),
      takeBack: () => void this.#takeBack(),
      tickOther: (job) => void this.#tick(job),
      chooseFor: (person) => void (this.job && context.write([forWish(this.job, person)])),
      way: (way) => void this.#way(way),
      still: () => void this.#still(),
      some: (some) => {
        this.#some = some;
        this.#asked = null;
        this.draw();
      },
      open: (other) => go("job", other),
      batch: (batch) => go("batch", batch),
      putOff: () => go("put-off", id),
      tomorrow: () => void this.#putOffToTomorrow(),
      seen: () => go("jot", "look", this.job?.writes.batch || "", this.job?.writes.found, id),
      sayMore: () => go("jot", this.job?.verb || "", this.job?.batch || "", "", id),
    };
  }

  /** @returns {Job | undefined} */
  get job() {
    return findJob(this.context.book.jobs(this.context.today()), this.context.params[0]);
  }

  /** @param {string} what */
  refresh(what) {
    if (what === "records" && !this.#some) this.draw();
  }

  draw() {
    const { book, back, go, today } = this.context;
    const { job, does } = this;
    const where = drawWhere(seeWhere(book, job ?? null), back);
    if (!job) fill(this.element, where, drawGone(() => go("round")));
    else fill(this.element, where, drawJob(seeJob(book, job, today()), does), this.#drawKeys(job));
  }

  /** @param {Job} job */
  #drawKeys(job) {
    const { does } = this;
    const asked = this.#asked;
    if (asked?.asks === "weight") return drawWeighed(asked, does, (weight) => void this.#answer(asked, weight === null ? {} : { weight_g: weight }));
    if (asked) return drawAsked(asked, job.count ?? asked.tells[0]?.count ?? 2, does, (count) => void this.#answer(asked, { count }));
    return this.#some ? drawSome(job.count ?? 1, does) : drawKeys(seeKeys(job), does, job.ways);
  }

  /** @param {import("../../types.js").Way} way */
  #way(way) {
    if (!way.asks) return this.#answer(way, {});
    this.#some = true;
    this.#asked = way;
    this.draw();
  }

  /** @param {import("../../types.js").Way} way @param {Record<string, any>} more */
  async #answer(way, more) {
    const { job, context } = this;
    if (!job) return;
    const wishes = wayWishes(job, way, context.newId, context.moment(), more);
    const many = more.weight_g ? `, ${weightWords(more.weight_g)}` : more.count === undefined ? "" : `, ${more.count}`;
    const saying = { say: `Written down: ${kept(job.title)}: ${way.say}${many}`, undo: undoWay(wishes), undone: ON_THE_LIST_AGAIN };
    if (await context.write(wishes, saying)) context.back();
  }

  async #still() {
    const { job, context } = this;
    if (!job) return;
    const saying = { say: `Still to do: ${kept(job.title)}`, undo: [stillWish(job.id, false, context.today())] };
    if (await context.write([stillWish(job.id, true, context.today())], saying)) context.back();
  }

  /** @param {Record<string, any>} more */
  async #done(more) {
    if (this.job && (await this.#tick(this.job, more))) this.context.back();
  }

  /** @param {Job} job @param {Record<string, any>} [more] */
  #tick(job, more) {
    const { newId, moment, write } = this.context;
    const wish = tickWish(job, newId(), moment(), more);
    return write([wish], { say: `Written down: ${tickSaid(this.context.book, job, more)}`, undo: undoWishes([wish.id]), undone: ON_THE_LIST_AGAIN });
  }

  async #undo() {
    if (await this.context.write(undoWishes(this.job?.deeds || []))) this.context.back();
  }

  async #putOffToTomorrow() {
    const { job, context } = this;
    if (!job) return;
    const today = context.today();
    const day = addDays(today, 1);
    const saying = { say: putOffSaid(job, day), undo: [putOffWish(job, null, today)], undone: ON_THE_LIST_AGAIN };
    if (await context.write([putOffWish(job, day, today)], saying)) context.back();
  }

  async #letGo() {
    const { job, context } = this;
    if (!job) return;
    const say = `Let go: ${kept(job.title)}`;
    if (await context.write([letGoWish(job.id, true, context.today(), job.title)], { say, undo: [letGoWish(job.id, false, context.today(), job.title)], undone: ON_THE_LIST_AGAIN })) context.back();
  }

  async #takeBack() {
    const { job, context } = this;
    if (job) await context.write([letGoWish(job.id, false, context.today(), job.title)]);
  }
}
