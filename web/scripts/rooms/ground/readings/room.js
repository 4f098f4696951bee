// @ts-check
/** A place's thermometer: its file read, what it says drawn, and what the house taught. */
import { NOT_ALL_TAKEN, inShares } from "../../../household/writing.js";
import { fill, h } from "../../../lib/dom.js";
import { counted } from "../../../lib/words.js";
import { readAtServer } from "../../parts/file.js";
import { importWishes, undoOf } from "./days.js";
import { drawReadings } from "./draw.js";
import { seeFound, seeReadings } from "./seen.js";

/** @param {import("../../../types.js").Context} context params: place */
export function room(context) {
  const { book, back, go, send, write } = context;
  const place = context.params[0];
  const element = h("main", { class: "page", id: "room" });
  /** @type {{file: File | null, answers: Record<string, string>, found: any, said: string, busy: boolean, year: string}} */
  const state = { file: null, answers: {}, found: null, said: "", busy: false, year: "" };

  /** @param {Partial<typeof state>} part */
  function set(part) {
    Object.assign(state, part);
    draw();
  }

  async function read() {
    if (!state.file) return;
    set({ busy: true, said: "", found: null });
    set({ ...(await readAtServer(send, "/api/readings", state.file, state.answers)), busy: false });
  }

  async function take() {
    await book.wakeAll(); // months that rest are compared too, and put back as they were by the undo
    const wishes = importWishes(book, place, state.found.days);
    if (!wishes.length) {
      set({ said: "All of these days are in the book already.", found: null });
      return;
    }
    const days = wishes.reduce((sum, wish) => sum + Object.keys(wish.fields).filter((name) => /^d\d\d$/.test(name)).length, 0);
    const say = `${counted(days, "day")} written down. The list follows when it has met the server.`;
    const undo = undoOf(book, wishes);
    if (await inShares(write, wishes, { say, undo, still: NOT_ALL_TAKEN, trouble: (said) => set({ said }) })) set({ found: null, file: null, said: "" });
  }

  /** @type {import("./draw.js").Does} */
  const does = {
    back,
    showYear: (year) => set({ year }),
    older: () => void book.wakeAll(),
    choose: (file) => {
      Object.assign(state, { file, answers: {} });
      void read();
    },
    type: () => go("jot", "measure"),
    answer: (question, choice) => {
      state.answers[question] = choice;
      void read();
    },
    take: () => void take(),
  };
  const draw = () => fill(element, drawReadings(seeReadings(book, place, state.year), { ...state, found: state.found && seeFound(state.found), again: state.file !== null }, does));
  draw();
  return { element, title: "Thermometer", refresh: (/** @type {string} */ what) => what !== "sharing" && draw() };
}
