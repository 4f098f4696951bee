// @ts-check
/** Where everything is put together: the store, the book, sharing, the window, and the real clock. */
import { civilNow } from "./lib/dates.js";
import { fill, h } from "./lib/dom.js";
import { newDevice, newId, randomBytes } from "./lib/ids.js";
import { registerWorker } from "./shell/register.js";
import { wayTo } from "./shell/router.js";
import { Book } from "./store/book.js";
import { anyDraft } from "./store/drafts.js";
import { IndexedDbStore } from "./store/indexed-db.js";
import { dropOpening, keepOpening, readOpening } from "./store/opening.js";
import { askKept, askServer, sendServer } from "./sync/ask.js";
import { listenForNews } from "./sync/pokes.js";
import { Sharer } from "./sync/sharer.js";
import { UndoStrip } from "./ui/toast.js";
import { fetchRooms, openWindow, opensWithTheRound } from "./window.js";

/**
 * @typedef {{person: string | null, guest: {id: string, places: string[], until: string} | null}} Who holds this phone; guest: set
 *   on the phone of a guest, who has a room of their own
 */

const ROOMS_AFTER_MS = 200;
const KEEP_AFTER_MS = 1500;
const app = /** @type {HTMLElement} */ (document.getElementById("app"));
const root = document.documentElement;
const locks = navigator.locks ?? null;

const settings = {
  scheme: localStorage.getItem("mudproof.scheme") || schemeOfPhone(),
  hand: localStorage.getItem("mudproof.hand") || "right",
  offlineOpening: "no",
  placeInHand: /** @type {string | null} */ (null),
  lastJot: /** @type {any} */ (null),
};

const note = h("div");
const strip = new UndoStrip();

void start();

async function start() {
  applySettings();
  const store = new IndexedDbStore({
    device: deviceId(),
    now: Date.now,
    makeRoom: async () => (await import("./store/photos.js")).makeRoom(),
    onBlocked: () => stopWith("Another Mudproof window is still open with an older version. Close it, then try again."),
    onOld: () => stopWith("A newer Mudproof was opened in another window. Open this one again."),
  });
  const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel("mudproof") : null;
  /** @type {Sharer} */
  let sharer;
  const book = new Book(store, { channel, afterWrite: (records) => sharer.wrote(records) });
  sharer = new Sharer({ book, store, fetch: (...given) => fetch(...given), now: Date.now, random: Math.random, locks });
  const opening = opensWithTheRound() ? openingOfToday() : null;
  /** @type {Who} */
  const who = { person: opening?.person ?? null, guest: null };
  const shared = whatRoomsShare(book, store, sharer, who);
  if (opening) {
    book.begin(opening);
    openWindow({ app, note, strip, shared });
  }
  try {
    await store.open();
  } catch (/** @type {any} */ error) {
    stopWith(error.say || "This browser cannot keep anything (a private window, perhaps). Open Mudproof in an ordinary window.");
    console.error(error);
    return;
  }
  [who.person, who.guest] = await Promise.all([store.meta("person"), store.meta("guest"), book.load()]);
  if (!opening) openWindow({ app, note, strip, shared });
  root.dataset.ready = "yes";
  sayIfWiped(book);
  sharer.withoutKnowledge = Boolean(who.guest);
  beginWork(book, store, sharer, shared);
}

/** The list of last time, if it is of this very day. */
function openingOfToday() {
  const opening = readOpening(root.dataset.version || "");
  const site = opening?.records.find((/** @type {any} */ one) => one.kind === "site");
  return opening && opening.today === dayNow(site?.fields.tz || null) ? opening : null;
}

/** @param {string | null} zone */
function dayNow(zone) {
  return root.dataset.today || civilNow(new Date(), zone).date;
}

/** @param {Book} book */
function sayIfWiped(book) {
  if (localStorage.getItem("mudproof.kept") === "yes" && !book.records.length) strip.show({ say: "This phone's copy was cleared by the browser. Fetching it again." });
  const noteKept = () => {
    if (book.records.length) localStorage.setItem("mudproof.kept", "yes");
  };
  noteKept();
  book.subscribe(noteKept);
}

/**
 * What every room has to hand.
 * @param {Book} book
 * @param {any} store
 * @param {Sharer} sharer
 * @param {Who} who
 */
