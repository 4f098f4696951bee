// @ts-check
/** The window: which room is shown, the dock below it, the strip for taking back, and the way back. */
import { fill, h } from "./lib/dom.js";
import { measureAs } from "./lib/quantities.js";
import { room as round } from "./rooms/round/room.js";
import { readWay } from "./shell/router.js";
import { standAt } from "./shell/standing.js";
import { Trail } from "./shell/trail.js";
import { barNote, troubleBoard } from "./ui/board.js";
import { dock } from "./ui/dock.js";
import { key } from "./ui/key.js";
import { Press } from "./ui/press.js";

/** @type {Record<string, (context: any) => any>} The rooms that have come: the others once the first screen is painted, so that it opens sooner. */
const ROOMS = { round };
const DOCK_OF = /** @type {Record<string, string>} */ ({ job: "round", "put-off": "round", "catch-up": "round", place: "ground", batch: "ground", fullness: "ground", again: "ground", layout: "ground", takes: "shed", vessels: "shed", form: "ground", deed: "diary", varieties: "shed", upkeep: "shed", plan: "ground", begin: "round", readings: "ground", year: "season", successions: "season", crops: "shed", crop: "shed", "seed-list": "shed", phones: "shed", photo: "diary", join: "round", "own-crop": "shed" });
const GUEST_ROOMS = ["guest", "join"];
/** Rooms that hold what is typed: they begin with what is there, and must not begin before anything is. */
const FILLED_IN = ["form", "plan"];
const TWO_PANES = ["round", "job", "put-off"];
const WIDE = "(min-width: 1000px)";

/** Whether what opens is the Round by itself: the one room that can be drawn before the whole book is read. */
export function opensWithTheRound() {
  return readWay(location.hash).name === "round" && !matchMedia(WIDE).matches;
}

/**
 * @typedef {{app: HTMLElement, note: HTMLElement, strip: import("./ui/toast.js").UndoStrip, shared: any}} Given app: where everything
 *   is drawn; note: what stands above all rooms; shared: what every room has to hand
 * @param {Given} given
 */
export function openWindow(given) {
  const opened = new Window(given);
  opened.show();
  window.addEventListener("hashchange", (event) => opened.goTo(new URL(event.newURL).hash));
  window.addEventListener("popstate", () => opened.stepBack());
  matchMedia(WIDE).addEventListener("change", () => opened.show());
  document.addEventListener("keydown", (event) => opened.press(event));
  const press = new Press();
  given.shared.book.subscribe((/** @type {string} */ what) => press.after(what, () => opened.refresh(what)));
  return opened;
}

class Window {
  #trail = new Trail();
  /** The address of the room that is open. */
  #at = "";
  /** @type {import("./types.js").Shown[]} */
  #open = [];
  /** Whether the room that the address names waits for the household's records. */
  #waits = false;
  /** How many changes of the records have been told of. */
  #changes = 0;

  /** @param {Given} given */
  constructor({ app, note, strip, shared }) {
    this.shared = shared;
    this.strip = strip;
    this.live = h("p", { class: "unseen", role: "status", "aria-live": "polite" });
    this.main = h("div", { class: "panes" });
    this.foot = h("div");
    this.outside = h("div");
    fill(app, note, this.outside, this.main, this.foot, strip.element, this.live);
  }

  /** Somebody went to an address, which may be left already when that is told. @param {string} way */
  goTo(way) {
    if (way !== location.hash) this.#trail.overtaken(way);
    this.show();
  }

