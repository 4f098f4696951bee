// @ts-check
/**
 * All that goes on behind the first screen: the phone's store, the kernel, sharing, news, the worker, old seasons put to rest,
 * the list kept for the next cold start.
 */
import { Settled } from "./kernel/settle.js";
import { standOf } from "./kernel/stand.js";
import { fill } from "./lib/dom.js";
import { clockWords } from "./lib/words.js";
import { newDevice, randomBytes } from "./lib/ids.js";
import { keepBeside, readBeside } from "./store/beside.js";
import { anyDraft } from "./store/drafts.js";
import { clockBehind, hearHousehold } from "./store/household-clock.js";
import { openStore } from "./store/indexed-db.js";
import { keepOpening } from "./store/opening.js";
import { CURSOR, PAGE } from "./store/stamping.js";
import { Sharer } from "./sync/sharer.js";
import { barNote } from "./ui/board.js";
import { key } from "./ui/key.js";
import { fetchRooms } from "./window.js";

/** @typedef {import("./store/book.js").Book} Book */
/** @typedef {{sharer: Sharer}} Work */

/** Set once this phone has held the household's records. */
const KEPT = "mudproof.kept";
const ROOMS_AFTER_MS = 200;
const KEEP_AFTER_MS = 1500;
const locks = navigator.locks ?? null;

/**
 * Open the store, read the book, then let everything run. Rejects with words where the store is there and does not open.
 * @param {{book: Book, who: import("./main.js").Who, shared: any, strip: import("./ui/toast.js").UndoStrip, note: HTMLElement,
 *   stopWith: (words: string) => void, openWindow: (() => void) | null}} given openWindow: null where it stands already
 * @returns {Promise<Work>}
 */
export async function beginWork({ book, who, shared, strip, note, stopWith, openWindow }) {
  const store = (await storeOfThisPhone(stopWith)) || (await storeOfThisWindow());
  book.sharing.keeps = store.keeps;
  book.bring(store, { Settled, standOf });
  [who.person, who.guest] = await Promise.all([store.meta("person"), store.meta("guest"), book.load()]);
  openWindow?.();
  document.documentElement.dataset.ready = "yes";
  if (store.keeps) await sayIfWiped(book, store, strip);
  else sayNothingIsKept(book, note);
  const sharer = new Sharer({ book, store, fetch: (...given) => fetch(...given), now: Date.now, random: Math.random, locks, onTime: (houseMs) => hearTime(houseMs, book, strip) });
  sharer.withoutKnowledge = Boolean(who.guest);
  letRun(book, store, sharer, shared, note);
  return { sharer };
}

/** The phone's store; null where this browser has none that can be used. @param {(words: string) => void} stopWith */
async function storeOfThisPhone(stopWith) {
  try {
    return await openStore({
      device: deviceId(),
      now: Date.now,
      makeRoom: async () => (await import("./store/photos.js")).makeRoom(),
      onBlocked: () => stopWith("Another Mudproof window is still open with an older version. Close it, then try again."),
      onOld: () => stopWith("A newer Mudproof was opened in another window. Open this one again."),
    });
  } catch (/** @type {any} */ error) {
    if (error.sort !== "lost") throw error;
    console.error("the phone's store cannot be used", error);
    return null;
  }
}

/** One that lasts as long as the window does: the household's list is there all the same, while the server is. */
async function storeOfThisWindow() {
  const { MemoryStore } = await import("./store/memory.js");
  return new MemoryStore({ device: deviceId(), now: Date.now });
}

/** What the household's clocks say it is: where this phone's is another day, the list is that day's. @param {number} houseMs @param {Book} book @param {import("./ui/toast.js").UndoStrip} strip */
function hearTime(houseMs, book, strip) {
  if (!hearHousehold(houseMs)) return;
  book.newDay();
  if (clockBehind()) strip.show({ say: `${clockWords(-clockBehind())} Days are written by the household's clocks.` });
}

/** What is written in such a window is safe once it is shared, and no sooner. @param {Book} book @param {HTMLElement} note */
function sayNothingIsKept(book, note) {
  fill(note, barNote("Nothing is kept here.", "What you write is safe once it says all shared.", key("Try again", () => location.reload(), { look: "slim" })));
  window.addEventListener("beforeunload", (event) => {
    if (book.sharing.kept) event.preventDefault();
  });
}

/** Where the browser has cleared what this phone held, all of it is asked for again. @param {Book} book @param {any} store @param {import("./ui/toast.js").UndoStrip} strip */
async function sayIfWiped(book, store, strip) {
  book.wiped = readBeside(KEPT) === "yes" && !book.records.length;
  if (book.wiped) {
    strip.show({ say: "This phone's copy was cleared by the browser. Fetching it again." });
    await Promise.all([store.setMeta(CURSOR, 0), store.setMeta(PAGE, null)]);
  }
  const noteKept = () => {
    if (book.records.length) keepBeside(KEPT, "yes");
  };
  noteKept();
  book.subscribe(noteKept);
}

