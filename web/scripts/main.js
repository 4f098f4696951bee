// @ts-check
/**
 * Where everything is put together. First what the first screen needs: the window, and the list of last time where there is one.
 * Then, once that is painted, all the rest (`work.js`).
 */
import { pen } from "./household/writing.js";
import { civilNow } from "./lib/dates.js";
import { fill, h, painted } from "./lib/dom.js";
import { newId, randomBytes } from "./lib/ids.js";
import { wayTo } from "./shell/router.js";
import { Book } from "./store/book.js";
import { keepBeside, readBeside } from "./store/beside.js";
import { householdNow } from "./store/household-clock.js";
import { dropOpening, readOpening } from "./store/opening.js";
import { askKept, askServer, sendServer } from "./sync/ask.js";
import { UndoStrip } from "./ui/toast.js";
import { openWindow, opensWithTheRound } from "./window.js";

/**
 * @typedef {{person: string | null, guest: {id: string, places: string[], until: string} | null}} Who holds this phone; guest: set
 *   on the phone of a guest, who has a room of their own
 * @typedef {import("./work.js").Work} Work
 */

const app = /** @type {HTMLElement} */ (document.getElementById("app"));
const root = document.documentElement;

const settings = {
  scheme: readBeside("mudproof.scheme") || schemeOfPhone(),
  hand: readBeside("mudproof.hand") || "right",
  awake: readBeside("mudproof.awake") || "no",
  offlineOpening: "no",
  placeInHand: /** @type {string | null} */ (null),
  lastJot: /** @type {any} */ (null),
};
const note = h("div");
const strip = new UndoStrip();

start();

function start() {
  applySettings();
  const opening = opensWithTheRound() ? openingOfToday() : null;
  const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel("mudproof") : null;
  const book = new Book({ channel, painted, afterWrite: (records) => void working.then(({ sharer }) => sharer.wrote(records)) });
  /** @type {Who} */
  const who = { person: opening?.person ?? null, guest: null };
  /** @type {Promise<Work>} */
  const working = (opening ? painted() : Promise.resolve()).then(async () => {
    fetchTheRest();
    const { beginWork } = await import("./work.js").catch(sayNotHere);
    return beginWork({ book, who, shared, strip, note, stopWith, openWindow: shows ? null : () => openWindow({ app, note, strip, shared }) });
  });
  const shared = whatRoomsShare(book, working, who);
  const shows = opening !== null && showOpening(opening, book, () => openWindow({ app, note, strip, shared }));
  working.catch((/** @type {any} */ error) => {
    console.error(error);
    if (book.isRead) return; // what failed is beside the rooms: they go on
    stopWith(error.say || "Mudproof could not open. What is written down is safe on this phone; close every Mudproof window and open it again.");
  });
}

/**
 * The list of last time, if it can be drawn; else the book is waited for.
 * @param {import("./store/opening.js").Opening} opening
 * @param {Book} book
 * @param {() => void} show
 * @returns {boolean} whether it stands
 */
function showOpening(opening, book, show) {
  try {
    book.begin(opening);
    show();
    return true;
  } catch (error) {
    console.error("the list of last time could not be shown", error);
    dropOpening();
    return false;
  }
}

/** Only where no worker keeps the app. @param {any} error @returns {never} */
function sayNotHere(error) {
  throw Object.assign(error, { say: "The rest of Mudproof has not come to this phone, and the server does not answer. What is written down is safe; try again near the server." });
}

/** All that comes behind the first screen, asked for at once and not one file after the other. */
function fetchTheRest() {
  for (const link of document.querySelectorAll("link[rel=later]")) link.setAttribute("rel", "modulepreload");
}

/** The list of last time, if it is of this very day. */
function openingOfToday() {
  const opening = readOpening(root.dataset.version || "");
  const site = opening?.records.find((/** @type {any} */ one) => one.kind === "site");
  return opening && opening.today === dayNow(site?.fields.tz || null) ? opening : null;
}

/** @param {string | null} zone */
function dayNow(zone) {
  return root.dataset.today || civilNow(new Date(householdNow()), zone).date;
}

/**
 * What every room has to hand.
 * @param {Book} book
 * @param {Promise<Work>} working
 * @param {Who} who
 */
function whatRoomsShare(book, working, who) {
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
    write: pen(book, (toast) => strip.show(toast)),
    ask: (/** @type {string} */ path, /** @type {RequestInit} */ more) => askServer(path, more),
    askKept: (/** @type {string} */ path, /** @type {(answer: any) => void} */ show) => askKept(book.store, path, show),
    send: sendServer,
    newId: () => newId(Date.now(), randomBytes(16)),
    moment: () => ({ on: today(), at: civilNow(new Date(householdNow()), zone()).time, by: who.person }),
    person: () => who.person,
    get guest() {
      return who.guest;
    },
    becomeGuest: async (/** @type {any} */ given) => {
      await book.store.setMeta("guest", given);
      dropOpening(); // the list of a household's own phone is none for a guest, nor the other way round
      history.replaceState(null, "", "#/round"); // not the address with the code in it
      location.reload();
    },
    setPerson: async (/** @type {string} */ id) => {
      who.person = id;
      await book.store.setMeta("person", id);
      void askServer("/api/me", { method: "POST", body: JSON.stringify({ person: id }), headers: { "content-type": "application/json" } }).catch(() => null); // so that other phones see whose this is
    },
    setSetting: (/** @type {"scheme" | "hand" | "awake"} */ name, /** @type {string} */ value) => {
      settings[name] = value;
      keepBeside(`mudproof.${name}`, value);
      applySettings();
      window.dispatchEvent(new Event("mudproof-setting"));
    },
    shareNow: async () => (await working).sharer.atOnce(),
    shareSoon: () => void working.then(({ sharer }) => sharer.soon()),
    version: root.dataset.version || "",
  };
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
