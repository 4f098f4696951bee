// @ts-check
/** What can go wrong with the phone's own store, in words for the grower. */

/** A failed write or an unusable store. `say` is for the grower, `message` for the engineer. */
export class StoreProblem extends Error {
  /** @param {string} say @param {string} detail @param {string} sort */
  constructor(say, detail, sort) {
    super(detail);
    this.name = "StoreProblem";
    this.say = say;
    this.sort = sort;
  }
}

/**
 * Our own problem for whatever the browser threw.
 * @param {any} error
 * @returns {StoreProblem}
 */
export function asProblem(error) {
  if (error instanceof StoreProblem) return error;
  const name = error && error.name ? error.name : "Error";
  const detail = `${name}: ${error && error.message ? error.message : String(error)}`;
  if (name === "QuotaExceededError") {
    return new StoreProblem(
      "Not written down yet: the phone is full. It is still on screen; free some space and try again.",
      detail,
      "full",
    );
  }
  if (name === "VersionError") {
    return new StoreProblem(
      "This phone has met a newer Mudproof. Close every Mudproof window and open it again.",
      detail,
      "newer",
    );
  }
  return new StoreProblem(
    "Not written down yet: the phone's store did not answer. It is still on screen; try again.",
    detail,
    "lost",
  );
}