/**
 * @param {Book} book
 * @param {any} store
 * @param {Sharer} sharer
 * @param {any} shared
 * @param {HTMLElement} note
 */
function letRun(book, store, sharer, shared, note) {
  const { today } = shared;
  const soon = () => sharer.soon();
  window.addEventListener("online", soon);
  window.addEventListener("pageshow", soon);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") {
      soon();
      void book.reload();
    }
  });
  if ("EventSource" in globalThis) void hearNews(sharer);
  sendPhotosAfterSharing(book);
  const sharing = sharer.run();
  watchMidnight(today, () => book.newDay());
  void restOncePerDay(book, store, today);
  if (!shared.guest) keepOpenings(book, shared);
  void navigator.storage?.persist?.();
  void Promise.resolve(book.records.length || sharing).then(() => setTimeout(() => void fetchRooms(), ROOMS_AFTER_MS)); // a first list comes before them
  setTimeout(() => void import("./shell/platform.js").then(({ bringPlatform }) => bringPlatform(book, shared)).catch((error) => console.warn("nothing besides", error)), KEEP_AFTER_MS);
  void bringWorker(shared.settings, note).catch((error) => console.warn("no worker", error));
}

/** News comes once the list stands; where its code did not come either, sharing goes by the minute. @param {Sharer} sharer */
async function hearNews(sharer) {
  try {
    const { listenForNews } = await import("./sync/pokes.js");
    listenForNews({ onNews: (seq) => void sharer.heard(seq), locks, makeSource: () => new EventSource("/api/pokes"), doc: document });
  } catch (error) {
    console.warn("no news", error);
  }
}

/** Photos go once what names them has gone. @param {Book} book */
function sendPhotosAfterSharing(book) {
  /** @type {number | null} The sharing after which photos were last looked for. */
  let lookedAt = null;
  book.subscribe((what) => {
    if (what !== "sharing" || !book.sharing.reachable || book.sharing.lastShared === lookedAt) return;
    lookedAt = book.sharing.lastShared;
    void import("./sync/photo-sender.js").then(({ sendPhotos }) => sendPhotos(new Set(book.ofKind("photo").flatMap((/** @type {any} */ one) => [one.fields.sha256, one.fields.thumb]))));
  });
}

/** Keep the list for the next cold start, a moment after it changed and whenever the window goes out of sight. @param {Book} book @param {any} shared */
function keepOpenings(book, shared) {
  /** @type {any} */
  let timer = null;
  const keep = () => {
    clearTimeout(timer);
    timer = null;
    keepOpening(book, { version: shared.version, today: shared.today(), person: shared.person() });
  };
  const later = () => {
    clearTimeout(timer);
    timer = setTimeout(() => void book.calm().then(() => timer !== null && keep()), KEEP_AFTER_MS);
  };
  book.subscribe((what) => {
    if (what === "records") later();
  });
  document.addEventListener("visibilitychange", () => {
    if (timer !== null && document.visibilityState === "hidden") keep();
  });
  later();
}

/**
 * Old seasons are put to rest once a day, and not before everything has come from the server for the first time.
 * @param {Book} book
 * @param {any} store
 * @param {() => string} today
 */
async function restOncePerDay(book, store, today) {
  let restedOn = await store.meta("restedOn");
  let busy = false;
  const rest = async () => {
    if (busy || restedOn === today() || !(await store.meta("cursor"))) return;
    busy = true;
    try {
      await book.restOldSeasons(today());
      restedOn = today();
      await store.setMeta("restedOn", restedOn);
    } catch (error) {
      console.error("old seasons were not put to rest", error); // the next sharing tries again; nothing is lost
    } finally {
      busy = false;
    }
  };
  book.subscribe((what) => {
    if (what === "sharing") void rest();
  });
  await rest();
}

/** @param {any} settings @param {HTMLElement} note */
async function bringWorker(settings, note) {
  settings.offlineOpening = navigator.serviceWorker?.controller ? "yes" : "soon";
  const { registerWorker } = await import("./shell/register.js");
  const works = await registerWorker({
    onReady: () => {
      settings.offlineOpening = "yes";
    },
    onUpdate: (take) => {
      fill(note, barNote("Update ready.", "What you wrote stays.", key("Update", take, { look: "slim" })));
      if (document.visibilityState === "hidden" && !anyDraft()) take();
    },
    reload: () => location.reload(),
  });
  if (!works) settings.offlineOpening = "no";
}

/** A day's list is that day's: look at the date when the page comes back and each minute. @param {() => string} today @param {() => void} act */
function watchMidnight(today, act) {
  let last = today();
  const look = () => {
    if (today() === last) return;
    last = today();
    act();
  };
  setInterval(look, 60_000);
  document.addEventListener("visibilitychange", look);
}

/** This device's name in stamps: made once, kept beside the store. Where that is forbidden, one for as long as the window is open. */
function deviceId() {
  const held = readBeside("mudproof.device");
  if (held && /^[a-z2-7]{8}$/.test(held)) return held;
  const made = newDevice(randomBytes(8));
  keepBeside("mudproof.device", made);
  return made;
}
