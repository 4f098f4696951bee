// @ts-check
/** A copy of everything this phone holds, as a file: saved, and brought back. */
import { h } from "../../lib/dom.js";
import { counted } from "../../lib/words.js";

const FORM = 1;
const LINK_LIVES_MS = 10_000;

/**
 * Hand the copy to the phone's own sharing, else as a download.
 * @param {import("../../types.js").Context} context
 * @returns {Promise<string | null>} what is said of it; null where the phone says it itself
 */
export async function saveCopy({ book, now, today }) {
  const records = await book.store.all();
  const name = `mudproof-${today()}.json`;
  const copy = { mudproof: FORM, saved: new Date(now()).toISOString(), records };
  const file = new File([JSON.stringify(copy)], name, { type: "application/json" });
  if (navigator.canShare?.({ files: [file] }) && matchMedia("(pointer: coarse)").matches) {
    try {
      await navigator.share({ files: [file], title: name });
      return null;
    } catch (/** @type {any} */ error) {
      if (error.name === "AbortError") return null;
    }
  }
  const url = URL.createObjectURL(file);
  h("a", { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), LINK_LIVES_MS);
  return `Saved ${counted(records.length, "record")} as ${name}.`;
}

/**
 * What is missing here comes in, by the merge that sharing uses: nothing is taken away.
 * @param {import("../../types.js").Context} context
 * @param {File} file
 * @returns {Promise<string>} what is said of it
 */
export async function bringBack({ book, shareSoon }, file) {
  try {
    const copy = JSON.parse(await file.text());
    if (copy?.mudproof !== FORM || !Array.isArray(copy.records)) throw new Error("not a copy");
    const sound = copy.records.filter(isRecord);
    const merged = await book.store.bringIn(sound);
    book.take(merged);
    await book.countKept();
    shareSoon();
    const unread = copy.records.length - sound.length;
    return `${counted(merged.length, "record")} came in, ${sound.length - merged.length} were here already${unread ? ", " + unread + " could not be read" : ""}.`;
  } catch (/** @type {any} */ error) {
    return error.say || "That file is not a copy of Mudproof. Choose the file that Save a copy made.";
  }
}

/** @param {any} one */
function isRecord(one) {
  return one && typeof one.id === "string" && typeof one.kind === "string" && typeof one.stamp === "string" && one.fields && typeof one.fields === "object";
}
