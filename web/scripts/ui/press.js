// @ts-check
/** A press of the mouse, from its going down to its click. What is drawn anew meanwhile takes the key away, and the click with it. */

export class Press {
  #down = false;
  /** @type {Map<string, () => void>} What waits for the click, the last of each name. */
  #waiting = new Map();

  constructor() {
    const always = { capture: true, passive: true };
    document.addEventListener("pointerdown", ({ pointerType, button }) => (this.#down = pointerType === "mouse" && button === 0), always); // a finger's click is where it was lifted
    for (const name of ["pointerup", "pointercancel", "pointermove"]) document.addEventListener(name, (/** @type {any} */ { buttons }) => buttons || this.#up(), always); // let go of outside the window, a button is found up by the next move
  }

  /** Do it now, or after the click where a button is down. @param {string} name @param {() => void} work */
  after(name, work) {
    this.#waiting.delete(name);
    if (this.#down) this.#waiting.set(name, work);
    else work();
  }

  #up() {
    this.#down = false;
    if (this.#waiting.size) setTimeout(() => this.#catchUp()); // the click comes first
  }

  #catchUp() {
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const work of waiting) work();
  }
}
