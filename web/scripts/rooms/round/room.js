// @ts-check
/** The Round: what to do now, place by place in walking order. This file is what its keys do; `seen.js` what is seen, `draw.js` how. */
import { houses, personName, tickSaid } from "../../household/names.js";
import { tickWish, undoWishes } from "../../household/wishes.js";
import { NOT_TAKEN_BACK, ON_THE_LIST_AGAIN, takenBack } from "../../household/writing.js";
import { fill, h, painted } from "../../lib/dom.js";
import { label } from "../../ui/label.js";
import { drawCatchUp, drawEnd, drawFold, drawHead, drawLack, drawLeftOut, drawNothing, drawSection, drawTimes } from "./draw.js";
import { giveFocusBack, heldFocus, walkByKey } from "./focus.js";
import { lightUntil } from "./light.js";
import { mayCatchUp, seeCatchUp, seeDone, seeEnd, seeFolds, seeHead, seeLack, seeNothing, seeSections, seeTime, sortJobs, standId } from "./seen.js";

/** @typedef {import("../../types.js").Job} Job */

/** Rows drawn before the first paint of all; grows until everything is there. */
let rowsAtOnce = 8;
const MORE_TIMES = 6;
const SHRINKS_AFTER_MS = 600;
/** Rows that come or go with a tick do so once a second quick tap is over. */
const MOVES_AFTER_MS = 450;
/** What the grower chose stays chosen while the app is open. */
/** @type {Map<string, string[]>} Rows of each house as they stand: for as long as the Round is open, and when one comes back to it. */
let stood = new Map();
const chosen = { minutes: 0, week: false, beyond: false, low: false, upkeep: /** @type {boolean | null} */ (null), early: false, lapsed: false, waiting: /** @type {Record<string, boolean>} */ ({}), done: /** @type {Record<string, boolean>} */ ({}) };

/** @param {import("../../types.js").Context} context */
export function room(context) {
  const round = new Round(context);
  round.draw();
  return { element: round.element, title: "Round", refresh: (/** @type {string} */ what) => round.refresh(what), leave: () => {} };
}

/** One Round on the screen. */
class Round {
  /** @type {Map<string, {job: Job, key: string, element: HTMLElement}>} */
  #rows = new Map();
  /** @type {Map<string, HTMLElement>} */
  #sections = new Map();
  /** @type {Map<string, number>} Heights of rows that were ticked just now: they shrink in place, a moment later. [px] */
  #heights = new Map();
  /** @type {Map<string, {job: Job, wish: import("../../types.js").Wish}>} Ticks that are being written, by their deed. */
  #ticks = new Map();

  /** @type {{for: any, says: string | null}} What the slip says, and the list it was worked out of. */
  #caught = { for: null, says: null };

  /** How much there is to do, as drawn last: news of sharing alone must not have the list worked out before a tick is painted. */
  #words = "";

  /** Ticks that are drawn as done and wait to be seen before the list is worked out. */
  #painting = 0;

  /** @param {import("../../types.js").Context} context */
  constructor(context) {
    this.context = context;
    this.book = context.book;
    if (!context.returns) stood = new Map();
    this.head = h("header", { class: "head" });
    this.strip = h("div");
    this.list = h("div", { class: "rows", onkeydown: (/** @type {KeyboardEvent} */ event) => walkByKey(this.list, event) });
    this.slip = h("div");
    this.element = h("main", { class: "page", id: "room" }, this.head, this.strip, this.slip, this.list);
  }

  /** @param {string} what changed */
  refresh(what) {
    const whole = this.book.rulebook.version && !this.list.querySelector(".empty"); // else it says how the sharing goes
    if (what === "sharing" && whole) this.#drawHead();
    else if (this.#showTicks()) this.#drawOncePainted();
    else this.#drawIfShown();
  }

  #drawOncePainted() {
    this.#painting += 1;
    void painted().then(() => setTimeout(() => {
      this.#painting -= 1;
      this.#drawIfShown();
    }, MOVES_AFTER_MS));
  }

