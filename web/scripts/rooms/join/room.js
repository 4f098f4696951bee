// @ts-check
/** Joining the household with a code: typed, or come with the address that a QR held. */
import { fill, h } from "../../lib/dom.js";

const LOOK_MS = 2000;

/** @param {any} context params: the code, if it came with the address */
export function room(context) {
  const { book, go, toast } = context;
  const element = h("main", { class: "page", id: "room" });
  const trouble = h("p", { class: "trouble", role: "alert" });
  trouble.hidden = true;
  const code = h("input", { type: "text", autocomplete: "one-time-code", autocapitalize: "characters", spellcheck: "false", maxlength: 20, value: context.params[0] || "", style: { "letter-spacing": "3px", "text-transform": "uppercase" } });
  const name = h("input", { type: "text", autocomplete: "off", maxlength: 60, value: phoneName() });
  const form = h("form", { novalidate: true, onsubmit: join }, h("label", { class: "field" }, h("span", null, "Code"), code), h("label", { class: "field" }, h("span", null, "What this phone is called"), name), trouble, h("button", { class: "key done", type: "submit" }, "Join"));
  let busy = false;
  /** @type {any} */
  let timer = 0;

  /** @param {Event} event */
  async function join(event) {
    event.preventDefault();
    if (busy) return;
    if (!code.value.trim()) {
      say("Type the code first. A phone that has joined makes one, in its Shed under Phones.");
      code.focus();
      return;
    }
    busy = true;
    trouble.hidden = true;
    let told;
    try {
      told = await context.ask("/api/join", { method: "POST", body: JSON.stringify({ code: code.value, name: name.value }), headers: { "content-type": "application/json" } });
    } catch (/** @type {any} */ error) {
      say(error.say || "The server does not answer. Join when it does; what is written here stays.");
      busy = false;
      return;
    }
    busy = false;
    history.replaceState(null, "", "#/join"); // the code is used up: it need not stand in the address
    if (told.device) await joined(told.device);
    else wait(told.name);
  }

  /** @param {any} device */
  async function joined(device) {
    clearInterval(timer);
    if (device.guest) {
      await context.becomeGuest({ id: device.id, ...device.guest });
      return;
    }
    if (context.guest) {
      await context.becomeGuest(null); // a phone of the household's own from now on
      return;
    }
    await context.shareNow();
    toast({ say: "Joined. The household's records come now." });
    if (element.isConnected) go("round"); // an answer that comes late never moves whoever has gone on
  }

  /** Until somebody says yes on a phone that has joined. @param {string} called */
  function wait(called) {
    if (!element.isConnected) return;
    const words = h("p", { role: "status" }, h("b", null, "Say yes on the other phone."), ` In its Shed, under Phones, it asks about “${called}”.`);
    fill(body, h("div", { class: "lab plain" }, h("div", { class: "in" }, h("div", { class: "sec" }, words, h("p", { class: "soft", style: { "margin-top": "8px" } }, "This page goes on by itself. What is written here stays in any case.")))));
    clearInterval(timer);
    timer = setInterval(() => void look(), LOOK_MS);
  }

  /** Opened anew while it waits, or after somebody said yes meanwhile. @param {any} me */
  function comeBack(me) {
    if (me.waiting) wait(me.waiting);
    else if (me.device && book.sharing.joined === false) void joined(me.device);
  }

  async function look() {
    if (busy) return;
    busy = true;
    const me = await context.ask("/api/me").catch(() => null); // no answer: it is asked again
    busy = false;
    if (!me || me.waiting) return;
    if (me.device) {
      await joined(me.device);
      return;
    }
    clearInterval(timer);
    code.value = "";
    fill(body, notes, form);
    say("This phone was not let in, or nobody said so in time. Ask for a new code.");
  }

  /** @param {string} words */
  function say(words) {
    trouble.hidden = false;
    trouble.textContent = words;
  }

  const notes = [
    h("p", { class: "soft note", style: { margin: "0 2px 12px" } }, "The code is on the server's screen when it starts, or in the Shed of a phone that has joined. It is good for ten minutes and for one phone."),
    book.sharing.kept > 0 && h("p", { class: "soft note", style: { margin: "0 2px 12px" } }, "What is kept on this phone is shared as soon as it has joined."),
  ];
  const body = h("div", null, notes, form);
  fill(element, h("header", { class: "head" }, h("h1", null, "Join the household")), body);
  void context.ask("/api/me").then(comeBack, () => {});
  return { element, title: "Join", leave: () => clearInterval(timer) };
}

/** A first guess, to be changed. */
function phoneName() {
  const agent = navigator.userAgent;
  const kind = ["iPhone", "iPad", "Android", "Windows", "Macintosh", "Linux"].find((word) => agent.includes(word));
  return { iPhone: "iPhone", iPad: "iPad", Android: "Android phone", Windows: "Windows computer", Macintosh: "Mac", Linux: "Linux computer" }[kind || ""] || "Phone";
}
