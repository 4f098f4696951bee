// @ts-check
/**
 * News from the server: one stream a browser, not one a window. The window that holds the lock listens; the others hear
 * of what it fetched over the book's channel. A window out of sight (a phone may freeze it) lets go of lock and stream;
 * both are asked for anew on return.
 */

const SILENCE_MS = 40_000;

/**
 * @typedef {{onNews: (seq: number) => void, locks: LockManager | null, makeSource: () => EventSource, doc: Document,
 *   setTimer?: (work: () => void, ms: number) => any, clearTimer?: (timer: any) => void}} Given
 * @param {Given} given
 * @returns {() => void} stop listening
 */
export function listenForNews(given) {
  const news = new News(given);
  const turn = () => news.turn();
  given.doc.addEventListener("visibilitychange", turn);
  news.turn();
  return () => {
    given.doc.removeEventListener("visibilitychange", turn);
    news.stop();
  };
}

class News {
  /** @type {EventSource | null} */
  #source = null;
  /** @type {any} */
  #silence = null;
  #stopped = false;
  /** Whether this window is the one that listens. */
  #leading = false;
  /** @type {() => void} */
  #letGo = () => {};

  /** @param {Given} given */
  constructor({ setTimer = setTimeout, clearTimer = clearTimeout, ...given }) {
    this.given = { ...given, setTimer, clearTimer };
  }

  get #hidden() {
    return this.given.doc.visibilityState === "hidden";
  }

  /** The window came into sight, or went out of it: all that was held is let go of, and asked for anew where it is seen. */
  turn() {
    this.#close();
    this.#letGo();
    if (!this.#hidden) this.#ask();
  }

  stop() {
    this.#stopped = true;
    this.#close();
    this.#letGo();
  }

  #ask() {
    const { locks } = this.given;
    if (!locks) {
      void this.#lead();
      return;
    }
    const waiting = new AbortController();
    this.#letGo = () => waiting.abort();
    void locks.request("mudproof-news", { signal: waiting.signal }, () => this.#lead()).catch(() => {}); // given up before it was had
  }

  /** @returns {Promise<void>} for as long as this window listens */
  async #lead() {
    if (this.#stopped || this.#hidden) return; // out of sight before it was its turn
    this.#leading = true;
    await new Promise((resolve) => {
      this.#letGo = () => {
        this.#leading = false;
        resolve(undefined);
      };
      this.#open();
    });
  }

  #open() {
    if (this.#stopped || !this.#leading || this.#source || this.#hidden) return;
    const source = this.given.makeSource();
    const hush = () => this.#hush();
    source.addEventListener("new", (event) => {
      hush();
      this.given.onNews(Number(event.data));
    });
    source.onopen = hush;
    source.onerror = hush;
    this.#source = source;
    hush();
  }

  #close() {
    this.#source?.close();
    this.#source = null;
    this.#forgetSilence();
  }

  /** A stream that says nothing for long is asked for anew. */
  #hush() {
    this.#forgetSilence();
    const { setTimer } = this.given; // by itself: the browser's own timers know no other owner
    this.#silence = setTimer(() => {
      this.#close();
      this.#open();
    }, SILENCE_MS);
  }

  #forgetSilence() {
    const { clearTimer } = this.given;
    if (this.#silence !== null) clearTimer(this.#silence);
    this.#silence = null;
  }
}