  /** What was ticked just now looks done on the next frame; the list is worked out after it. @returns {boolean} whether any row was */
  #showTicks() {
    let any = false;
    for (const [deed, { job, wish }] of this.#ticks) {
      if (!this.book.get(deed)) continue;
      this.#ticks.delete(deed);
      const held = this.#rows.get(rowId(job));
      if (!held?.element.isConnected) continue;
      any = true;
      const focus = heldFocus(this.list);
      this.#holdHeight(job, held.element);
      held.element.replaceWith(this.#row(seeDone(job, wish)));
      giveFocusBack(this.list, focus);
    }
    return any;
  }

  /** @param {Job} job @param {HTMLElement} element */
  #holdHeight(job, element) {
    const id = standId(job);
    this.#heights.set(id, element.firstElementChild?.getBoundingClientRect().height || 0);
    setTimeout(() => {
      this.#heights.delete(id);
      for (const { job: one, element: row } of this.#rows.values()) if (standId(one) === id) /** @type {HTMLElement} */ (row.firstElementChild).style.minHeight = "";
    }, SHRINKS_AFTER_MS);
  }

  /** Nothing that comes of itself has the list worked out while a tick waits for its frame: it is drawn soon after. */
  #drawIfShown() {
    if (this.element.isConnected && !this.#painting) this.draw();
  }

