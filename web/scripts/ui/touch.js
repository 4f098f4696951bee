// @ts-check
/**
 * What counts as a tap with wet hands: a press and release in one place. A scroll in the last quarter second swallows
 * the next tap; a cancelled touch does nothing; two taps on one control, or in one list, within 400 ms are one. Keyboards go through.
 */

const AFTER_SCROLL_MS = 250;
const TWICE_MS = 400;
/** A scroll so long after a finger moved is the page's own (rows that shrink), and swallows nothing. */
const BY_HAND_MS = 1500;
let movedAt = -Infinity;
let scrolledAt = -Infinity;
if (typeof document !== "undefined") {
  const quietly = { passive: true, capture: true };
  for (const name of ["touchmove", "wheel"]) document.addEventListener(name, (event) => (movedAt = event.timeStamp), quietly);
  document.addEventListener(
    "scroll",
    (event) => {
      if (event.timeStamp - movedAt < BY_HAND_MS) scrolledAt = event.timeStamp;
    },
    quietly,
  );
}

/**
 * A click handler that ignores rain drops and sleeve brushes.
 * @param {(event: any) => void} act
 * @returns {(event: any) => void}
 */
export function onTap(act) {
  return tapped(act, { last: -Infinity });
}

/** One lock for all rows: a row that shrinks or goes brings its neighbour under the thumb, and the second of two quick taps to that. */
const rows = { last: -Infinity };

/** The same for what stands in a list. @param {(event: any) => void} act */
export function onRowTap(act) {
  return tapped(act, rows);
}

/**
 * @param {(event: any) => void} act
 * @param {{last: number}} lock when it was last tapped
 * @returns {(event: any) => void}
 */
function tapped(act, lock) {
  return (event) => {
    const byHand = event.detail > 0; // a key press has no detail
    if (byHand && event.timeStamp - scrolledAt < AFTER_SCROLL_MS) return;
    if (byHand && event.timeStamp - lock.last < TWICE_MS) return;
    lock.last = event.timeStamp;
    act(event);
  };
}
