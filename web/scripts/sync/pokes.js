// @ts-check
/**
 * News from the server: one stream a browser, not one a window. The window that holds the lock listens; the others hear
 * of what it fetched over the book's channel. Closed while nobody looks, opened anew on return.
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
  const onVisible = () => {
    if (doc.visibilityState === "hidden") close();
    else {
      close();
      open();
    }
  };
  doc.addEventListener("visibilitychange", onVisible);

  /** @type {() => void} */
  let giveUp = () => {};
  const lead = () =>
    /** @type {Promise<void>} */ (
      new Promise((resolve) => {
        leading = true;
        giveUp = () => resolve(undefined);
        open();
      })
    );
  if (locks) void locks.request("mudproof-news", lead).catch(() => {});
  else void lead();

  return () => {
    stopped = true;
    close();
    giveUp();
    doc.removeEventListener("visibilitychange", onVisible);
  };
}