  draw() {
    const { book, context } = this;
    const today = context.today();
    const jobs = /** @type {Job[]} */ (book.jobs(today));
    const time = seeTime(jobs, chosen.minutes);
    const { ready, waiting } = sortJobs(jobs);
    const none = !book.ofKind("place").length && !book.ofKind("batch").length;
    this.#words = none ? "" : time.words;
    this.#drawHead();
    this.#drawTimes(ready.length > 0, time.leftOut);
    const focus = heldFocus(this.list);
    const row = (/** @type {Job} */ job) => this.#row(job);
    const folds = seeFolds(jobs, today, chosen).map((seen) => drawFold(seen, { row, go: context.go, toggle: (open) => this.#choose({ [seen.id]: open }) }));
    const lack = seeLack(book.rulebook, book.sharing);
    void this.#catchUp(jobs, today);
    if (none) fill(this.list, this.#drawNothing());
    else if (lack) fill(this.list, drawLack(lack), this.#drawSections(jobs, time.take), folds);
    else if (!ready.length && !waiting.length) fill(this.list, drawEnd(seeEnd(jobs, today), { row, go: context.go }), folds);
    else fill(this.list, this.#drawSections(jobs, time.take), folds);
    giveFocusBack(this.list, focus);
  }

  /** Whether the Round is to begin with a slip is worked out once it stands. @param {Job[]} jobs @param {string} today */
  async #catchUp(jobs, today) {
    if (!this.book.isRead || this.#caught.for === jobs) return;
    this.#caught.for = jobs;
    const asked = mayCatchUp(jobs, this.book.ofKind("diary"), today);
    const says = asked ? seeCatchUp(await this.book.catchUp(today), today) : null;
    if (says === this.#caught.says || this.#caught.for !== jobs) return;
    this.#caught.says = says;
    fill(this.slip, drawCatchUp(says, () => this.context.go("catch-up")));
  }

  #drawHead() {
    const { book, context } = this;
    const today = context.today();
    const seen = seeHead({ today, sharing: book.sharing, nowMs: context.now(), zone: context.zone() });
    fill(this.head, drawHead({ ...seen, words: this.#words, light: lightUntil(book.rulebook.dusk, today, context.zone()) }));
  }

  /** @param {boolean} any @param {ReturnType<typeof seeTime>["leftOut"]} leftOut */
  #drawTimes(any, leftOut) {
    const held = document.activeElement?.getAttribute?.("data-minutes");
    fill(this.strip, any && drawTimes(chosen.minutes, (minutes) => this.#choose({ minutes })), any && leftOut && drawLeftOut(leftOut));
    if (held) /** @type {any} */ (this.strip.querySelector(`[data-minutes="${held}"]`))?.focus();
  }

  /** @param {Partial<typeof chosen>} choice */
  #choose(choice) {
    Object.assign(chosen, choice);
    this.draw();
  }

  #drawNothing() {
    const seen = seeNothing(this.book.sharing, this.book.wiped);
    return drawNothing(seen, () => (seen.way ? this.context.go(seen.way) : void this.context.shareNow()));
  }

  /** When the app opens, what fits on the screen is painted first. @param {Job[]} jobs @param {Set<string> | null} take */
  #drawSections(jobs, take) {
    const walk = houses(this.book).map((house, at) => ({ id: house.id, name: house.fields.name || "", walk: at + 1 }));
    const sections = seeSections({ jobs, take, walk, chosen, now: this.context.moment().at, stood });
    for (const { house, rows } of sections) stood.set(house, rows.map(standId));
    let left = rowsAtOnce;
    const made = [];
    for (const section of sections) {
      if (left <= 0) break;
      const element = this.#sections.get(section.house) || h("section");
      this.#sections.set(section.house, element);
      const unfold = () => this.#choose({ waiting: { ...chosen.waiting, [section.house]: true } });
      const showDone = (/** @type {boolean} */ open) => this.#choose({ done: { ...chosen.done, [section.house]: open } });
      made.push(drawSection(element, section, { row: (job) => this.#row(job), left, unfold, done: chosen.done[section.house] || false, showDone }));
      left -= section.rows.length + section.waiting.length;
    }
    if (left < 0 || made.length < sections.length) {
      rowsAtOnce *= MORE_TIMES;
      void painted().then(() => this.#drawIfShown());
    }
    return made;
  }

  /** A row, kept as it was if nothing in it changed: rows hold still under a thumb. @param {Job} job */
  #row(job) {
    const { context } = this;
    const held = this.#rows.get(rowId(job));
    const around = `${context.today()} ${context.settings.scheme}`;
    if (held && held.job === job && held.key.startsWith(around)) return held.element;
    const key = `${around} ${JSON.stringify(shownOf(job))}`;
    if (held?.key === key) {
      held.job = job;
      return held.element;
    }
    const element = label(job, {
      today: context.today(),
      cautions: this.book.rulebook.cautions || {},
      who: (id) => personName(this.book, id),
      open: (one) => this.#open(one),
      tick: (one, seen) => void this.#tick(one, seen),
      undo: (one) => void this.#takeBack(one),
    });
    const height = job.state === "done" && this.#heights.get(standId(job));
    if (height) /** @type {HTMLElement} */ (element.firstElementChild).style.minHeight = `${height}px`;
    this.#rows.set(rowId(job), { job, key, element });
    return element;
  }

  /** @param {Job} job */
  #open(job) {
    if (job.state === "done" && job.deeds?.length) this.context.go("deed", job.deeds[0]);
    else this.context.go("job", job.id);
  }

  /** @param {Job} job @param {string} [seen] */
  async #tick(job, seen) {
    const { context } = this;
    if (seen === "seen") {
      context.go("jot", "look", job.writes.batch || "", job.writes.found, job.id);
      return;
    }
    const more = seen === "none" ? { level: "none" } : {};
    const wish = tickWish(job, context.newId(), context.moment(), more);
    this.#ticks.set(wish.id, { job, wish });
    try {
      await context.write([wish], { say: `Written down: ${tickSaid(this.book, job, more)}`, undo: undoWishes([wish.id]), undone: ON_THE_LIST_AGAIN });
    } finally {
      this.#ticks.delete(wish.id);
    }
  }

  /** @param {Job} job */
  #takeBack(job) {
    return this.context.write(undoWishes(job.deeds || []), { say: takenBack(tickSaid(this.book, job), ON_THE_LIST_AGAIN), still: NOT_TAKEN_BACK });
  }
}

/** @param {Job} job */
function rowId(job) {
  return `${job.id} ${job.state} ${job.part}`;
}

/** What of a job its row shows or its keys write. @param {Job} job */
function shownOf(job) {
  const { why, needs, ...rest } = job;
  return job.state === "done" ? [job.id, job.title, job.told_by, job.at, job.deeds] : rest;
}
