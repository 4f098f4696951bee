// @ts-check
/** The household's phones: who has joined, one more by a code, and turning one out. */
import { fill, h } from "../../lib/dom.js";
import { momentWords } from "../../lib/words.js";
import { glyph } from "../../ui/glyphs.js";
import { squares } from "../../ui/squares.js";
import { addDays, plainDay } from "../../lib/dates.js";
import { houses, personName } from "../../household/names.js";

const LOOK_MS = 2000;
const POST = { method: "POST", headers: { "content-type": "application/json" } };

/** @param {any} context */
export function room(context) {
  const { book, back, toast } = context;
  const element = h("main", { class: "page", id: "room" });
  /** @type {any} */
  let found = null;
  /** @type {any} */
  let code = null;
  let joining = true;
  let trouble = "";
  /** @type {{places: Set<string>, until: string} | null} */
  let inviting = null;
  /** @type {string} */
  let asking = "";
  let drawn = false;

  async function load() {
    const before = JSON.stringify([found, trouble]);
    trouble = "";
    try {
      joining = (await context.ask("/api/me")).joining;
      if (joining) found = await context.ask("/api/phones");
    } catch (/** @type {any} */ error) {
      trouble = error.say || "The list of phones is on the server, which does not answer now.";
    }
    if (JSON.stringify([found, trouble]) !== before || !drawn) draw();
  }

  /** While a code is out or somebody waits, it is looked whether they have come. */
  async function look() {
    if (code && context.now() > code.until) {
      code = null;
      draw();
    }
    if (!code && !found?.waiting.length) return;
    const before = found.phones.length;
    await load();
    if (code && (found.waiting.length || found.phones.length > before)) {
      code = null; // it is used up
      draw();
    }
  }

  /** @param {any} [invited] places and last day of a guest */
  async function newCode(invited) {
    try {
      code = await context.ask("/api/codes", { ...POST, body: JSON.stringify(invited ? { guest: invited } : {}) });
      inviting = null;
    } catch (/** @type {any} */ error) {
      trouble = error.say || "A code comes from the server, which does not answer now.";
    }
    draw();
  }

  /** @param {any} one who waits @param {boolean} yes */
  async function answer(one, yes) {
    try {
      await context.ask(`/api/waiting/${encodeURIComponent(one.id)}`, { ...POST, body: JSON.stringify({ let_in: yes }) });
      toast({ say: yes ? `${one.name} is let in.` : `${one.name} is not let in.` });
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "The server does not answer now; say it again in a moment." });
    }
    await load();
  }

  /** @param {any} phone */
  async function turnOut(phone) {
    try {
      await context.ask(`/api/phones/${encodeURIComponent(phone.id)}/turn-out`, { ...POST, body: "{}" });
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "The server does not answer now; nobody was turned out." });
      return;
    }
    asking = "";
    toast({ say: `${phone.name} is turned out. What it had not shared stays on it.` });
    await load();
  }

  function draw() {
    drawn = found !== null;
    fill(
      element,
      h("header", { class: "headrow" }, h("button", { class: "back", type: "button", "aria-label": "Back", onclick: () => back() }, glyph("back", 32)), h("h1", null, "Phones")),
      trouble && h("div", { class: "board empty" }, h("p", { role: "alert" }, trouble), h("button", { class: "key", type: "button", onclick: () => void load() }, "Try again")),
      !joining && h("div", { class: "board empty" }, h("p", null, "This server answers its own machine alone, so no phone can join. Start it with “mudproof serve” for the home network.")),
      found && joining && [
        found.waiting.map(question),
        h("div", { class: "board" }, found.phones.map(row), !found.phones.length && h("p", { class: "line soft" }, "No phone has joined yet.")),
        code ? invitation() : h("div", { class: "keys two" }, h("button", { class: "key solid", type: "button", onclick: () => void newCode() }, "One more phone"), h("button", { class: "key", type: "button", "aria-expanded": String(Boolean(inviting)), onclick: () => { inviting = inviting ? null : { places: new Set(), until: addDays(context.today(), 7) }; draw(); } }, "A guest")),
        inviting && !code && guestForm(inviting),
      ],
    );
  }

  /** @param {any} one who waits */
  function question(one) {
    const what = one.guest ? "It would be a guest." : "It would see and write everything, as this phone does.";
    return h(
      "section",
      { class: "lab plain", role: "alert", "aria-label": `${one.name} asks to join` },
      h("div", { class: "in" }, h("div", { class: "sec" }, h("p", null, h("b", null, one.name), " asks to join the household."), h("p", { class: "soft", style: { "margin-top": "4px" } }, `${what} Let it in only if you have it before you.`), h("div", { class: "keys two", style: { "margin-top": "10px" } }, h("button", { class: "key", type: "button", onclick: () => void answer(one, false) }, "Not this one"), h("button", { class: "key solid", type: "button", onclick: () => void answer(one, true) }, "Let it in")))),
    );
  }

  /** @param {any} phone */
  function row(phone) {
    const mine = phone.id === found.this;
    const words = [phone.guest ? `a guest until ${plainDay(phone.guest.until, context.today())}` : "", personName(book, phone.person), mine ? "this phone" : `last here ${momentWords(phone.seen, context.now(), context.zone())}`].filter(Boolean).join(", ");
    return [
      h("div", { class: "line" }, h("span", null, h("b", null, phone.name), h("br"), h("span", { class: "soft" }, words)), mine ? null : h("button", { class: "key slim", type: "button", "aria-label": `Turn out ${phone.name}`, onclick: () => { asking = asking === phone.id ? "" : phone.id; draw(); } }, "Turn out")),
      asking === phone.id && h("div", { class: "sec" }, h("p", null, `${phone.name} is shown nothing more from now on. What it had not shared yet stays on it, and comes when it joins again.`), h("div", { class: "keys two", style: { "margin-top": "8px" } }, h("button", { class: "key", type: "button", onclick: () => { asking = ""; draw(); } }, "Let it stay"), h("button", { class: "key solid", type: "button", onclick: () => void turnOut(phone) }, "Turn it out"))),
    ];
  }

  /** @param {{places: Set<string>, until: string}} asked */
  function guestForm(asked) {
    const until = h("input", { type: "date", value: asked.until, min: context.today(), onchange: () => (asked.until = until.value) });
    return h(
      "section",
      { "aria-label": "A guest" },
      h("p", { class: "soft note", style: { margin: "12px 2px 8px" } }, "While you are away: a guest sees the jobs of the places you choose, can tick them and write notes, and no more. It ends by itself."),
      h("div", { class: "keys two" }, houses(book).map((place) => h("button", { class: "key", type: "button", "aria-pressed": String(asked.places.has(place.id)), onclick: () => { if (!asked.places.delete(place.id)) asked.places.add(place.id); draw(); } }, place.fields.name || "?"))),
      h("label", { class: "field", style: { "margin-top": "12px" } }, h("span", null, "Last day"), until),
      h("button", { class: "key solid", type: "button", disabled: !asked.places.size, onclick: () => void newCode({ places: [...asked.places], until: asked.until }) }, "A code for the guest"),
    );
  }

  function invitation() {
    return h(
      "section",
      { class: "lab plain", "aria-label": "A code for one phone" },
      h("div", { class: "in" }, h("div", { class: "sec" }, h("p", { class: "soft" }, "On the new phone open"), h("p", null, h("b", null, code.address.split("/#")[0])), h("p", { class: "soft", style: { "margin-top": "8px" } }, "put it on the home screen, open it there, and type"), h("p", { class: "big", style: { "letter-spacing": "2px" } }, code.code), h("p", { class: "soft" }, `Good until ${momentWords(code.until, context.now(), context.zone())}, for one phone. Or hold its camera over this:`), h("div", { style: { "margin-top": "10px" } }, squares(code.squares, "The address and the code, for a camera")))),
    );
  }

  const timer = setInterval(() => void look(), LOOK_MS);
  draw();
  void load();
  return { element, title: "Phones", leave: () => clearInterval(timer) };
}