  /** Show what the address names. */
  show() {
    const at = location.hash;
    const { book, guest } = this.shared;
    let way = guest && !GUEST_ROOMS.includes(readWay(at).name) ? { name: "guest", params: [] } : readWay(at);
    this.#waits = book.isRead && FILLED_IN.includes(way.name) && !book.records.length && book.sharing.lastShared === null;
    if (this.#waits) way = { name: "round", params: [] }; // which says what the phone waits for
    const wide = matchMedia(WIDE).matches;
    this.#showJoined();
    if (!book.isRead && way.name !== "round") {
      void book.whenRead.then(() => location.hash === at && this.show());
      return;
    }
    if (allCame || (way.name === "round" && !wide)) this.#enter(way, at, wide);
    else void fetchRooms().then((came) => location.hash === at && (came ? this.show() : this.#notHere()));
  }

  /** @param {{name: string, params: string[]}} way @param {string} at the address @param {boolean} wide */
  #enter(way, at, wide) {
    const stood = window.scrollY;
    const again = this.#at === at; // wide or narrow now, or come late: the same room, drawn anew
    if (!again) this.#trail.leaveAt(stood);
    this.#leave();
    this.strip.leave();
    const { returns, px } = this.#trail.arrive();
    this.#at = at;
    measureAs(this.shared.book.fields("site"));
    /** Back only from the room that asked: a write that ends late must not move whoever has gone on. @param {...string} past */
    const back = (...past) => {
      if (this.#open.includes(here) && location.hash === at) this.#trail.back(past);
    };
    const context = { ...this.shared, back, returns, from: this.#trail.from(), deeper: () => this.#trail.deeper(), params: way.params };
    const here = (Object.hasOwn(ROOMS, way.name) ? ROOMS[way.name] : round)(context);
    const split = wide && TWO_PANES.includes(way.name);
    const wasSplit = this.main.classList.contains("split");
    this.#open = [here];
    if (split) this.#fillPanes(way.name, here, { ...context, returns: returns || wasSplit, params: [] });
    else fill(this.main, here.element);
    this.main.classList.toggle("split", split);
    fill(this.foot, here.bare ? null : dock(Object.hasOwn(DOCK_OF, way.name) ? DOCK_OF[way.name] : way.name));
    document.title = `${here.title}, Mudproof`;
    this.strip.element.classList.toggle("over-acts", way.name === "job" && !split);
    standAt(again || (split && wasSplit && !returns) ? stood : px); // beside an opened job the Round stays where it was
    if (document.activeElement !== document.body) return;
    here.element.setAttribute("tabindex", "-1");
    here.element.focus({ preventScroll: true });
  }

  /** The Round at the left; at its side what is open, else the season. @param {string} name @param {import("./types.js").Shown} here @param {any} context */
  #fillPanes(name, here, context) {
    const left = name === "round" ? here : round(context);
    const side = name === "round" ? ROOMS.season(context) : here;
    (here === left ? side : left).element.removeAttribute("id");
    this.#open = [left, side];
    fill(this.main, left.element, h("div", { class: "side" }, side.element));
  }

  /** The phone's Back within a room that asks one question after another. */
  stepBack() {
    if (location.hash !== this.#at) return; // another room: that is shown by its address
    const { returns } = this.#trail.arrive();
    if (returns) for (const one of this.#open) one.stepBack?.();
  }

  #leave() {
    for (const one of this.#open) one.leave?.();
    this.#open = [];
    this.strip.element.classList.remove("over-acts");
  }

  /** A room that never came: only where no worker keeps the app and the server is away. */
  #notHere() {
    this.#leave();
    const words = "This part of the app has not come to this phone yet, and the server does not answer. What is written down is safe; try again near the server.";
    fill(this.main, h("main", { class: "page", id: "room" }, troubleBoard(words, () => this.show())));
    fill(this.foot, dock(readWay(location.hash).name));
  }

  #showJoined() {
    const wanted = this.shared.book.sharing.joined === false && readWay(location.hash).name !== "join";
    if (wanted !== this.outside.hasChildNodes()) fill(this.outside, wanted && barNote("Not joined.", "What you write stays here.", key("Join", () => this.shared.go("join"), { look: "slim" })));
  }

  /** @param {string} what has changed */
  refresh(what) {
    for (const one of this.#open) one.refresh?.(what);
    if (this.#waits && (this.shared.book.records.length || what === "sharing")) this.show();
    if (what === "sharing") this.#showJoined();
    if (what === "records") void this.#sayOncePainted();
  }

  /** What was ticked is shown first, and worked out after; of several changes the last is said. */
  async #sayOncePainted() {
    const mine = ++this.#changes;
    await this.shared.book.calm();
    if (mine === this.#changes) this.#sayHowMany();
  }

  #sayHowMany() {
    const { book, today } = this.shared;
    const words = `${book.jobs(today()).filter((/** @type {any} */ one) => one.state === "ready").length} jobs ready`;
    if (words !== this.live.textContent) this.live.textContent = words;
  }

  /** @param {KeyboardEvent} event */
  press(event) {
    const target = /** @type {HTMLElement} */ (event.target);
    if (target.matches?.("input, textarea, select") || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key.toLowerCase() === "j") this.shared.go("jot");
    if (event.key.toLowerCase() === "u") this.strip.undo();
  }
}

/** @type {Promise<void> | null} */
let styles = null;
let allCame = false;

/** Styles that the Round does not need. Where they do not come the rooms stand all the same. @returns {Promise<void>} */
function fetchStyles() {
  return new Promise((resolve) => {
    const come = () => resolve();
    document.head.append(h("link", { rel: "stylesheet", href: "/styles/later.css", onload: come, onerror: come }));
  });
}

/** All other rooms, while nobody waits: then they open at once, and with the server gone. False where they cannot come now. */
export async function fetchRooms() {
  try {
    styles ??= fetchStyles();
    const [{ ALL }] = await Promise.all([import("./rooms.js"), styles]);
    Object.assign(ROOMS, ALL);
    allCame = true;
  } catch (error) {
    console.error("the other rooms did not come", error);
  }
  return allCame;
}
