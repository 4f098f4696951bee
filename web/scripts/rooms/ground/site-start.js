// @ts-check
/** Beginning the site: the phone's own place, or a named climate near it. Fills the form; writes nothing by itself. */
import { fill, h } from "../../lib/dom.js";
import { fileKey, readAtServer } from "../parts/file.js";

/**
 * @param {{ask: (path: string) => Promise<any>, send: (path: string, file: Blob) => Promise<any>, put: (fields: Record<string, any>) => void,
 *   place: () => {lat: number, lon: number} | null}} given
 * @returns {HTMLElement}
 */
export function siteStart({ ask, send, put, place }) {
  const said = h("p", { class: "soft note", role: "status" });
  const list = h("div", { class: "board", style: { "margin-top": "8px" } });
  list.hidden = true;

  function locate() {
    if (!navigator.geolocation) {
      said.textContent = "This browser does not tell where it is. Type the latitude and longitude.";
      return;
    }
    said.textContent = "Asking this phone where it is.";
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        put({ lat: round(coords.latitude), lon: round(coords.longitude), tz: Intl.DateTimeFormat().resolvedOptions().timeZone });
        said.textContent = "Filled in below. Choose a climate near you for the months, or type your own.";
      },
      () => (said.textContent = "The phone does not tell where it is. Type the latitude and longitude, or choose a climate."),
      { timeout: 15_000, maximumAge: 86_400_000 },
    );
  }

  async function choose() {
    said.textContent = "";
    const here = place();
    /** @type {any[]} */
    let climates;
    try {
      climates = (await ask(`/api/climates${here ? `?lat=${here.lat}&lon=${here.lon}` : ""}`)).climates;
    } catch {
      said.textContent = "The list of climates is on the server, which does not answer now. Type your own numbers, or try again there.";
      return;
    }
    fill(list, climates.map((climate) => h("button", { class: "line", type: "button", onclick: () => take(climate) }, h("b", null, climate.name), climate.km !== null && h("span", { class: "soft" }, `${climate.km} km`))));
    list.hidden = false;
  }

  /** @param {any} climate */
  function take(climate) {
    const here = place();
    const fields = { ...climate.fields };
    if (here) for (const name of ["lat", "lon", "tz"]) delete fields[name];
    put(fields);
    list.hidden = true;
    said.textContent = `Months and frosts of ${climate.name}. Your own frost dates are better if you know them. Source: ${climate.source}.`;
  }

  /** @param {File} file @param {Record<string, string>} answers */
  async function months(file, answers) {
    list.hidden = true;
    const { found, said: trouble } = await readAtServer(send, "/api/months", file, answers);
    if (!found) {
      said.textContent = trouble;
      return;
    }
    const [question] = found.questions;
    if (question) {
      said.textContent = question.ask;
      fill(list, question.choices.map((/** @type {string} */ one) => h("button", { class: "line", type: "button", onclick: () => void months(file, { ...answers, [question.id]: one }) }, h("b", null, one))));
      list.hidden = false;
      return;
    }
    if (found.normals) put({ normals: found.normals });
    said.textContent = found.problem || "The twelve months are filled in below.";
  }

  return h(
    "div",
    { class: "field" },
    h("div", { class: "keys two" }, h("button", { class: "key", type: "button", onclick: locate }, "Where this phone is"), h("button", { class: "key", type: "button", onclick: () => void choose() }, "A climate like mine")),
    fileKey("Months or days from a file", (file) => void months(file, {})),
    said,
    list,
  );
}

/** @param {number} degrees */
function round(degrees) {
  return Math.round(degrees * 100) / 100;
}
