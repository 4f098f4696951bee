// @ts-check
/** What is to be seen of one photo. Pure. */
import { longDay } from "../../../lib/dates.js";

/** @param {import("../../../store/book.js").Book} book @param {string} id */
export function seePhoto(book, id) {
  const { sha256, taken } = book.fields(id);
  return sha256 ? { sha256, day: longDay(taken) } : null;
}
