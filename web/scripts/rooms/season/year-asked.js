// @ts-check
/** What was asked of the year last, and stays chosen between all crops and one. */

export const COVERS = [["glass", "Glass"], ["tunnel", "Tunnel"], ["frame", "Frame"], ["open", "Open sky"]];
export const asked = { name: "", cover: "" };

/** The cover that most of the household's batches end under. @param {any} book @param {string} today */
export function usualCover(book, today) {
  const covers = new Map(book.stand(today).places.map((/** @type {any} */ place) => [place.id, place.cover]));
  const counts = new Map();
  for (const batch of book.ofKind("batch")) {
    const cover = covers.get(batch.fields.for_place);
    if (cover && cover !== "indoors") counts.set(cover, (counts.get(cover) || 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] || "open";
}
