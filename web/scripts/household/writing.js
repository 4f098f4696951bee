// @ts-check
/** Writing from a room: what was written is said and can be taken back; what could not be is said too, and stays on the screen. */

/**
 * @typedef {import("../types.js").Wish} Wish
 * @typedef {{say?: string, undo?: Wish[] | (() => Wish[]), undone?: string, trouble?: (words: string) => void,
 *   still?: string}} Saying say: what was written; undo: what takes it back; undone: what else is said then; trouble: where a failure is
 *   said, else on the strip; still: how it is said where the store has no words for it
 */

export const ON_THE_LIST_AGAIN = "It is on the list again.";
export const STILL_ON_SCREEN = "Not written down yet. It is still on screen; try again.";
const AGAIN = "Not written down yet. Try again.";
export const NOT_TAKEN_BACK = "Not taken back yet. Try again.";

/**
 * A room's pen.
 * @param {any} book
 * @param {(toast: import("../ui/toast.js").Toast) => void} toast
 * @returns {(wishes: Wish[], saying?: Saying) => Promise<any[] | null>} the records as they are now; null where nothing was written
 */
export function pen(book, toast) {
  return async function write(wishes, { say, undo, undone = "", trouble, still = AGAIN } = {}) {
    let written;
    try {
      written = await book.write(wishes);
    } catch (/** @type {any} */ error) {
      const words = error.say || still;
      if (trouble) trouble(words);
      else toast({ say: words });
      return null;
    }
    if (say) toast({ say, undo: undo && (() => void write(typeof undo === "function" ? undo() : undo, { say: takenBack(say, undone), still: NOT_TAKEN_BACK })) });
    return written;
  };
}

/** What is said of what was taken back: the whole of it. @param {string} said @param {string} [more] */
export function takenBack(said, more = "") {
  const what = said.replace(/^Written down: /, "").replace(/[.]$/, "");
  return [`Taken back: ${what}.`, more].filter(Boolean).join(" ");
}

/** What takes new things away again. @param {Wish[]} wishes @returns {Wish[]} */
export function goneWishes(wishes) {
  return wishes.map(({ id, kind }) => ({ id, kind, fields: { gone: true } }));
}

/** What brings everything back as it is now; what is new is taken away again. @param {any} book @param {Wish[]} wishes @returns {Wish[]} */
export function asBefore(book, wishes) {
  return wishes.map(({ id, kind, fields }) => {
    const now = book.fields(id);
    const before = Object.fromEntries(Object.keys(fields).map((name) => [name, now[name] ?? null]));
    return { id, kind, fields: book.get(id) ? before : { gone: true } };
  });
}

const AT_ONCE = 100;
export const NOT_ALL_TAKEN = "Not all of it is written down yet. Take them again: what is in already is not doubled.";

/**
 * Many changes, a share at a time; said and taken back as one.
 * @param {ReturnType<typeof pen>} write
 * @param {Wish[]} wishes
 * @param {Saying} saying
 * @returns {Promise<boolean>} whether all of it is written
 */
export async function inShares(write, wishes, { say, undo, ...trouble }) {
  for (let at = 0; at < wishes.length; at += AT_ONCE) {
    const last = at + AT_ONCE >= wishes.length;
    if (!(await write(wishes.slice(at, at + AT_ONCE), last ? { say, undo, ...trouble } : trouble))) return false;
  }
  return true;
}
