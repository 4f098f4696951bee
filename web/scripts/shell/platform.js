// @ts-check
/** What some phones can do besides: a figure on the app's picture, a screen that stays on. Where they cannot, nothing is said. */
import { readWay } from "./router.js";

const ON_THE_ROUND = ["round", "job", "put-off", "jot", "guest"];

/**
 * @param {import("../store/book.js").Book} book
 * @param {{today: () => string, settings: any}} shared
 */
export function bringPlatform(book, { today, settings }) {
  const phone = /** @type {any} */ (navigator);
  if ("setAppBadge" in phone) {
    const show = () => void phone.setAppBadge(runsOut(book.jobs(today()))).catch(() => {});
    book.subscribe((what) => what !== "sharing" && void book.calm().then(show));
    show();
  }
  if ("wakeLock" in phone) stayAwake(phone.wakeLock, settings);
}

/** Jobs of which today is the last good day. @param {import("../types.js").Job[]} jobs */
function runsOut(jobs) {
  return jobs.filter((job) => job.state === "ready" && !job.low && job.leeway === 0).length;
}

/**
 * The screen stays on while somebody is on a round, if that is wanted. A phone lets go of it whenever the page is out of sight.
 * @param {{request: (what: "screen") => Promise<any>}} locks
 * @param {{awake: string}} settings
 */
function stayAwake(locks, settings) {
  /** @type {any} */
  let held = null;
  const look = async () => {
    const wanted = settings.awake === "yes" && document.visibilityState === "visible" && ON_THE_ROUND.includes(readWay(location.hash).name);
    if (!wanted) {
      await held?.release();
      held = null;
    } else if (!held || held.released) held = await locks.request("screen");
  };
  const quietly = () => void look().catch(() => {}); // a phone short of power refuses
  for (const name of ["hashchange", "mudproof-setting"]) window.addEventListener(name, quietly);
  document.addEventListener("visibilitychange", quietly);
  quietly();
}
