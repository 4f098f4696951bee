// @ts-check
/** The Round by keyboard: up and down the rows, a space to tick, and the focus held where it was when rows are drawn anew. */

/** @param {HTMLElement} list @param {KeyboardEvent} event */
export function walkByKey(list, event) {
  const target = /** @type {HTMLElement} */ (event.target);
  if (target.matches?.("input, textarea, select") || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === "ArrowDown" || event.key === "ArrowUp") {
    const next = neighbour(list, event.key === "ArrowDown" ? 1 : -1);
    if (!next) return;
    next.focus();
    next.scrollIntoView({ block: "nearest" });
    event.preventDefault();
  } else if (event.key === " " && target.matches?.(".lab .txt")) {
    /** @type {HTMLElement | null | undefined} */ (target.closest(".lab")?.querySelector(".well, .half"))?.click();
    event.preventDefault();
  }
}

/** @param {HTMLElement} list @param {number} step @returns {HTMLElement | undefined} */
function neighbour(list, step) {
  const labels = /** @type {HTMLElement[]} */ ([...list.querySelectorAll(".lab .txt")]);
  const at = labels.indexOf(/** @type {any} */ (document.activeElement?.closest?.(".lab")?.querySelector(".txt")));
  return labels[at < 0 ? 0 : Math.min(labels.length - 1, Math.max(0, at + step))];
}

/** @typedef {{job: string | null, at: number, well: boolean} | null} Held Which row and key had the focus. */

/** @param {HTMLElement} list @returns {Held} */
export function heldFocus(list) {
  const active = /** @type {HTMLElement | null} */ (document.activeElement);
  const lab = active?.closest?.(".lab");
  if (!lab || !list.contains(lab)) return null;
  const labels = [...list.querySelectorAll(".lab")];
  return { job: lab.getAttribute("data-job"), at: labels.indexOf(lab), well: Boolean(active?.closest(".well")) };
}

/** @param {HTMLElement} list @param {Held} held */
export function giveFocusBack(list, held) {
  if (!held || list.contains(document.activeElement)) return;
  const labels = [...list.querySelectorAll(".lab")];
  const same = labels.find((lab) => lab.getAttribute("data-job") === held.job) || labels[Math.min(held.at, labels.length - 1)];
  /** @type {any} */ (same?.querySelector(held.well ? ".well, .half" : ".txt"))?.focus();
}
