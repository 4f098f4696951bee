// @ts-check
/** Beginning the site: the phone's own place, or a named climate near it. Fills the form; writes nothing by itself. */
import { fill, h } from "../../../lib/dom.js";
import { line, soft } from "../../../ui/board.js";
import { key, keys } from "../../../ui/key.js";
import { fileKey, readAtServer } from "../../parts/file.js";

const PATIENCE_MS = 15_000;
const A_DAY_MS = 86_400_000;

/**
 * @typedef {{ask: (path: string) => Promise<any>, send: (path: string, file: Blob) => Promise<any>, put: (fields: Record<string, any>) => void,
 *   place: () => {lat: number, lon: number} | null}} Given place: what is typed, in degrees
 * @param {Given} given
 * @returns {HTMLElement}
 */
export function siteStart(given) {
  return new SiteStart(given).element;
}

class SiteStart {
  /** @param {Given} given */
  constructor(given) {
    this.given = given;
    this.said = h("p", { class: "soft note", role: "status" });
    this.list = h("div", { class: "board gap", hidden: true });
    this.element = h(
      "div",
      { class: "field" },
      keys("two", key("Where this phone is", () => this.#locate()), key("A climate like mine", () => void this.#offer())),
      fileKey("Months or days from a file", (file) => void this.#months(file, {})),
      this.said,
      this.list,
    );
  }

  /** @param {string} words @param {any[]} [lines] to choose from; none puts the list away */
  #say(words, lines = []) {
    this.said.textContent = words;
    this.list.hidden = !lines.length;
    fill(this.list, lines);
  }

  #locate() {
    if (!navigator.geolocation) {
      this.#say("This browser does not tell where it is. Type the latitude and longitude.");
      return;
    }
    this.#say("Asking this phone where it is.");
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        this.given.put({ lat: hundredths(coords.latitude), lon: hundredths(coords.longitude), tz: Intl.DateTimeFormat().resolvedOptions().timeZone });
        this.#say("Filled in below. Choose a climate near you for the months, or type your own.");
      },
      () => this.#say("The phone does not tell where it is. Type the latitude and longitude, or choose a climate."),
      { timeout: PATIENCE_MS, maximumAge: A_DAY_MS },
    );
  }

  async #offer() {
    const here = this.given.place();
    this.#say("");
    try {
      const near = here ? `?lat=${here.lat}&lon=${here.lon}` : "";
      const { climates } = await this.given.ask(`/api/climates${near}`);
      this.#say("", climates.map((/** @type {any} */ one) => line(() => this.#take(one), h("b", null, one.name), one.km !== null && soft(`${one.km} km`))));
    } catch {
      this.#say("The list of climates is on the server, which does not answer now. Type your own numbers, or try again there.");
    }
  }

  /** @param {any} climate */
  #take({ fields, name, source }) {
    const { lat, lon, tz, ...months } = fields;
    this.given.put(this.given.place() ? months : { lat, lon, tz, ...months });
    this.#say(`Months and frosts of ${name}. Your own frost dates are better if you know them. Source: ${source}.`);
  }

  /** @param {File} file @param {Record<string, string>} answers to questions of an earlier try */
  async #months(file, answers) {
    const { found, said } = await readAtServer(this.given.send, "/api/months", file, answers);
    const [question] = found?.questions || [];
    if (question) {
      this.#say(question.ask, question.choices.map((/** @type {string} */ one) => line(() => void this.#months(file, { ...answers, [question.id]: one }), h("b", null, one))));
      return;
    }
    if (found?.normals) this.given.put({ normals: found.normals });
    this.#say(found ? found.problem || "The twelve months are filled in below." : said);
  }
}

/** @param {number} degrees */
function hundredths(degrees) {
  return Math.round(degrees * 100) / 100;
}
