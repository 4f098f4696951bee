// @ts-check
/** What is to be seen of the varieties the household has seed of. Pure. */

/** @param {import("../../../store/book.js").Book} book */
export function seeVarieties(book) {
  return book
    .ofKind("variety")
    .map(({ id, fields }) => ({ id, name: fields.name || "?", crop: book.rulebook.crops?.[fields.crop]?.many || fields.crop || "" }))
    .sort((a, b) => a.name.localeCompare(b.name));
}
