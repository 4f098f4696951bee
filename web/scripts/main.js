// @ts-check
/** Where everything is put together: the store, the book, sharing, the rooms, and the real clock. */
import { civilNow } from "./lib/dates.js";
import { fill, h } from "./lib/dom.js";
import { newDevice, newId, randomBytes } from "./lib/ids.js";
import { room as job } from "./rooms/job.js";
import { room as putOff } from "./rooms/put-off.js";
import { room as round } from "./rooms/round.js";
import { registerWorker } from "./shell/register.js";
import { readWay, wayTo } from "./shell/router.js";
import { Book } from "./store/book.js";
import { anyDraft } from "./store/drafts.js";
import { openStore } from "./store/indexed-db.js";
import { askKept, askServer, sendServer } from "./sync/ask.js";
import { listenForNews } from "./sync/pokes.js";
import { Sharer } from "./sync/sharer.js";
import { dock } from "./ui/dock.js";
import { UndoStrip } from "./ui/toast.js";

/** @type {Record<string, (context: any) => any>} */
const ROOMS = { round, job, "put-off": putOff };
/** Rooms that are fetched once the first screen is painted, so that the Round opens sooner. */
const LATER = {
  jot: () => import("./rooms/jot.js"),
  ground: () => import("./rooms/ground.js"),
  season: () => import("./rooms/season.js"),
  diary: () => import("./rooms/diary.js"),
  shed: () => import("./rooms/shed.js"),
  place: () => import("./rooms/place.js"),
  batch: () => import("./rooms/batch.js"),
  form: () => import("./rooms/forms.js"),
  deed: () => import("./rooms/deed.js"),
  varieties: () => import("./rooms/varieties.js"),
  plan: () => import("./rooms/plan.js"),
  begin: () => import("./rooms/begin.js"),
  readings: () => import("./rooms/readings.js"),
  year: () => import("./rooms/year.js"),
  successions: () => import("./rooms/successions.js"),
  crops: () => import("./rooms/crops.js"),
  crop: () => import("./rooms/crop.js"),
  join: () => import("./rooms/join.js"),
  guest: () => import("./rooms/guest.js"),
  photo: () => import("./rooms/photo.js"),
  phones: () => import("./rooms/phones.js"),
  "seed-list": () => import("./rooms/seed-list.js"),
  "own-crop": () => import("./rooms/own-crop.js"),
};
const DOCK_OF = /** @type {Record<string, string>} */ ({ job: "round", "put-off": "round", place: "ground", batch: "ground", form: "ground", deed: "diary", varieties: "shed", plan: "ground", begin: "round", readings: "ground", year: "season", successions: "season", crops: "shed", crop: "shed", "seed-list": "shed", phones: "shed", photo: "diary", join: "round", "own-crop": "shed" });
const GUEST_ROOMS = ["guest", "join"];
const WIDE = "(min-width: 1000px)";
const ROOMS_AFTER_MS = 200;
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

void start();

async function start() {
  applySettings();
  const device = deviceId();
  /** @type {any} */
  let store;
  try {
    store = await openStore({
      device,
      now: Date.now,
      makeRoom: async () => (await import("./store/photos.js")).makeRoom(),
      onBlocked: () => stopWith("Another Mudproof window is still open with an older version. Close it, then try again."),
      onOld: () => stopWith("A newer Mudproof was opened in another window. Open this one again."),
    });
  } catch (/** @type {any} */ error) {
    stopWith(error.say || "This browser cannot keep anything (a private window, perhaps). Open Mudproof in an ordinary window.");
    console.error(error);
    return;
  }
  const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel("mudproof") : null;
  /** @type {Sharer} */
  let sharer;
  const book = new Book(store, { channel, afterWrite: (records) => sharer.wrote(records) });
  sharer = new Sharer({ book, store, fetch: (...given) => fetch(...given), now: Date.now, random: Math.random, locks });
  await book.load();
  const wiped = localStorage.getItem("mudproof.kept") === "yes" && !book.records.length;
  const noteKept = () => {
    if (book.records.length) localStorage.setItem("mudproof.kept", "yes");
  };
  noteKept();
  book.subscribe(noteKept);
  await openApp(book, store, sharer, wiped);
}

