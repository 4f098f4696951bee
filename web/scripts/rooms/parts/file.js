// @ts-check
/** Choosing a file that the server reads, and saying which of its rows were left out: for every room that takes a table. */
import { h } from "../../lib/dom.js";
import { counted } from "../../lib/words.js";

const NO_ANSWER = "Reading the file is the server's work, and it does not answer now. Choose the file again when it does; nothing is lost.";

/** What a file says, read at one of the server's doors; `said` is why not, in a sentence, where there is nothing.
 * @param {(door: string, file: File) => Promise<any>} send @param {string} door @param {File} file @param {Record<string, string>} [answers] to questions of an earlier try
 * @returns {Promise<{found: any, said: string}>} */
export async function readAtServer(send, door, file, answers = {}) {
  const query = new URLSearchParams(Object.entries(answers).map(([id, choice]) => [`answer.${id}`, choice]));
  try {
    return { found: await send(query.size ? `${door}?${query}` : door, file), said: "" };
  } catch (/** @type {any} */ error) {
    return { found: null, said: error.say || NO_ANSWER };
  }
}

/** The key that opens the phone's files. @param {string} label @param {(file: File) => void} choose @param {string} accept */
export function fileKey(label, choose, accept = ".csv,.txt,text/csv,text/plain") {
  /** @param {any} event */
  const onchange = (event) => event.target.files?.[0] && choose(event.target.files[0]);
  return h("label", { class: "key file gap-l" }, label, h("input", { type: "file", class: "unseen", accept, onchange }));
}

/** @param {{left_out: number, bad: {line: number, why: string}[]}} found */
export function rowsLeftOut(found) {
  return found.left_out > 0 && h("details", { class: "plan-step" }, h("summary", null, h("b", null, `${counted(found.left_out, "row")} left out`)), h("ul", null, found.bad.map((row) => h("li", null, `line ${row.line}: ${row.why}`))));
}
