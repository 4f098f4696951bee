// @ts-check
/** Seeds in hand. Pure. */

/** Seeds left of every variety somebody counted, by its id. @param {import("../store/book.js").Book} book @param {string} today @returns {Map<string, number>} */
export function seedsInHand(book, today) {
  return new Map(book.stand(today).tin.map((/** @type {{variety: string, seeds: number}} */ { variety, seeds }) => [variety, seeds]));
}

/** A count of them as it is written: what is sown from now on is taken off. @param {number | null} seeds @param {string} today */
export function countedSeeds(seeds, today) {
  return { seeds, seeds_on: seeds === null ? null : today };
}
