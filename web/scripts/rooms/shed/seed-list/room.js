// @ts-check
/** A list of seeds out of a file: crops nobody knows are asked about, bad rows shown, and the good ones taken in one go. */
import { NOT_ALL_TAKEN, asBefore, inShares } from "../../../household/writing.js";
import { fill, h } from "../../../lib/dom.js";
import { counted } from "../../../lib/words.js";
import { readAtServer } from "../../parts/file.js";
import { drawSeedList } from "./draw.js";
import { seedWishes } from "./seed-rows.js";
import { seeFound } from "./seen.js";

/** @param {import("../../../types.js").Context} context */
export function room(context) {
  const { book, back, newId, send, today, write } = context;
  const element = h("main", { class: "page", id: "room" });
  /** @type {{file: File | null, answers: Record<string, string>, passed: Set<string>, found: any, said: string, busy: boolean}} */
  const state = { file: null, answers: {}, passed: new Set(), found: null, said: "", busy: false };

  /** @param {Partial<typeof state>} part */
  function set(part) {
    Object.assign(state, part);
    draw();
  }

  async function read() {
    if (!state.file) return;
    set({ busy: true, said: "", found: null });
    set({ ...(await readAtServer(send, "/api/seeds", state.file, state.answers)), busy: false });
  }

  async function take() {
    const wishes = seedWishes(book, state.found.good, newId, today());
    if (!wishes.length) {
      set({ found: null, said: "All of these are in the book already." });
      return;
    }
    const varieties = new Set(wishes.map((wish) => wish.fields.variety || wish.id)).size;
    const say = `${counted(varieties, "variety", "varieties")} written down.`;
    if (!(await inShares(write, wishes, { say, undo: asBefore(book, wishes), still: NOT_ALL_TAKEN, trouble: (said) => set({ said }) }))) return;
    set({ found: null, file: null, said: "" });
    back();
  }

  /** @type {import("./draw.js").Does} */
  const does = {
    back,
    choose: (file) => {
      Object.assign(state, { file, answers: {}, passed: new Set() });
      void read();
    },
    take: () => void take(),
    tell: (name, crop) => {
      state.answers[name] = crop;
      void read();
    },
    pass: (name) => set({ passed: state.passed.add(name) }),
  };
  const draw = () => fill(element, drawSeedList(state.found && seeFound(book, state.found, state.passed), { said: state.said, busy: state.busy, again: state.file !== null }, does));
  draw();
  return { element, title: "A seed list" };
}
