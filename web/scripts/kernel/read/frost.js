// @ts-check
/** Frost: the first cold reading that harms a batch where it stands, as long as nobody has looked since. */
import { seasonAt } from "./days.js";

/**
 * @typedef {import("./batch-state.js").BatchState} BatchState
 * @typedef {import("./deeds.js").Deed} Deed
 * @typedef {import("./ground.js").Ground} Ground
 */

/** What is planted under the ground shows no sooner. */
const SHOOTS_UP_DAYS = 21;

/**
 * The day of the first reading at or under what frost harms a crop at, in the house where it is planted. What nobody has looked at
 * since counts alone. What comes again from below has nothing to lose before its shoots are up.
 * @param {BatchState} state
 * @param {Deed[]} cold in order
 * @param {Ground} ground
 * @returns {number | null}
 */
export function frostedOn(state, cold, ground) {
  const harmsC = state.know.frost_kills_c ?? null;
  if (harmsC === null || !cold.length || !state.moving.length || state.overOn !== null) return null;
  let since = state.first[state.finalStep];
  if (since === null) return null;
  if (state.know.frost_does === "cuts back") since += SHOOTS_UP_DAYS;
  if (state.survived !== null) since = Math.max(since, state.survived + 1);
  /** @type {Set<string>} */
  const houses = new Set();
  for (const cell of state.cells.values()) {
    const house = cell.step === state.finalStep && cell.count > 0 ? ground.house(cell.where) : null;
    if (house !== null) houses.add(house);
  }
  for (const deed of cold) {
    const house = ground.house(deed.place);
    const harms = /** @type {number} */ (deed.tmin) <= harmsC && deed.on >= since;
    if (harms && house !== null && houses.has(house) && bites(state, deed.on)) return deed.on;
  }
  return null;
}

/** Whether there is anything on it on a day that frost can harm. @param {BatchState} state @param {number} day @returns {boolean} */
function bites(state, day) {
  const season = state.know.frost_season ?? null;
  return season === null || seasonAt(season, day)[0] <= day;
}
