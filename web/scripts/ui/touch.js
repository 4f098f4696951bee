// @ts-check
/**
 * What counts as a tap with wet hands: a press and release in one place. A scroll in the last quarter second swallows
 * the next tap; a cancelled touch does nothing; two taps on one control within 400 ms are one. Keyboards go through.
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
  let last = -Infinity;
  return (event) => {
    const byHand = event.detail > 0; // a key press has no detail
    if (byHand && event.timeStamp - scrolledAt < AFTER_SCROLL_MS) return;
    if (byHand && event.timeStamp - last < TWICE_MS) return;
    last = event.timeStamp;
    act(event);
  };
}
