// @ts-check
/**
 * Where this window has been, and how far down it stood there. The browser's own history is the trail, so that the phone's Back and
 * a room's arrow are one and the same; each entry knows all that came before it, which a page that is opened anew still knows.
 */
import { readWay, wayTo } from "./router.js";

const LONGEST = 30;
/** The browser goes back some time after it is asked to, on a busy phone seconds: whoever has gone on by then is brought to where they went. */
const LATEST_MS = 10_000;

export class Trail {
  /** @type {Map<number, number>} How far down each entry stood when it was left. [px] */
  #stood = new Map();
  /** @type {string[]} Addresses up to this one. */
  #ways = [];
  /** Entries before the first of those, where there were too many to keep. */
  #dropped = 0;

  #asked = -Infinity;
  #goneOn = "";

  constructor() {
    history.scrollRestoration = "manual";
  }

  get #at() {
    return this.#dropped + this.#ways.length - 1;
  }

  /** What is left now stands so far down. @param {number} px */
  leaveAt(px) {
    if (this.#ways.length) this.#stood.set(this.#at, px);
  }

  /**
   * The address that is shown now.
   * @returns {{returns: boolean, px: number}} whether one comes back to it, and how far down it stood
   */
  arrive() {
    const here = location.hash;
    const held = history.state;
    const before = this.#at;
    if (held?.ways) {
      this.#ways = held.ways;
      this.#dropped = held.dropped;
      if (this.#goneOn) location.hash = this.#goneOn;
      this.#goneOn = "";
      this.#asked = -Infinity;
    } else {
      this.#goneOn = performance.now() - this.#asked < LATEST_MS ? here : "";
      if (this.#ways.length >= LONGEST) this.#dropped += this.#ways.splice(0, LONGEST / 2).length;
      this.#ways = [...this.#ways, here];
      history.replaceState({ ways: this.#ways, dropped: this.#dropped }, "");
    }
    const returns = this.#at < before;
    return { returns, px: returns ? this.#stood.get(this.#at) || 0 : 0 };
  }

  /** Whoever went there was brought back from it before it was shown. @param {string} way */
  overtaken(way) {
    if (performance.now() - this.#asked < LATEST_MS) this.#goneOn = way;
  }

  /** One question deeper in the same room: the phone's Back goes back by questions too. */
  deeper() {
    this.#ways = [...this.#ways, location.hash];
    history.pushState({ ways: this.#ways, dropped: this.#dropped }, "");
  }

  /** The room from which this one was opened. @returns {import("./router.js").Way | null} */
  from() {
    const here = this.#ways[this.#ways.length - 1];
    const before = this.#ways.filter((way) => way !== here).pop();
    return before === undefined ? null : readWay(before);
  }

  /** Back to the room before this one. @param {string[]} past rooms that are passed over too */
  back(past) {
    const here = this.#ways[this.#ways.length - 1];
    let steps = 1;
    const passed = (/** @type {string} */ way) => way === here || past.includes(readWay(way).name);
    while (steps < this.#ways.length && passed(this.#ways[this.#ways.length - 1 - steps])) steps += 1;
    if (steps >= this.#ways.length) {
      location.replace(wayTo("round")); // at once, so that nobody can have gone on
      return;
    }
    this.#asked = performance.now();
    history.go(-steps);
  }
}