/** @param {Book} book @param {any} store @param {Sharer} sharer @param {boolean} wiped */
async function openApp(book, store, sharer, wiped) {
  const strip = new UndoStrip();
  const live = h("p", { class: "unseen", role: "status", "aria-live": "polite" });
  const main = h("div", { class: "panes" });
  const foot = h("div");
  const note = h("div");
  let person = await store.meta("person");
  /** @type {{id: string, places: string[], until: string} | null} Set on the phone of a guest, who has a room of their own. */
  const guest = await store.meta("guest");
  sharer.withoutKnowledge = Boolean(guest);
  /** @type {string[]} Where this window has been, for going back. */
  const trail = [];
  /** @type {any[]} */
  let open = [];
  let lastSettled = "";
  /** @type {number | null} The sharing after which photos were last looked for. */
  let photosAt = null;

  const zone = () => book.fields("site").tz || null;
  const today = () => root.dataset.today || civilNow(new Date(), zone()).date;
  /** @param {string} name @param {...string} params */
  const go = (name, ...params) => {
    location.hash = wayTo(name, ...params);
  };
  const shared = {
    book,
    settings,
    today,
    zone,
    now: Date.now,
    go,
    toast: (/** @type {any} */ toast) => strip.show(toast),
    ask: (/** @type {string} */ path, /** @type {RequestInit} */ more) => askServer(path, more),
    askKept: (/** @type {string} */ path, /** @type {(answer: any) => void} */ show) => askKept(store, path, show),
    send: sendServer,
    newId: () => newId(Date.now(), randomBytes(16)),
    moment: () => ({ on: today(), at: civilNow(new Date(), zone()).time, by: person }),
    person: () => person,
    guest,
    becomeGuest: async (/** @type {any} */ given) => {
      await store.setMeta("guest", given);
      history.replaceState(null, "", "#/round"); // not the address with the code in it
      location.reload();
    },
    setPerson: async (/** @type {string} */ id) => {
      person = id;
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

  function show() {
    const at = location.hash;
    const way = guest && !GUEST_ROOMS.includes(readWay(at).name) ? { name: "guest", params: [] } : readWay(at);
    const wide = matchMedia(WIDE).matches;
    const missing = [way.name, ...(wide ? ["season"] : [])].find((name) => name in LATER && !(name in ROOMS));
    if (missing) {
      void fetchRoom(missing).then((came) => {
        if (location.hash !== at) return;
        if (came) show();
        else notHere();
      });
      return;
    }
    for (const one of open) one.leave?.();
    strip.element.classList.toggle("over-acts", false);
    const make = ROOMS[way.name] || round;
    if (trail[trail.length - 2] === at) trail.pop();
    else if (trail[trail.length - 1] !== at) trail.push(at);
    /**
     * Back only from the room that asked: a write that ends late must not move whoever has gone on. Not by the browser's
     * own history, which goes back a moment later, wherever one is by then.
     */
    const back = () => {
      if (open.includes(here) && location.hash === at) location.replace(trail[trail.length - 2] || wayTo("round"));
    };
    const here = make({ ...shared, back, params: way.params });
    open = [here];
    const split = wide && ["round", "job", "put-off"].includes(way.name);
    if (split) {
      const side = way.name === "round" ? ROOMS.season({ ...shared, back, params: [] }) : here;
      const left = way.name === "round" ? here : round({ ...shared, back, params: [] });
      if (way.name === "round") side.element.removeAttribute("id");
      else left.element.removeAttribute("id");
      open = [left, side];
      fill(main, left.element, h("div", { class: "side" }, side.element));
    } else {
      fill(main, here.element);
    }
    main.classList.toggle("split", split);
    fill(foot, here.bare ? null : dock(DOCK_OF[way.name] || way.name));
    document.title = `${here.title}, Mudproof`;
    strip.element.classList.toggle("over-acts", way.name === "job" && !split);
    window.scrollTo(0, 0);
    if (document.activeElement === document.body) {
      here.element.setAttribute("tabindex", "-1");
      here.element.focus({ preventScroll: true });
    }
  }

  /** A room that never came: only where no worker keeps the app and the server is away. */
  function notHere() {
    for (const one of open) one.leave?.();
    open = [];
    fill(main, h("main", { class: "page", id: "room" }, h("div", { class: "board empty" }, h("p", { role: "alert" }, "This part of the app has not come to this phone yet, and the server does not answer. What is written down is safe; try again near the server."), h("button", { class: "key", type: "button", onclick: () => show() }, "Try again"))));
    fill(foot, dock(readWay(location.hash).name));
  }

  const outside = h("div");
  const askToJoin = () => h("div", { class: "page", style: { "padding-bottom": "0" } }, h("div", { class: "bar-note", role: "status" }, h("span", null, h("b", null, "Not joined."), " What you write stays here."), h("button", { class: "key slim", type: "button", onclick: () => go("join") }, "Join")));
  const showJoined = () => {
    const wanted = book.sharing.joined === false && readWay(location.hash).name !== "join";
    if (wanted !== outside.hasChildNodes()) fill(outside, wanted && askToJoin());
  };
  showJoined();
  fill(app, note, outside, main, foot, strip.element, live);
  show();
  root.dataset.ready = "yes";
  if (wiped) strip.show({ say: "This phone's copy was cleared by the browser. Fetching it again." });

  window.addEventListener("hashchange", show);
  window.addEventListener("hashchange", showJoined);
  matchMedia(WIDE).addEventListener("change", show);
  book.subscribe((what) => {
    for (const one of open) one.refresh?.(what);
    if (what === "sharing") {
      showJoined();
      if (book.sharing.reachable && book.sharing.lastShared !== photosAt) {
        photosAt = book.sharing.lastShared;
        void import("./sync/photo-sender.js").then(({ sendPhotos }) => sendPhotos(new Set(book.ofKind("photo").flatMap((/** @type {any} */ one) => [one.fields.sha256, one.fields.thumb]))));
      }
    }
    if (what !== "records") return;
    const jobs = book.jobs(today());
    const words = `${jobs.filter((/** @type {any} */ one) => one.state === "ready").length} jobs ready`;
    if (words !== lastSettled) live.textContent = lastSettled = words;
  });
  document.addEventListener("keydown", (event) => {
    const target = /** @type {HTMLElement} */ (event.target);
    if (target.matches?.("input, textarea, select") || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "j" || event.key === "J") go("jot");
    if (event.key === "u" || event.key === "U") strip.undo();
  });

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
  void sharer.run();
  watchMidnight(today, () => {
    for (const one of open) one.refresh?.("records");
  });
  void restOncePerDay(book, store, today);
  void navigator.storage?.persist?.();
  setTimeout(() => void fetchRooms(), ROOMS_AFTER_MS);
  await bringWorker(note);
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

/** A room's code; false where it cannot come now. @param {string} name */
async function fetchRoom(name) {
  try {
    ROOMS[name] ??= (await /** @type {any} */ (LATER)[name]()).room;
    return true;
  } catch (error) {
    console.error(`the room ${name} did not come`, error);
    return false;
  }
}

/** All rooms, while nobody waits: then they open at once, and with the server gone. */
async function fetchRooms() {
  await Promise.all(Object.keys(LATER).map(fetchRoom));
}

/** @param {HTMLElement} note */
async function bringWorker(note) {
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
