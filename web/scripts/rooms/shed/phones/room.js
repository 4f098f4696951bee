// @ts-check
/** The household's phones: who has joined, one more by a code, and turning one out. */
import { addDays } from "../../../lib/dates.js";
import { fill, h } from "../../../lib/dom.js";
import { troubleBoard } from "../../../ui/board.js";
import { top } from "../../../ui/top.js";
import { drawAlone, drawCode, drawGuestForm, drawMore, drawPhones } from "./draw.js";
import { seeCode, seeGuestPlaces, seePhones } from "./seen.js";

const LOOK_MS = 2000;
const GUEST_DAYS = 7;
const POST = { method: "POST", headers: { "content-type": "application/json" } };

/** @param {import("../../../types.js").Context} context */
export function room(context) {
  const phones = new Phones(context);
  const timer = setInterval(() => void phones.look(), LOOK_MS);
  phones.draw();
  void phones.load();
  return { element: phones.element, title: "Phones", leave: () => clearInterval(timer) };
}

class Phones {
  /** @type {import("./seen.js").Found | null} */
  #found = null;
  /** @type {import("./seen.js").Code | null} A code that is out. */
  #code = null;
  /** Whether phones can join this server at all. */
  #joining = true;
  #trouble = "";
  /** @type {{places: Set<string>, until: string} | null} */
  #inviting = null;
  /** The phone that may be turned out. */
  #asking = "";
  #drawn = false;

  /** @param {import("../../../types.js").Context} context */
  constructor(context) {
    this.context = context;
    this.element = h("main", { class: "page", id: "room" });
    /** @type {import("./draw.js").Does} */
    this.does = {
      newCode: () => void this.#newCode({}),
      answer: (id, name, yes) => void this.#answer(id, name, yes),
      ask: (id) => {
        this.#asking = id;
        this.draw();
      },
      turnOut: (id, name) => void this.#turnOut(id, name),
      invite: (inviting) => {
        this.#inviting = inviting ? { places: new Set(), until: addDays(context.today(), GUEST_DAYS) } : null;
        this.draw();
      },
      place: (id) => {
        if (!this.#inviting?.places.delete(id)) this.#inviting?.places.add(id);
        this.draw();
      },
      until: (day) => {
        if (this.#inviting) this.#inviting.until = day;
      },
      guestCode: () => this.#inviting && void this.#newCode({ guest: { places: [...this.#inviting.places], until: this.#inviting.until } }),
    };
  }

  async load() {
    const before = JSON.stringify([this.#found, this.#trouble]);
    this.#trouble = "";
    try {
      this.#joining = (await this.context.ask("/api/me")).joining;
      if (this.#joining) this.#found = await this.context.ask("/api/phones");
    } catch (/** @type {any} */ error) {
      this.#trouble = error.say || "The list of phones is on the server, which does not answer now.";
    }
    if (JSON.stringify([this.#found, this.#trouble]) !== before || !this.#drawn) this.draw();
  }

  /** While a code is out or somebody waits, it is looked whether they have come. */
  async look() {
    if (this.#code && this.context.now() > this.#code.until) this.#dropCode();
    if (!this.#found || (!this.#code && !this.#found.waiting.length)) return;
    const before = this.#found.phones.length;
    await this.load();
    if (this.#code && (this.#found.waiting.length || this.#found.phones.length > before)) this.#dropCode(); // it is used up
  }

  #dropCode() {
    this.#code = null;
    this.draw();
  }

  draw() {
    const { book, back, today, now, zone } = this.context;
    const given = { book, today: today(), now: now(), zone: zone() };
    const found = this.#joining ? this.#found : null;
    this.#drawn = this.#found !== null;
    fill(
      this.element,
      top(back, "Phones"),
      this.#trouble && troubleBoard(this.#trouble, () => void this.load()),
      !this.#joining && drawAlone(),
      found && drawPhones(seePhones(given, found), this.#asking, this.does),
      found && (this.#code ? drawCode(seeCode(given, this.#code)) : drawMore(this.#inviting !== null, this.does)),
      found && !this.#code && this.#inviting && drawGuestForm(seeGuestPlaces(given, this.#inviting.places), { until: this.#inviting.until, today: given.today }, this.does),
    );
  }

  /** @param {{guest?: {places: string[], until: string}}} invited */
  async #newCode(invited) {
    try {
      this.#code = await this.context.ask("/api/codes", { ...POST, body: JSON.stringify(invited) });
      this.#inviting = null;
    } catch (/** @type {any} */ error) {
      this.#trouble = error.say || "A code comes from the server, which does not answer now.";
    }
    this.draw();
  }

  /** Let in who waits, or not. @param {string} id @param {string} name @param {boolean} yes */
  async #answer(id, name, yes) {
    const { ask, toast } = this.context;
    try {
      await ask(`/api/waiting/${encodeURIComponent(id)}`, { ...POST, body: JSON.stringify({ let_in: yes }) });
      toast({ say: yes ? `${name} is let in.` : `${name} is not let in.` });
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "The server does not answer now; say it again in a moment." });
    }
    await this.load();
  }

  /** @param {string} id @param {string} name */
  async #turnOut(id, name) {
    const { ask, toast } = this.context;
    try {
      await ask(`/api/phones/${encodeURIComponent(id)}/turn-out`, { ...POST, body: "{}" });
    } catch (/** @type {any} */ error) {
      toast({ say: error.say || "The server does not answer now; nobody was turned out." });
      return;
    }
    this.#asking = "";
    toast({ say: `${name} is turned out. What it had not shared stays on it.` });
    await this.load();
  }
}
