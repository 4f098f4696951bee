// @ts-check
/** Joining the household with a code: typed, or come with the address that a QR held. */
import { fill, h } from "../../lib/dom.js";
import { troubleLine } from "../../ui/board.js";
import { drawForm, drawHead, drawNotes, drawWaiting, joinFields } from "./draw.js";
import { KEEPS_NOTHING, notesOf, phoneName } from "./seen.js";

const LOOK_MS = 2000;

/** @param {import("../../types.js").Context} context params: the code, if it came with the address */
export function room(context) {
  const joining = new Joining(context);
  void context.ask("/api/me").then((me) => joining.comeBack(me), () => {});
  return { element: joining.element, title: "Join", leave: () => clearInterval(joining.timer) };
}

class Joining {
  /** @type {any} */
  timer = 0;
  #busy = false;

  /** @param {import("../../types.js").Context} context */
  constructor(context) {
    this.context = context;
    this.fields = joinFields({ code: context.params[0] || "", name: phoneName(navigator.userAgent) });
    this.trouble = troubleLine();
    const submit = (/** @type {Event} */ event) => {
      event.preventDefault();
      void this.#join();
    };
    this.form = drawForm(this.fields, this.trouble.element, submit);
    this.body = h("div", null, context.book.sharing.keeps ? [drawNotes(notesOf(context.book.sharing)), this.form] : drawNotes([KEEPS_NOTHING]));
    this.element = h("main", { class: "page", id: "room" }, drawHead(), this.body);
  }

  async #join() {
    if (this.#busy) return;
    const { code, name } = this.fields;
    if (!code.value.trim()) {
      this.trouble.say("Type the code first. A phone that has joined makes one, in its Shed under Phones.");
      code.focus();
      return;
    }
    this.trouble.clear();
    const told = await this.#alone(() => this.context.ask("/api/join", { method: "POST", body: JSON.stringify({ code: code.value, name: name.value }), headers: { "content-type": "application/json" } }));
    if (!told) return;
    history.replaceState(null, "", "#/join"); // the code is used up: it need not stand in the address
    if (told.device) await this.#joined(told.device);
    else this.#wait(told.name);
  }

  /** One question at a time; what is wrong is said. @param {() => Promise<any>} ask */
  async #alone(ask) {
    this.#busy = true;
    try {
      return await ask();
    } catch (/** @type {any} */ error) {
      this.trouble.say(error.say || "The server does not answer. Join when it does; what is written here stays.");
      return null;
    } finally {
      this.#busy = false;
    }
  }

  /** @param {any} device */
  async #joined(device) {
    const { guest, becomeGuest, shareNow, toast, go } = this.context;
    clearInterval(this.timer);
    if (device.guest) {
      await becomeGuest({ id: device.id, ...device.guest });
      return;
    }
    if (guest) {
      await becomeGuest(null); // a phone of the household's own from now on
      return;
    }
    await shareNow();
    toast({ say: "Joined. The household's records come now." });
    if (this.element.isConnected) go("round"); // an answer that comes late never moves whoever has gone on
  }

  /** Until somebody says yes on a phone that has joined. @param {string} called */
  #wait(called) {
    if (!this.element.isConnected) return;
    fill(this.body, drawWaiting(called));
    clearInterval(this.timer);
    this.timer = setInterval(() => void this.#look(), LOOK_MS);
  }

  /** Opened anew while it waits, or after somebody said yes meanwhile. @param {any} me */
  comeBack(me) {
    if (me.waiting) this.#wait(me.waiting);
    else if (me.device && this.context.book.sharing.joined === false) void this.#joined(me.device);
  }

  async #look() {
    if (this.#busy) return;
    const me = await this.#alone(() => this.context.ask("/api/me").catch(() => null)); // no answer: it is asked again
    if (!me || me.waiting) return;
    if (me.device) {
      await this.#joined(me.device);
      return;
    }
    clearInterval(this.timer);
    this.fields.code.value = "";
    fill(this.body, drawNotes(notesOf(this.context.book.sharing)), this.form);
    this.trouble.say("This phone was not let in, or nobody said so in time. Ask for a new code.");
  }
}
