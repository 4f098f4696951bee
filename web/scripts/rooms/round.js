// @ts-check
/** The Round: what to do now, place by place in walking order. */
import { fit } from "../kernel/fit.js";
import { fill, h, painted } from "../lib/dom.js";
import { daysBetween, longDay, nearDay } from "../lib/dates.js";
import { counted, kept, minutesWords, sharingWords } from "../lib/words.js";
import { fold } from "../ui/fold.js";
import { glyph } from "../ui/glyphs.js";
import { label } from "../ui/label.js";
import { mark } from "../ui/mark.js";
import { plate } from "../ui/plate.js";
import { tickWish, undoWishes } from "./deeds.js";
import { houses, personName } from "./household.js";
import { lightUntil } from "./light.js";

/** @typedef {import("../types.js").Job} Job */

const TIMES = [0, 20, 45, 90];
/** Rows drawn before the first paint of all; grows until everything is there. */
let rowsAtOnce = 8;
const WEEK_DAYS = 7;
/** What the grower chose stays chosen while the app is open. */
const chosen = { minutes: 0, week: false, beyond: false, low: false, waiting: /** @type {Record<string, boolean>} */ ({}) };

/** @param {any} context */
export function room(context) {
  const { book, go, toast } = context;
  const head = h("header", { class: "head" });
  const strip = h("div");
  const list = h("div", { class: "rows" });
  const element = h("main", { class: "page", id: "room" }, head, strip, list);
  /** @type {Map<string, {key: string, element: HTMLElement}>} */
  const rows = new Map();
  /** @type {Map<string, HTMLElement>} */
  const sectionsByHouse = new Map();
  let drawHeadAgain = () => {};

  const given = () => ({
    today: context.today(),
    cautions: book.rulebook.cautions || {},
    who: (/** @type {string} */ id) => personName(book, id),
    open: (/** @type {Job} */ job) => open(job),
    tick,
    undo,
  });

  /** @param {Job} job */
  function open(job) {
    if (job.state === "done" && job.deeds?.length) go("deed", job.deeds[0]);
    else go("job", job.id);
  }

  /** @param {Job} job @param {string} [seen] */
  async function tick(job, seen) {
    if (seen === "seen") {
      go("jot", "look", job.writes.batch || "", job.writes.found, job.id);
      return;
    }
    const wish = tickWish(job, context.newId(), context.moment(), seen === "none" ? { level: "none" } : {});
    try {
      await book.write([wish]);
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "Not written down yet. Try again." });
      return;
    }
    toast({ say: `Written down: ${kept(job.title)}`, undo: () => takeBack([wish.id]) });
  }

  /** @param {Job} job */
  function undo(job) {
    void takeBack(job.deeds || []);
  }

  /** @param {string[]} ids */
  async function takeBack(ids) {
    try {
      await book.write(undoWishes(ids));
      toast({ say: "Taken back. The job is on the list again." });
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "Not taken back yet. Try again." });
    }
  }

  /** A row, kept as it was if nothing in it changed: rows hold still under a thumb. @param {Job} job */
  function row(job) {
    const id = `${job.id} ${job.state} ${job.part}`;
    const key = JSON.stringify([job, context.today(), context.settings.scheme]);
    const held = rows.get(id);
    if (held && held.key === key) return held.element;
    const made = label(job, given());
    rows.set(id, { key, element: made });
    return made;
  }

  /** @param {string} [what] */
  function refresh(what) {
    if (what === "sharing" && !list.querySelector(".empty")) drawHeadAgain();
    else draw();
  }

  function draw() {
    const today = context.today();
    const jobs = /** @type {Job[]} */ (book.jobs(today));
    const open = jobs.filter((job) => (job.state === "ready" && !job.low) || job.state === "waiting");
    const ready = jobs.filter((job) => job.state === "ready" && !job.low);
    const low = jobs.filter((job) => job.low && job.state === "ready");
    const done = jobs.filter((job) => job.state === "done");
    const later = jobs.filter((job) => job.state === "later" && !job.low);
    const minutes = ready.reduce((sum, job) => sum + job.minutes, 0);
    const fitted = chosen.minutes ? fit(jobs, chosen.minutes) : null;
    drawHeadAgain = () => drawHead(today, ready.length, minutes, done.length, fitted);
    drawHeadAgain();
    drawStrip(ready.length > 0, fitted, jobs);
    const focus = focusMark();
    const under = [lowFold(low), laterFolds(later, today)];
    if (!book.ofKind("place").length && !book.ofKind("batch").length) fill(list, book.sharing.lastShared === null && book.sharing.reachable === null ? asking() : emptyHousehold());
    else if (!open.length) fill(list, endOfDay(today, done, later), under);
    else fill(list, sections(open, done, fitted), under);
    restoreFocus(focus);
  }

  /** @param {string} today @param {number} count @param {number} minutes @param {number} done @param {any} fitted */
  function drawHead(today, count, minutes, done, fitted) {
    let words = `${counted(count, "job")}, ${minutesWords(minutes)}`;
    if (fitted) words = `${counted(fitted.take.length, "job")} ${fitted.take.length === 1 ? "fits" : "fit"}, ${minutesWords(fitted.minutes)}`;
    else if (!count) words = done ? `${done} done` : "no jobs today";
    fill(
      head,
      h("div", { class: "two" }, h("h1", null, longDay(today)), h("span", { class: "light" }, lightUntil(book.rulebook.dusk, today, context.zone()))),
      h(
        "p",
        { class: "two" },
        h("b", { "aria-live": "polite" }, words),
        h("span", { class: "soft" }, sharingWords(book.sharing, context.now(), context.zone())),
      ),
    );
  }

  /** @param {boolean} any @param {any} fitted @param {Job[]} jobs */
  function drawStrip(any, fitted, jobs) {
    if (!any) {
      fill(strip);
      return;
    }
    const held = document.activeElement?.getAttribute?.("data-minutes");
    fill(
      strip,
      h(
        "div",
        { class: "timer", role: "group", "aria-label": "How long have you got?" },
        h("span", { class: "lead" }, "I have"),
        TIMES.map((minutes) =>
          h(
            "button",
            {
              type: "button",
              "aria-pressed": String(chosen.minutes === minutes),
              "data-minutes": minutes,
              onclick: () => {
                chosen.minutes = minutes;
                refresh();
              },
            },
            minutes ? [minutes, " ", h("small", null, "min")] : "any",
          ),
        ),
      ),
      fitted && leftOut(fitted, jobs),
    );
    if (held) /** @type {any} */ (strip.querySelector(`[data-minutes="${held}"]`))?.focus();
  }

  /** What the time leaves out, and what of it runs out. @param {any} fitted @param {Job[]} jobs */
  function leftOut(fitted, jobs) {
    if (!fitted.leave.length) return h("p", { class: "left-out soft" }, "Everything that is ready fits.");
    const byId = new Map(jobs.map((job) => [job.id, job]));
    const gone = fitted.runs_out.map((/** @type {string} */ id) => byId.get(id)?.title).filter(Boolean);
    return h(
      "p",
      { class: "left-out" },
      `Leaves ${counted(fitted.leave.length, "job")}. `,
      gone.length
        ? h("b", null, `No time left to wait for: ${gone.slice(0, 4).map(kept).join("; ")}${gone.length > 4 ? ` and ${gone.length - 4} more` : ""}.`)
        : h("span", { class: "soft" }, "None of them runs out of leeway today."),
    );
  }

  /** @param {Job[]} open @param {Job[]} done @param {any} fitted */
  function sections(open, done, fitted) {
    const take = fitted ? new Set(fitted.take) : null;
    const shown = open.filter((job) => !take || take.has(job.id)).concat(take ? [] : done);
    const walk = houses(book).map((house) => house.id);
    const order = [...walk, ...new Set(shown.map((job) => job.house || "").filter((house) => !walk.includes(house)))];
    const made = [];
    let left = rowsAtOnce;
    for (const house of order) {
      const here = shown.filter((job) => (job.house || "") === house);
      if (!here.length || left <= 0) continue;
      const ready = here.filter((job) => job.state === "ready");
      const waiting = here.filter((job) => job.state === "waiting");
      const past = here.filter((job) => job.state === "done");
      made.push(section(house, ready, past, waiting, left));
      left -= here.length;
    }
    if (shown.length > rowsAtOnce) void painted().then(drawMore);
    return made;
  }

  /** When the app opens, what fits on the screen is painted first. */
  function drawMore() {
    rowsAtOnce *= 6;
    if (element.isConnected) draw();
  }

  /** @param {string} house @param {Job[]} ready @param {Job[]} past @param {Job[]} waiting @param {number} left rows to draw */
  function section(house, ready, past, waiting, left) {
    const fields = book.fields(house);
    const minutes = ready.reduce((sum, job) => sum + job.minutes, 0);
    const says = ready.length ? `${counted(ready.length, "job")}, ${minutesWords(minutes)}` : waiting.length ? `${waiting.length} waiting` : `${past.length} done`;
    const element = sectionsByHouse.get(house) || h("section");
    element.setAttribute("aria-label", fields.name || "Anywhere");
    sectionsByHouse.set(house, element);
    const openWaiting = waiting.length <= 3 || chosen.waiting[house];
    return fill(
      element,
      h("div", { class: "placehead" }, h("h2", null, plate(fields.walk, fields.name || "Anywhere")), h("span", { class: "soft" }, says)),
      ready.slice(0, left).map(row),
      past.slice(0, Math.max(0, left - ready.length)).map(row),
      openWaiting
        ? waiting.map(row)
        : fold({
            title: `${waiting.length} waiting here`,
            open: false,
            onToggle: () => {
              chosen.waiting[house] = true;
              refresh();
            },
            inside: () => null,
          }),
    );
  }

  /** What presses nobody: spare plants. @param {Job[]} low */
  function lowFold(low) {
    return (
      low.length > 0 &&
      fold({
        title: `${counted(low.length, "lot")} of spare plants`,
        open: chosen.low,
        onToggle: (open) => {
          chosen.low = open;
          refresh();
        },
        inside: () => low.map(row),
      })
    );
  }

  /** @param {Job[]} later @param {string} today */
  function laterFolds(later, today) {
    const soon = later.filter((job) => daysBetween(today, job.from) <= WEEK_DAYS);
    const beyond = later.filter((job) => daysBetween(today, job.from) > WEEK_DAYS);
    return [
      soon.length > 0 && laterFold(`${soon.length} more later this week`, soon, "week"),
      beyond.length > 0 && laterFold(`${beyond.length} after that`, beyond, "beyond"),
    ];
  }

  /** @param {string} title @param {Job[]} jobs @param {"week" | "beyond"} which */
  function laterFold(title, jobs, which) {
    return fold({
      title,
      open: chosen[which],
      onToggle: (open) => {
        chosen[which] = open;
        refresh();
      },
      inside: () => laterRows([...jobs].sort((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : 0))),
    });
  }

  /** @param {Job[]} jobs */
  function laterRows(jobs) {
    const today = context.today();
    return h(
      "div",
      { class: "board" },
      jobs.slice(0, 120).map((job) =>
        h(
          "button",
          { class: "line", type: "button", onclick: () => go("job", job.id) },
          h("span", null, h("b", null, kept(job.title)), h("br"), h("span", { class: "soft" }, job.subject)),
          h("span", { class: "soft" }, nearDay(job.from, today)),
        ),
      ),
      jobs.length > 120 && h("p", { class: "line soft" }, `and ${jobs.length - 120} more`),
    );
  }

  /** @param {string} today @param {Job[]} done @param {Job[]} later */
  function endOfDay(today, done, later) {
    const next = [...later].filter((job) => job.by).sort((a, b) => (String(a.by) < String(b.by) ? -1 : 1))[0];
    return h(
      "div",
      null,
      h("div", { class: "keys", style: { margin: "28px 2px 0", "grid-template-columns": "repeat(auto-fill, 44px)" }, "aria-hidden": "true" }, done.slice(0, 16).map(() => mark("done"))),
      h("h2", { class: "h", style: { "font-size": "2.1rem", margin: "22px 4px 6px" } }, done.length ? "That's the Round." : "Nothing to do today."),
      h("p", { style: { margin: "0 4px 18px" } }, "Nothing more can be done today."),
      h(
        "div",
        { class: "board" },
        next &&
          h(
            "button",
            { class: "line tall", type: "button", onclick: () => go("job", next.id) },
            h("span", null, h("span", { class: "soft" }, "next by-day"), h("br"), h("b", null, `${nearDay(String(next.by), today)}: ${kept(next.title)}`)),
            glyph("forward", 26),
          ),
        h("button", { class: "line", type: "button", onclick: () => go("diary") }, h("b", null, "What was done today"), glyph("forward", 26)),
      ),
      done.map(row),
    );
  }

  function asking() {
    return h("div", { class: "board empty" }, h("p", { role: "status" }, "Asking the server what grows here."));
  }

  function emptyHousehold() {
    if (book.sharing.joined === false) {
      return h("div", { class: "board empty" }, h("h2", { class: "h", style: { margin: "0 0 8px" } }, "This phone has not joined yet"), h("p", null, "With a code from the server's screen, or from a phone that has joined, the household's list stands here."), h("button", { class: "key solid", type: "button", onclick: () => go("join") }, "Join"));
    }
    return h(
      "div",
      { class: "board empty" },
      h("h2", { class: "h", style: { margin: "0 0 8px" } }, "Nothing grows here yet"),
      h("p", null, "Three questions, and the season's list stands here: where you grow, what places you have, what grows in them. In the middle of a year too: what grows already is put in as it stands."),
      h("button", { class: "key solid", type: "button", onclick: () => go("begin") }, "Begin"),
    );
  }

  /** @param {KeyboardEvent} event */
  function onKey(event) {
    const target = /** @type {HTMLElement} */ (event.target);
    if (target.matches?.("input, textarea, select") || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      const labels = /** @type {HTMLElement[]} */ ([...list.querySelectorAll(".lab .txt")]);
      const at = labels.indexOf(/** @type {any} */ (document.activeElement?.closest?.(".lab")?.querySelector(".txt")));
      const next = labels[at < 0 ? 0 : Math.min(labels.length - 1, Math.max(0, at + (event.key === "ArrowDown" ? 1 : -1)))];
      if (next) {
        next.focus();
        next.scrollIntoView({ block: "nearest" });
        event.preventDefault();
      }
    } else if (event.key === " " && target.matches?.(".lab .txt")) {
      /** @type {HTMLElement | null | undefined} */ (target.closest(".lab")?.querySelector(".well, .half"))?.click();
      event.preventDefault();
    }
  }

  /** Which row and key had the focus, so that a redraw does not lose it. */
  function focusMark() {
    const active = /** @type {HTMLElement | null} */ (document.activeElement);
    const lab = active?.closest?.(".lab");
    if (!lab || !list.contains(lab)) return null;
    const labels = [...list.querySelectorAll(".lab")];
    return { job: lab.getAttribute("data-job"), at: labels.indexOf(lab), well: Boolean(active?.closest(".well")) };
  }

  /** @param {any} held */
  function restoreFocus(held) {
    if (!held || list.contains(document.activeElement)) return;
    const labels = [...list.querySelectorAll(".lab")];
    const same = labels.find((lab) => lab.getAttribute("data-job") === held.job) || labels[Math.min(held.at, labels.length - 1)];
    /** @type {any} */ (same?.querySelector(held.well ? ".well, .half" : ".txt"))?.focus();
  }

  element.addEventListener("keydown", onKey);
  refresh();
  return { element, title: "Round", refresh, leave: () => element.removeEventListener("keydown", onKey) };
}
