// @ts-check
/**
 * What counts as a tap with wet hands: a press and release in one place. A scroll in the last quarter second swallows
 * the next tap; a cancelled touch does nothing; two taps on one control within 400 ms are one. Keyboards go through.
 */

const AFTER_SCROLL_MS = 250;
const TWICE_MS = 400;
let scrolledAt = -Infinity;
if (typeof document !== "undefined") {
  document.addEventListener("scroll", (event) => (scrolledAt = event.timeStamp), { passive: true, capture: true });
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
