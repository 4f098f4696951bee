// @ts-check
/** The Shed: sharing, who is who, how it is seen, and keeping a copy. */
import { fill, h } from "../../lib/dom.js";
import { bringBack, saveCopy } from "./copy.js";
import { drawHead, drawHousehold, drawKept, drawOpening, drawPhone, drawRefused, drawSharing } from "./draw.js";
import { homeScreenWords, offlineWords, roomWords, seeHousehold, seeRefused, seeSharing } from "./seen.js";

/** @param {import("../../types.js").Context} context */
export function room(context) {
  const shed = new Shed(context);
  shed.draw();
  void shed.refresh().then(() => shed.measure());
  return { element: shed.element, title: "Shed", refresh: () => void shed.refresh() };
}

class Shed {
  /** @type {import("./seen.js").Refused[]} */
  #refused = [];
  /** @type {string | null} What was said of a copy last. */
  #said = null;
  #space = "";

  /** @param {import("../../types.js").Context} context */
  constructor(context) {
    const { go, setPerson, setSetting } = context;
    this.context = context;
    this.element = h("main", { class: "page", id: "room" });
    /** @type {import("./draw.js").Does} */
    this.does = {
      open: go,
      holds: (person) => void setPerson(person).then(() => this.draw()),
      set: (name, value) => {
        setSetting(name, value);
        this.draw();
      },
      share: (key) => void this.#share(key),
      saveCopy: () => void this.#tell(saveCopy(context)),
      bringBack: (file) => void this.#tell(bringBack(context, file)),
      change: (refused) => void this.#change(refused),
      drop: (refused) => void this.#drop(refused).then(() => this.refresh()),
    };
  }

  async refresh() {
    this.#refused = await this.context.book.store.refused();
    this.draw();
  }

  draw() {
    const { book, settings, version, now, zone, person } = this.context;
    const household = seeHousehold(book, person());
    const onHomeScreen = matchMedia("(display-mode: standalone)").matches;
    fill(
      this.element,
      drawHead(household.words),
      drawSharing(seeSharing(book.sharing, { now: now(), zone: zone() }), this.does),
      drawRefused(this.#refused.map((one) => seeRefused(book, one)), this.does),
      drawPhone(household, settings, this.does),
      drawKept(this.#said, this.#space, this.does),
      drawHousehold(household, this.does),
      drawOpening({ offline: offlineWords(settings.offlineOpening), homeScreen: homeScreenWords(onHomeScreen), version }),
    );
  }

  /** Ask the browser how much room there is. */
  async measure() {
    this.#space = roomWords(await navigator.storage?.estimate?.(), await navigator.storage?.persisted?.());
    this.draw();
  }

  /** @param {HTMLElement} key */
  async #share(key) {
    key.textContent = "Sharing…";
    await this.context.shareNow();
    await this.refresh();
  }

  /** @param {Promise<string | null>} saying */
  async #tell(saying) {
    this.#said = (await saying) ?? this.#said;
    this.draw();
  }

  /** @param {import("./draw.js").Refused} refused */
  async #change(refused) {
    const { go } = this.context;
    if (refused.kind === "diary") go("deed", refused.id);
    else go("form", refused.kind, refused.id);
    await this.context.book.store.dropRefused(refused.key, true); // its words stand in the form, to be mended
    await this.context.book.countKept();
  }

  /** @param {import("./draw.js").Refused} refused */
  async #drop({ key }) {
    const { book, shareSoon } = this.context;
    await book.store.dropRefused(key);
    await book.reload();
    shareSoon();
  }
}
