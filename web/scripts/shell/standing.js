// @ts-check
/** Standing where one stood: a room that is shown again is rolled to where it was left, as soon as it is long enough. */

const PATIENCE_MS = 3000;
const BY_HAND = ["touchstart", "wheel", "keydown", "pointerdown"];
/** @type {() => void} */
let stop = () => {};

/** @param {number} px from the top of the page */
export function standAt(px) {
  stop();
  window.scrollTo(0, px);
  if (reached(px)) return;
  const grows = new ResizeObserver(() => {
    window.scrollTo(0, px);
    if (reached(px)) stop();
  });
  const timer = setTimeout(() => stop(), PATIENCE_MS);
  const end = () => stop();
  for (const name of BY_HAND) document.addEventListener(name, end, { capture: true, passive: true });
  stop = () => {
    grows.disconnect();
    clearTimeout(timer);
    for (const name of BY_HAND) document.removeEventListener(name, end, { capture: true });
    stop = () => {};
  };
  grows.observe(document.body);
}

/** @param {number} px */
function reached(px) {
  return window.scrollY >= px - 2;
}
