// @ts-check
/** What a guest sees, as elements. */
import { h } from "../../../lib/dom.js";
import { emptyBoard, soft, titled, troubleBoard } from "../../../ui/board.js";
import { finishing, key } from "../../../ui/key.js";

/**
 * @typedef {ReturnType<typeof import("./seen.js").seeGuest>} Seen
 * @typedef {Seen["parts"][0]["jobs"][0]} SeenJob
 * @typedef {{words: string, place: string}} Note what is being typed
 * @typedef {{again: () => void, tick: (job: import("./seen.js").GuestJob) => void, undo: (deed: string) => void, write: () => void}} Does
 */

/** @param {Seen} seen @param {string} trouble @param {Note} note @param {Does} does */
export function drawGuest({ words, parts, none, done, places }, trouble, note, does) {
  return [
    h("header", { class: "head" }, h("h1", null, "While they are away"), h("p", { class: "soft" }, words)),
    trouble && troubleBoard(trouble, does.again),
    parts.map(({ title, jobs }) => titled(title, jobs.map((job) => drawJob(job, does)))),
    none && emptyBoard("Nothing more is to do just now."),
    titled("Done by you", done.map(({ deed, title }) => h("div", { class: "line" }, h("span", null, title), key("Undo", () => does.undo(deed), { look: "slim" })))),
    places && drawNote(places, note, does.write),
  ];
}

/** @param {SeenJob} seen @param {Does} does */
function drawJob({ job, title, facts, hint, ready, cautions }, does) {
  return [
    h(
      "div",
      { class: "line" },
      h("span", null, h("b", null, title), h("br"), soft(facts), hint && [h("br"), soft(hint)]),
      ready && key("Done", () => does.tick(job), { look: "slim tall", "aria-label": `Done: ${job.title}` }),
    ),
    cautions.map((caution) => h("p", { class: "caution" }, h("b", null, caution.title), ` ${caution.say}`)),
  ];
}

/** @param {{id: string, name: string}[]} places @param {Note} note @param {() => void} write */
function drawNote(places, note, write) {
  const area = h("textarea", { rows: 2, "aria-label": "A note", placeholder: "anything they should know", oninput: () => (note.words = area.value) });
  area.value = note.words;
  const select = h("select", { "aria-label": "About", onchange: () => (note.place = select.value) }, places.map(({ id, name }) => h("option", { value: id }, name)));
  select.value = note.place;
  const onsubmit = (/** @type {Event} */ event) => {
    event.preventDefault();
    write();
  };
  return h(
    "form",
    { class: "gap-l", onsubmit },
    h("label", { class: "field" }, h("span", null, "A note"), area),
    places.length > 1 && h("label", { class: "field" }, h("span", null, "About"), select),
    finishing(h("button", { class: "key solid", type: "submit" }, "Write it down")),
  );
}
