// @ts-check
/** What is to be seen of the household's own pots and trays. Pure. */
import { capital, counted, kept } from "../../../lib/words.js";

const SORTS = /** @type {Record<string, string>} */ ({ pot: "pot", tray: "seed tray", cells: "tray of modules" });

/** @param {import("../../../store/book.js").Book} book */
export function seeVessels(book) {
  return book.ofKind("vessel").map(({ id, fields }) => {
    const { name, sort, litres, cells, length_cm: long, width_cm: wide, held } = fields;
    const size = long ? [long, wide || (sort === "pot" ? null : long)].filter(Boolean).join(" × ") : "";
    const says = [litres ? `${litres} L` : "", cells ? counted(cells, "module") : "", size ? `${size} cm` : "", held ? `${held} of them` : ""].filter(Boolean).join(", ");
    return { id, name: kept(capital(name || SORTS[sort] || "?")), says: kept(says || "nothing said of it yet") };
  });
}
