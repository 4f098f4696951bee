// @ts-check
/** Beginning the site: the phone's own place, or a named climate near it. Fills the form; writes nothing by itself. */
import { fill, h } from "../lib/dom.js";

const EARTH_KM = 6371;

/**
 * @param {{ask: (path: string) => Promise<any>, put: (fields: Record<string, any>) => void,
 *   place: () => {lat: number, lon: number} | null}} given
 * @returns {HTMLElement}
 */
export function siteStart({ ask, put, place }) {
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
    /** @type {any[]} */
    let climates;
    try {
      climates = (await ask("/api/climates")).climates;
    } catch {
      said.textContent = "The list of climates is on the server, which does not answer now. Type your own numbers, or try again there.";
      return;
    }
    const here = place();
    const sorted = climates.map((climate) => ({ climate, far: here ? distanceKm(here, climate.fields) : 0 })).sort((a, b) => a.far - b.far || (a.climate.name < b.climate.name ? -1 : 1));
    fill(list, sorted.map(({ climate, far }) => h("button", { class: "line", type: "button", onclick: () => take(climate) }, h("b", null, climate.name), h("span", { class: "soft" }, here ? `${Math.round(far)} km` : ""))));
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

  return h(
    "div",
    { class: "field" },
    h("div", { class: "keys two" }, h("button", { class: "key", type: "button", onclick: locate }, "Where this phone is"), h("button", { class: "key", type: "button", onclick: () => void choose() }, "A climate like mine")),
    said,
    list,
  );
}

/** @param {number} degrees */
function round(degrees) {
  return Math.round(degrees * 100) / 100;
}

/** Haversine distance on a sphere. [km] @param {{lat: number, lon: number}} a @param {{lat: number, lon: number}} b */
function distanceKm(a, b) {
  const rad = (/** @type {number} */ degrees) => (degrees * Math.PI) / 180;
  const half = Math.sin(rad(b.lat - a.lat) / 2) ** 2 + Math.cos(rad(a.lat)) * Math.cos(rad(b.lat)) * Math.sin(rad(b.lon - a.lon) / 2) ** 2;
  return 2 * EARTH_KM * Math.asin(Math.sqrt(Math.min(1, half)));
}
