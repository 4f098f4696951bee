// @ts-check
/**
 * News from the server: one stream a browser, not one a window. The window that holds the lock listens; the others hear
 * of what it fetched over the book's channel. A window out of sight (a phone may freeze it) lets go of lock and stream;
 * both are asked for anew on return.
 */

const SILENCE_MS = 40_000;

/**
 * @param {{onNews: (seq: number) => void, locks: LockManager | null, makeSource: () => EventSource, doc: Document,
 *   setTimer?: (work: () => void, ms: number) => any, clearTimer?: (timer: any) => void}} given
 * @returns {() => void} stop listening
 */
export function listenForNews({ onNews, locks, makeSource, doc, setTimer = setTimeout, clearTimer = clearTimeout }) {
  /** @type {EventSource | null} */
  let source = null;
  /** @type {any} */
  let silence = null;
  let stopped = false;
  let leading = false;

  const close = () => {
    source?.close();
    source = null;
    if (silence !== null) clearTimer(silence);
    silence = null;
  };
  const hush = () => {
    if (silence !== null) clearTimer(silence);
    silence = setTimer(() => {
      close();
      open();
    }, SILENCE_MS);
  };
  const open = () => {
    if (stopped || !leading || source || doc.visibilityState === "hidden") return;
    source = makeSource();
    source.addEventListener("new", (event) => {
      hush();
      onNews(Number(event.data));
    });
    source.onopen = hush;
    source.onerror = hush;
    hush();
  };
  /** @type {() => void} */
  let letGo = () => {};
  const lead = () =>
    /** @type {Promise<void>} */ (
      new Promise((resolve) => {
        if (stopped || doc.visibilityState === "hidden") {
          resolve(undefined); // out of sight before it was its turn
          return;
        }
        leading = true;
        letGo = () => {
          leading = false;
          resolve(undefined);
        };
        open();
      })
    );
  const ask = () => {
    if (!locks) {
      void lead();
      return;
    }
    const waiting = new AbortController();
    letGo = () => waiting.abort();
    void locks.request("mudproof-news", { signal: waiting.signal }, lead).catch(() => {}); // given up before it was had
  };
  const onVisible = () => {
    close();
    letGo();
    if (doc.visibilityState !== "hidden") ask();
  };
  doc.addEventListener("visibilitychange", onVisible);
  if (doc.visibilityState !== "hidden") ask();

  return () => {
    stopped = true;
    close();
    letGo();
    doc.removeEventListener("visibilitychange", onVisible);
  };
}
