// @ts-check
/** The Shed: sharing, who is who, how it is seen, and keeping a copy. */
import { fill, h } from "../../lib/dom.js";
import { counted, kept, momentWords, sharingWords } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { deedWords } from "../../household/diary-lines.js";
import { frostWords } from "../../household/names.js";

/** @param {any} context */
export function room(context) {
  const { book, go, settings } = context;
  const element = h("main", { class: "page", id: "room" });
  /** @type {any[]} */
  let refused = [];
  /** @type {string | null} */
  let said = null;
  let space = "";

  async function refresh() {
    refused = await book.store.refused();
    draw();
  }

  function draw() {
    const site = book.fields("site");
    const people = book.ofKind("person");
    fill(
      element,
      h("header", { class: "head" }, h("h1", null, "Shed"), h("p", { class: "soft note" }, [site.name, people.map((/** @type {any} */ one) => one.fields.name).join(", ")].filter(Boolean).join(": ") || "a household that has not said its name")),
      sharingLabel(),
      refused.length > 0 && [h("h2", { class: "h" }, "Not taken by the server"), h("div", { class: "board" }, refused.map(refusedRow))],
      h("h2", { class: "h" }, "Who holds this phone"),
      h("div", { class: "keys" }, people.map((/** @type {any} */ one) => h("button", { class: "key", type: "button", "aria-pressed": String(context.person() === one.id), onclick: () => void context.setPerson(one.id).then(draw) }, one.fields.name || "?")), h("button", { class: "key", type: "button", onclick: () => go("form", "person", "new") }, people.length ? "Add a name" : "Put down a name")),
      h("h2", { class: "h" }, "To see by"),
      h("div", { class: "keys three" }, [["day", "Day"], ["sun", "Bright sun"], ["dusk", "Dusk"]].map(([scheme, word]) => h("button", { class: `key see-${scheme}`, type: "button", "aria-pressed": String(settings.scheme === scheme), onclick: () => { context.setSetting("scheme", scheme); draw(); } }, word))),
      h("h2", { class: "h" }, "Tick and Jot under"),
      h("div", { class: "keys two" }, [["left", "left thumb"], ["right", "right thumb"]].map(([hand, word]) => h("button", { class: "key", type: "button", "aria-pressed": String(settings.hand === hand), onclick: () => { context.setSetting("hand", hand); draw(); } }, word))),
      h("h2", { class: "h" }, "Kept safe"),
      h(
        "div",
        { class: "board" },
        h("button", { class: "line", type: "button", onclick: () => void saveCopy() }, h("span", null, h("b", null, "Save a copy"), h("br"), h("span", { class: "soft" }, "everything this phone holds, as one file; needs no server")), glyph("forward", 26)),
        h("label", { class: "line" }, h("span", null, h("b", null, "Bring a copy back"), h("br"), h("span", { class: "soft" }, "adds what is missing here, takes nothing away")), h("input", { type: "file", accept: "application/json,.json", class: "unseen", onchange: (/** @type {any} */ event) => void bringBack(event) }), glyph("forward", 26)),
        said && h("p", { class: "line", role: "status" }, said),
        h("p", { class: "line soft" }, space || "Asking the phone how much room there is."),
      ),
      h("h2", { class: "h" }, "This household"),
      h(
        "div",
        { class: "board" },
        h("button", { class: "line", type: "button", onclick: () => go("form", "site", "site") }, h("span", null, h("b", null, "Where you are"), h("br"), h("span", { class: "soft" }, frostWords(site) || "not said: a lowland site at 53° north stands in")), glyph("forward", 26)),
        h("button", { class: "line", type: "button", onclick: () => go("varieties") }, h("b", null, "Varieties"), h("span", { class: "soft" }, book.ofKind("variety").length)),
        h("button", { class: "line", type: "button", onclick: () => go("phones") }, h("span", null, h("b", null, "Phones"), h("br"), h("span", { class: "soft" }, "who has joined, and one more")), glyph("forward", 26)),
        h("button", { class: "line", type: "button", onclick: () => go("crops") }, h("span", null, h("b", null, "Crops"), h("br"), h("span", { class: "soft" }, "their numbers, and your own way with them")), glyph("forward", 26)),
        Object.values(book.rulebook.left_out || {}).map((/** @type {string} */ words) => h("p", { class: "line soft" }, words)),
      ),
      h("h2", { class: "h" }, "Opening with no signal"),
      h("div", { class: "board" }, h("p", { class: "line" }, offlineWords()), h("p", { class: "line soft" }, homeScreenWords())),
      h("p", { class: "soft note", style: { margin: "14px 2px" } }, "What the list says is a help, not an order. For sprays the label and local rules hold, for wiring and water a licensed person, for what may be eaten your own good sense."),
      h("p", { class: "soft note", style: { margin: "0 2px 14px" } }, `Mudproof, version ${context.version}.`),
    );
  }

  function sharingLabel() {
    const sharing = book.sharing;
    const now = context.now();
    const lines = [
      sharing.oldest ? `The oldest is from ${momentWords(sharing.oldest, now, context.zone())}. They keep as long as they need to.` : "",
      sharing.lastShared && (sharing.kept || sharing.reachable === false) ? `All was last shared ${momentWords(sharing.lastShared, now, context.zone())}.` : sharing.lastShared ? "" : "Nothing has been shared from this phone yet.",
      sharing.reachable === false ? "The server is not to be reached just now; the list works all the same." : "",
      sharing.problem || "",
      Math.abs(sharing.clockAheadMs) > 5 * 60_000 ? clockWords(sharing.clockAheadMs) : "",
    ].filter(Boolean);
    return h(
      "div",
      { class: "lab plain" },
      h(
        "div",
        { class: "in" },
        h("div", { class: "sec" }, h("p", { style: { "font-size": "var(--t-title)", "line-height": "1.2" } }, h("b", null, sharingWords(sharing, now, context.zone()))), lines.map((line) => h("p", { class: "soft", style: { "margin-top": "4px" } }, line)), h("button", { class: "key", type: "button", style: { "margin-top": "12px" }, onclick: (/** @type {any} */ event) => void shareNow(event.currentTarget) }, "Share now")),
      ),
    );
  }

  /** @param {HTMLButtonElement} key */
  async function shareNow(key) {
    key.textContent = "Sharing…";
    await context.shareNow();
    await refresh();
  }

  /** @param {any} one */
  function refusedRow(one) {
    const [verb, what] = one.change.kind === "diary" ? deedWords(book, one.change.fields) : [one.change.kind, one.change.fields.name || one.change.fields.title || ""];
    return h(
      "div",
      { class: "entry" },
      h("b", null, verb),
      ` ${kept(what)}`,
      h("span", { class: "soft" }, one.why),
      one.change.fields.note && h("span", { class: "quote" }, `“${one.change.fields.note}”`),
      h("div", { class: "keys two", style: { "margin-top": "8px" } }, h("button", { class: "key slim", type: "button", onclick: () => void changeRefused(one) }, "Change it"), h("button", { class: "key slim", type: "button", onclick: () => void book.store.dropRefused(one.key).then(() => book.countKept()).then(refresh) }, "Throw away")),
    );
  }

  /** @param {any} one */
  async function changeRefused(one) {
    if (one.change.kind === "diary") go("deed", one.change.id);
    else go("form", one.change.kind, one.change.id);
    await book.store.dropRefused(one.key);
    await book.countKept();
  }

  async function saveCopy() {
    const records = await book.store.all();
    const copy = { mudproof: 1, saved: new Date(context.now()).toISOString(), records };
    const name = `mudproof-${context.today()}.json`;
    const file = new File([JSON.stringify(copy)], name, { type: "application/json" });
    if (navigator.canShare?.({ files: [file] }) && matchMedia("(pointer: coarse)").matches) {
      try {
        await navigator.share({ files: [file], title: name });
        return;
      } catch (/** @type {any} */ error) {
        if (error.name === "AbortError") return;
      }
    }
    const url = URL.createObjectURL(file);
    const link = h("a", { href: url, download: name });
    link.click();
    setTimeout(() => URL.revokeObjectURL(url), 10_000);
    said = `Saved ${counted(records.length, "record")} as ${name}.`;
    draw();
  }

  /** @param {any} event */
  async function bringBack(event) {
    const file = event.target.files?.[0];
    if (!file) return;
    try {
      const copy = JSON.parse(await file.text());
      if (copy?.mudproof !== 1 || !Array.isArray(copy.records)) throw new Error("not a copy");
      const sound = copy.records.filter((/** @type {any} */ one) => one && typeof one.id === "string" && typeof one.kind === "string" && typeof one.stamp === "string" && one.fields && typeof one.fields === "object");
      const merged = await book.store.bringIn(sound);
      book.take(merged);
      await book.countKept();
      said = `${counted(merged.length, "record")} came in, ${sound.length - merged.length} were here already${sound.length < copy.records.length ? `, ${copy.records.length - sound.length} could not be read` : ""}.`;
      context.shareSoon();
    } catch (/** @type {any} */ error) {
      said = error.say || "That file is not a copy of Mudproof. Choose the file that Save a copy made.";
    }
    draw();
  }

  function offlineWords() {
    const state = settings.offlineOpening;
    if (state === "yes") return "This phone opens Mudproof with no signal and no server, and keeps what you write until it meets the server again.";
    if (state === "soon") return "Getting ready to open with no signal: this takes a moment on the first visit.";
    return "This page works while it stays open, with or without signal, and keeps what you write. To open it with no signal it must come over https; over plain http the browser does not allow that.";
  }

  function homeScreenWords() {
    if (matchMedia("(display-mode: standalone)").matches) return "It is opened from the home screen, where a phone keeps it longest.";
    return "Put Mudproof on the home screen and open it there: what belongs to any other page a browser clears away sooner.";
  }

  async function measureRoom() {
    const estimate = await navigator.storage?.estimate?.();
    const persisted = await navigator.storage?.persisted?.();
    if (!estimate?.quota) {
      space = "This browser does not say how much room there is.";
    } else {
      space = `${bytesWords(estimate.usage || 0)} used of ${bytesWords(estimate.quota)}. ${persisted ? "The browser keeps it for good." : "The browser may clear it if the phone runs short: share, or save a copy."}`;
    }
    draw();
  }

  draw();
  void refresh().then(measureRoom);
  return { element, title: "Shed", refresh: () => void refresh() };
}

/** `12 MB`, `10.7 GB`. @param {number} bytes */
function bytesWords(bytes) {
  return bytes < 1e9 ? `${Math.max(1, Math.round(bytes / 1e6))}\u00a0MB` : `${(bytes / 1e9).toFixed(1)}\u00a0GB`;
}

/** @param {number} ahead */
function clockWords(ahead) {
  const minutes = Math.round(Math.abs(ahead) / 60_000);
  const size = minutes < 120 ? `${minutes} min` : minutes < 2880 ? `${Math.round(minutes / 60)} h` : minutes < 900_000 ? `${Math.round(minutes / 1440)} days` : `${Math.round(minutes / 525_600)} years`;
  return `This phone's clock is ${size} ${ahead > 0 ? "fast" : "slow"}. What you write is kept in the right order all the same.`;
}
