// @ts-check
/** What a guest sees: the jobs of the places given, place by place; tick, take back, and a note. */
import { plainDay } from "../../lib/dates.js";
import { fill, h } from "../../lib/dom.js";
import { kept, minutesWords, sharingWords } from "../../lib/words.js";

const STATES = [["ready", "To do"], ["waiting", "Waits on something"], ["later", "Later"]];

/** @param {any} context */
export function room(context) {
  const { book, toast, guest } = context;
  const element = h("main", { class: "page", id: "room" });
  /** @type {any} */
  let found = null;
  let trouble = "";
  let words = "";
  let place = guest.places[0] || "";

  async function load() {
    try {
      await context.askKept("/api/guest", (/** @type {any} */ answer) => {
        found = answer;
        trouble = "";
        draw();
      });
    } catch (/** @type {any} */ error) {
      trouble = error.say || "The list comes from the server, which does not answer now.";
      draw();
    }
  }

  /** Jobs this guest has ticked, by job. @returns {Map<string, any>} */
  function ticked() {
    return new Map(book.ofKind("diary").filter((/** @type {any} */ one) => one.fields.guest === guest.id && one.fields.job).map((/** @type {any} */ one) => [one.fields.job, one]));
  }

  /** @param {any} job */
  async function tick(job) {
    const moment = context.moment();
    const fields = { ...job.writes, on: moment.on, at: moment.at, job: job.id, part: job.part, guest: guest.id, ...(job.count !== null && job.writes.did !== "clear" ? { count: job.count } : {}) };
    await write({ id: context.newId(), kind: "diary", fields }, `Done: ${kept(job.title)}`);
  }

  /** @param {Event} event */
  async function note(event) {
    event.preventDefault();
    if (!words.trim()) return;
    const moment = context.moment();
    const wrote = await write({ id: context.newId(), kind: "diary", fields: { did: "note", place, note: words.trim(), on: moment.on, at: moment.at, guest: guest.id } }, "Written down.");
    if (wrote) words = "";
    draw();
  }

  /** @param {any} wish @param {string} say */
  async function write(wish, say) {
    try {
      await book.write([wish]);
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "Not written down yet. Try again." });
      return false;
    }
    toast({ say, undo: () => void book.write([{ id: wish.id, kind: "diary", fields: { gone: true } }]) });
    return true;
  }

  function draw() {
    const done = ticked();
    const open = found ? found.jobs.filter((/** @type {any} */ job) => job.state !== "done" && !done.has(job.id)) : [];
    fill(
      element,
      h("header", { class: "head" }, h("h1", null, "While they are away"), h("p", { class: "soft" }, kept(`${found ? `until ${plainDay(found.until, found.today)}. ` : ""}${sharingWords(book.sharing, context.now(), null)}`))),
      trouble && h("div", { class: "board empty" }, h("p", { role: "alert" }, trouble), h("button", { class: "key", type: "button", onclick: () => void load() }, "Try again")),
      found && STATES.map(([state, title]) => {
        const jobs = open.filter((/** @type {any} */ job) => job.state === state);
        return jobs.length > 0 && [h("h2", { class: "h" }, title), h("div", { class: "board" }, jobs.map((/** @type {any} */ job) => row(job, state === "ready")))];
      }),
      found && !open.length && h("div", { class: "board empty" }, h("p", null, "Nothing more is to do just now.")),
      done.size > 0 && [h("h2", { class: "h" }, "Done by you"), h("div", { class: "board" }, [...done].map(([id, record]) => h("div", { class: "line" }, h("span", null, found?.jobs.find((/** @type {any} */ job) => job.id === id)?.title || "Done"), h("button", { class: "key slim", type: "button", onclick: () => void book.write([{ id: record.id, kind: "diary", fields: { gone: true } }]) }, "Undo"))))],
      found && noteForm(),
    );
  }

  /** @param {any} job @param {boolean} ready */
  function row(job, ready) {
    const facts = [job.where, job.minutes ? minutesWords(job.minutes) : "", job.by && found ? `by ${plainDay(job.by, found.today)}` : "", job.subject].filter(Boolean).join(", ");
    const cautions = job.cautions.map((/** @type {string} */ id) => found.cautions[id]).filter(Boolean);
    return [
      h("div", { class: "line" }, h("span", null, h("b", null, kept(job.title)), h("br"), h("span", { class: "soft" }, kept(facts)), job.hint && [h("br"), h("span", { class: "soft" }, job.hint)]), ready && h("button", { class: "key slim", type: "button", style: { "min-height": "72px" }, "aria-label": `Done: ${job.title}`, onclick: () => void tick(job) }, "Done")),
      cautions.map((/** @type {any} */ caution) => h("p", { class: "caution" }, h("b", null, caution.title), ` ${caution.say}`)),
    ];
  }

  function noteForm() {
    const area = h("textarea", { rows: 2, "aria-label": "A note", placeholder: "anything they should know", oninput: () => (words = area.value) });
    area.value = words;
    const select = h("select", { "aria-label": "About", onchange: () => (place = select.value) }, found.places.map((/** @type {any} */ one) => h("option", { value: one.id }, one.name)));
    select.value = place;
    return h("form", { style: { "margin-top": "14px" }, onsubmit: note }, h("label", { class: "field" }, h("span", null, "A note"), area), found.places.length > 1 && h("label", { class: "field" }, h("span", null, "About"), select), h("button", { class: "key solid", type: "submit" }, "Write it down"));
  }

  draw();
  void load();
  return { element, title: "While they are away", bare: true, refresh: (/** @type {string} */ what) => { if (what === "records") draw(); } };
}