function whatRoomsShare(book, store, sharer, who) {
  const zone = () => book.fields("site").tz || null;
  const today = () => dayNow(zone());
  return {
    book,
    settings,
    today,
    zone,
    now: Date.now,
    /** @param {string} name @param {...string} params */
    go: (name, ...params) => {
      location.hash = wayTo(name, ...params);
    },
    toast: (/** @type {any} */ toast) => strip.show(toast),
    ask: (/** @type {string} */ path, /** @type {RequestInit} */ more) => askServer(path, more),
    askKept: (/** @type {string} */ path, /** @type {(answer: any) => void} */ show) => askKept(store, path, show),
    send: sendServer,
    newId: () => newId(Date.now(), randomBytes(16)),
    moment: () => ({ on: today(), at: civilNow(new Date(), zone()).time, by: who.person }),
    person: () => who.person,
    get guest() {
      return who.guest;
    },
    becomeGuest: async (/** @type {any} */ given) => {
      await store.setMeta("guest", given);
      dropOpening(); // the list of a household's own phone is none for a guest, nor the other way round
      history.replaceState(null, "", "#/round"); // not the address with the code in it
      location.reload();
    },
    setPerson: async (/** @type {string} */ id) => {
      who.person = id;
      await store.setMeta("person", id);
      void askServer("/api/me", { method: "POST", body: JSON.stringify({ person: id }), headers: { "content-type": "application/json" } }).catch(() => null); // so that other phones see whose this is
    },
    setSetting: (/** @type {"scheme" | "hand"} */ name, /** @type {string} */ value) => {
      settings[name] = value;
      localStorage.setItem(`mudproof.${name}`, value);
      applySettings();
    },
    shareNow: () => sharer.now_(),
    shareSoon: () => sharer.soon(),
    version: root.dataset.version || "",
  };
}

/**
 * What goes on beside the rooms: sharing, news, the worker, old seasons put to rest, the list kept for the next opening.
 * @param {Book} book
 * @param {any} store
 * @param {Sharer} sharer
 * @param {any} shared
 */
function beginWork(book, store, sharer, shared) {
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
  if ("EventSource" in globalThis) {
    listenForNews({ onNews: (seq) => void sharer.heard(seq), locks, makeSource: () => new EventSource("/api/pokes"), doc: document });
  }
  sendPhotosAfterSharing(book);
  void sharer.run();
  watchMidnight(today, () => book.newDay());
  void restOncePerDay(book, store, today);
  if (!shared.guest) keepOpenings(book, shared);
  void navigator.storage?.persist?.();
  setTimeout(() => void fetchRooms(), ROOMS_AFTER_MS);
  void bringWorker();
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
    timer = setTimeout(keep, KEEP_AFTER_MS);
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

async function bringWorker() {
  settings.offlineOpening = navigator.serviceWorker?.controller ? "yes" : "soon";
  const works = await registerWorker({
    onReady: () => {
      settings.offlineOpening = "yes";
    },
    onUpdate: (take) => {
      fill(
        note,
        h(
          "div",
          { class: "page", style: { "padding-bottom": "0" } },
          h("div", { class: "bar-note", role: "status" }, h("span", null, h("b", null, "Update ready."), " What you wrote stays."), h("button", { class: "key slim", type: "button", onclick: take }, "Update")),
        ),
      );
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

/** This device's name in stamps: made once, kept beside the store. */
function deviceId() {
  const held = localStorage.getItem("mudproof.device");
  if (held && /^[a-z2-7]{8}$/.test(held)) return held;
  const made = newDevice(randomBytes(8));
  localStorage.setItem("mudproof.device", made);
  return made;
}

function schemeOfPhone() {
  if (matchMedia("(prefers-contrast: more)").matches) return "sun";
  return matchMedia("(prefers-color-scheme: dark)").matches ? "dusk" : "day";
}

function applySettings() {
  root.dataset.scheme = settings.scheme;
  root.dataset.hand = settings.hand;
}

/** @param {string} words */
function stopWith(words) {
  fill(app, h("main", { class: "page" }, h("header", { class: "head" }, h("h1", null, "Mudproof")), h("div", { class: "board empty" }, h("p", { role: "alert" }, words), h("button", { class: "key solid", type: "button", onclick: () => location.reload() }, "Try again"))));
}
