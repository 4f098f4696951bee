// @ts-check
/** The label: one row of the Round. */
import { h } from "../lib/dom.js";
import { isBeside, kept, leewayWords, losesWords, minutesWords } from "../lib/words.js";
import { cautionGlyph, glyph } from "./glyphs.js";
import { smallBar } from "./leeway-bar.js";
import { mark } from "./mark.js";
import { onRowTap } from "./touch.js";

/** @typedef {import("../types.js").Job} Job */

/** A job's sentence with its verb in bold. @param {Job} job @returns {any[]} */
export function titleParts(job) {
  const letters = [...job.title];
  return [h("b", null, letters.slice(0, job.lead).join("")), kept(letters.slice(job.lead).join(""))];
}

/**
 * @param {Job} job
 * @param {{today: string, cautions: Record<string, {title: string}>, who: (id: string) => string,
 *   open: (job: Job) => void, tick: (job: Job, seen?: string) => void, undo: (job: Job) => void}} given
 * @returns {HTMLElement}
 */
export function label(job, given) {
  if (job.state === "done") return doneLabel(job, given);
  const { text, past } = leewayWords(job, given.today);
  const waits = job.in_the_way[0];
  return h(
    "article",
    { class: `lab ${job.state === "waiting" ? "waiting" : ""}`, "data-job": job.id },
    h(
      "div",
      { class: "in" },
      h(
        "button",
        { class: "txt", type: "button", onclick: onRowTap(() => given.open(job)) },
        h("span", { class: "title" }, titleParts(job)),
        isBeside(job) && [" ", h("span", { class: "kind" }, job.subject)],
        job.state !== "lapsed" && h("span", { class: "leeway" }, smallBar(job, given.today)),
        job.state !== "lapsed" && h(
          "span",
          { class: "facts" },
          h("span", { class: past ? "say past" : "say" }, text),
          job.state === "ready" && h("span", { class: "soft" }, minutesWords(job.minutes)),
        ),
        job.state === "waiting" && waits && h("span", { class: "extra" }, `waiting on: ${kept(waits.text)}`),
        losesWords(job) && h("span", { class: "extra" }, losesWords(job)),
        job.pinched && h("span", { class: "extra" }, job.ways?.length ? "pinched: it is to be decided" : "pinched: see why"),
        job.state === "lapsed" && h("span", { class: "extra soft" }, job.why[0]),
        job.verb === "look" && job.hint && job.writes.found && h("span", { class: "extra soft" }, job.hint),
        job.for && h("span", { class: "extra soft" }, `for ${given.who(job.for)}`),
        job.cautions.slice(0, 1).map((caution) =>
          given.cautions[caution] && h("span", { class: "extra caut" }, glyph(cautionGlyph(caution), 26), given.cautions[caution].title),
        ),
      ),
      well(job, given),
    ),
  );
}

/** What is asked, and not only ticked. */
const ANSWERED = ["decide", "clear", "store"];

/** Whether it is answered, not ticked. @param {Job} job */
export function asksFirst(job) {
  return Boolean(job.ways?.length) && (ANSWERED.includes(job.verb) || Boolean(job.pinched) || (job.verb === "sow" && job.batch === null));
}

/** @param {Job} job @param {any} given */
function well(job, given) {
  if (job.state === "waiting") {
    return h(
      "button",
      { class: "well", type: "button", "aria-label": `${job.title}: waiting, open it`, onclick: onRowTap(() => given.open(job)) },
      mark("waiting"),
      "waiting",
    );
  }
  if (asksFirst(job)) {
    return h("button", { class: "well", type: "button", "aria-label": `${job.title}: decide, open it`, onclick: onRowTap(() => given.open(job)) }, mark("ready"), "Decide");
  }
  if (job.state === "later" || job.state === "let go" || job.state === "lapsed") {
    return h(
      "button",
      { class: "well", type: "button", "aria-label": `${job.title}: ${job.state}, open it`, onclick: onRowTap(() => given.open(job)) },
      mark(job.state),
      job.state,
    );
  }
  if (job.verb === "look" && job.writes.found) {
    return h(
      "span",
      { class: "well split" },
      h("button", { class: "half", type: "button", "aria-label": `${job.title}: none seen`, onclick: onRowTap(() => given.tick(job, "none")) }, h("span", null, "None seen")),
      h("button", { class: "half", type: "button", "aria-label": `${job.title}: seen`, onclick: onRowTap(() => given.tick(job, "seen")) }, "Seen"),
    );
  }
  return h(
    "button",
    { class: "well tick", type: "button", "aria-label": `${["Done", losesWords(job)].filter(Boolean).join(", ")}: ${job.title}`, onclick: onRowTap(() => given.tick(job)) },
    mark("ready"),
    "Done",
  );
}

/** @param {Job} job @param {any} given */
function doneLabel(job, given) {
  const tellers = (job.told_by || []).map((id) => given.who(id)).filter(Boolean).join(" and ");
  return h(
    "article",
    { class: "lab done", "data-job": job.id },
    h(
      "div",
      { class: "in" },
      h(
        "button",
        { class: "txt", type: "button", onclick: onRowTap(() => given.open(job)) },
        h("span", { class: "title" }, h("span", { class: "unseen" }, "Done: "), kept(job.title)),
        " ",
        h("span", { class: "kind" }, [tellers, job.at].filter(Boolean).join(", ") || "today"),
      ),
      h("button", { class: "well", type: "button", "aria-label": `Undo: ${job.title}`, onclick: onRowTap(() => given.undo(job)) }, "Undo"),
    ),
  );
}
