// @ts-check
/** The first question: where. Named climates by what was typed and by nearness, and the site that one makes. Pure. */
import { readNumber } from "../../lib/amounts.js";
import { dayOfYear } from "../../lib/dates.js";
import { holds } from "../../lib/finding.js";
import { counted } from "../../lib/words.js";

/**
 * @typedef {{lat: number, lon: number}} Spot degrees
 * @typedef {{name: string, source: string, fields: Record<string, any> & Spot & {tz: string}}} Climate as the server tells it
 */

const EARTH_KM = 6371;
const NEAR = 6;
/** Parts of the world as they stand before the slash of a time zone's name (IANA). */
const PARTS = new Map([["Europe", "Europe"], ["America", "America"], ["Australia", "Australia"], ["Pacific", "New Zealand and the Pacific"], ["Africa", "Africa"], ["Asia", "Asia"]]);

/** Great-circle distance, by haversines. [km] @param {Spot} a @param {Spot} b */
function kmBetween(a, b) {
  const radians = (/** @type {number} */ degrees) => (degrees * Math.PI) / 180;
  const half = Math.sin(radians(b.lat - a.lat) / 2) ** 2 + Math.cos(radians(a.lat)) * Math.cos(radians(b.lat)) * Math.sin(radians(b.lon - a.lon) / 2) ** 2;
  return 2 * EARTH_KM * Math.asin(Math.sqrt(Math.min(1, half)));
}

/** Climates with their distance, the nearest first. @param {Climate[]} climates @param {Spot} here */
export function nearestTo(climates, here) {
  return climates.map((climate) => ({ climate, km: Math.round(kmBetween(here, climate.fields)) })).sort((a, b) => a.km - b.km);
}

/**
 * Names to choose from: what was typed; else those of this phone's own time, then all by parts of the world.
 * @param {Climate[]} climates
 * @param {{asked: string, zone: string}} given zone: the phone's time zone
 * @returns {{title: string, names: string[]}[]}
 */
export function seeNames(climates, { asked, zone }) {
  const sorted = [...climates].sort((a, b) => a.name.localeCompare(b.name));
  if (asked) return [{ title: "", names: sorted.filter(({ name }) => holds(name, asked)).map(({ name }) => name) }].filter(({ names }) => names.length);
  const own = sorted.filter(({ fields }) => fields.tz === zone).slice(0, NEAR);
  const parts = [...PARTS].map(([part, title]) => ({ title, names: sorted.filter(({ fields }) => fields.tz.startsWith(`${part}/`)).map(({ name }) => name) }));
  return [{ title: "By this phone's time", names: own.map(({ name }) => name) }, ...parts].filter(({ names }) => names.length);
}

/**
 * The site: a spot with the nights, heat and frosts of a climate.
 * @param {Climate} climate
 * @param {Spot | null} here where the phone is, or what was typed; null: where the climate was read
 * @param {string} zone the phone's time zone
 */
export function siteFrom(climate, here, zone) {
  return { ...climate.fields, ...(here ? { ...here, tz: zone || climate.fields.tz } : {}) };
}

/**
 * What was assumed of a site, each to be changed.
 * @param {Record<string, any>} site
 * @param {Climate[]} climates
 * @returns {{name: string, says: string}[]}
 */
export function seeAssumed(site, climates) {
  const normals = JSON.stringify(site.normals);
  const like = climates.find(({ fields }) => JSON.stringify(fields.normals) === normals);
  const nights = site.normals ? (like ? `as in: ${like.name}. Source: ${like.source}` : "months of your own") : "as of a lowland garden at 53° north";
  return [
    { name: "Nights and heat of the months", says: nights },
    { name: "Last frost", says: site.last_frost ? dayOfYear(site.last_frost) : "by the months" },
    { name: "First frost", says: site.first_frost ? dayOfYear(site.first_frost) : "by the months" },
    { name: "Light", says: typeof site.lat !== "number" || typeof site.lon !== "number" ? "as at 53° north" : `as at ${Math.abs(site.lat)}° ${site.lat < 0 ? "south" : "north"}, ${Math.abs(site.lon)}° ${site.lon < 0 ? "west" : "east"}` },
    { name: "Time", says: site.tz || "this phone's" },
  ];
}

/** A spot that was typed; or why it is none. @param {string} lat @param {string} lon @returns {{spot?: Spot, wrong?: string}} */
export function readSpot(lat, lon) {
  const [north, east] = [lat, lon].map((text) => readNumber(text).value ?? NaN);
  return Math.abs(north) <= 66 && Math.abs(east) <= 180 ? { spot: { lat: north, lon: east } } : { wrong: "Give degrees north from -66 to 66 and degrees east from -180 to 180, such as 53.2 and -1.4." };
}

/** How far off the climate is, where that is worth saying. @param {number} km */
export function kmWords(km) {
  return km > 300 ? `It is ${counted(km, "km", "km")} off: your own frost dates are better.` : "";
}
