// @ts-check
/** The window: which room is shown, the dock below it, the strip for taking back, and the way back. */
import { fill, h, painted } from "./lib/dom.js";
import { room as round } from "./rooms/round/room.js";
import { readWay, wayTo } from "./shell/router.js";
import { dock } from "./ui/dock.js";

/** @type {Record<string, (context: any) => any>} */
const ROOMS = { round };
/** Rooms that are fetched once the first screen is painted, so that the Round opens sooner. */
const LATER = {
  job: () => import("./rooms/job/room.js"),
  "put-off": () => import("./rooms/job/put-off.js"),
  jot: () => import("./rooms/jot/room.js"),
  ground: () => import("./rooms/ground/room.js"),
  season: () => import("./rooms/season/room.js"),
  diary: () => import("./rooms/diary/room.js"),
  shed: () => import("./rooms/shed/room.js"),
  place: () => import("./rooms/ground/place.js"),
  batch: () => import("./rooms/ground/batch.js"),
  form: () => import("./rooms/ground/form.js"),
  deed: () => import("./rooms/diary/deed.js"),
  varieties: () => import("./rooms/shed/varieties.js"),
  plan: () => import("./rooms/ground/plan.js"),
  begin: () => import("./rooms/begin/room.js"),
  readings: () => import("./rooms/ground/readings.js"),
  year: () => import("./rooms/season/year.js"),
  successions: () => import("./rooms/season/successions.js"),
  crops: () => import("./rooms/shed/crops.js"),
  crop: () => import("./rooms/shed/crop.js"),
  join: () => import("./rooms/join/room.js"),
  guest: () => import("./rooms/join/guest.js"),
  photo: () => import("./rooms/diary/photo.js"),
  phones: () => import("./rooms/shed/phones.js"),
  "seed-list": () => import("./rooms/shed/seed-list.js"),
  "own-crop": () => import("./rooms/shed/own-crop.js"),
};
const DOCK_OF = /** @type {Record<string, string>} */ ({ job: "round", "put-off": "round", place: "ground", batch: "ground", form: "ground", deed: "diary", varieties: "shed", plan: "ground", begin: "round", readings: "ground", year: "season", successions: "season", crops: "shed", crop: "shed", "seed-list": "shed", phones: "shed", photo: "diary", join: "round", "own-crop": "shed" });
const GUEST_ROOMS = ["guest", "join"];
const WIDE = "(min-width: 1000px)";

/** Whether what opens is the Round by itself: the one room that can be drawn before the whole book is read. */
export function opensWithTheRound() {
  return readWay(location.hash).name === "round" && !matchMedia(WIDE).matches;
}

/**
 * @param {{app: HTMLElement, note: HTMLElement, strip: import("./ui/toast.js").UndoStrip, shared: any}} given app: where everything
 *   is drawn; note: what stands above all rooms; shared: what every room has to hand
 */
export function openWindow({ app, note, strip, shared }) {
  const { book, guest, go, today } = shared;
  const live = h("p", { class: "unseen", role: "status", "aria-live": "polite" });
  const main = h("div", { class: "panes" });
  const foot = h("div");
  /** @type {string[]} Where this window has been, for going back. */
  const trail = [];
  /** @type {any[]} */
  let open = [];
  let lastSettled = "";

  function show() {
    const at = location.hash;
    const way = guest && !GUEST_ROOMS.includes(readWay(at).name) ? { name: "guest", params: [] } : readWay(at);
    const wide = matchMedia(WIDE).matches;
    if (!book.isRead && way.name !== "round") {
      void book.whenRead.then(() => location.hash === at && show());
      return;
    }
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

  /** @param {string} what */
  function refresh(what) {
    for (const one of open) one.refresh?.(what);
    if (what === "sharing") showJoined();
    if (what === "records") void painted().then(sayHowMany); // what was ticked is shown first, and worked out after
  }

  function sayHowMany() {
    const ready = book.jobs(today()).filter((/** @type {any} */ one) => one.state === "ready").length;
    const words = `${ready} jobs ready`;
    if (words !== lastSettled) live.textContent = lastSettled = words;
  }

  /** @param {KeyboardEvent} event */
  function onKey(event) {
    const target = /** @type {HTMLElement} */ (event.target);
    if (target.matches?.("input, textarea, select") || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "j" || event.key === "J") go("jot");
    if (event.key === "u" || event.key === "U") strip.undo();
  }

  showJoined();
  fill(app, note, outside, main, foot, strip.element, live);
  show();
  window.addEventListener("hashchange", show);
  window.addEventListener("hashchange", showJoined);
  matchMedia(WIDE).addEventListener("change", show);
  document.addEventListener("keydown", onKey);
  book.subscribe(refresh);
  return { refresh };
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
export async function fetchRooms() {
  await Promise.all(Object.keys(LATER).map(fetchRoom));
}
