// @ts-check
/** Seed order: what the plan is going to sow and the tin does not hold. */
import { comingUp, seedsFor, sowingDay } from "./coming-up.js";
import { letSlip } from "./lay-out.js";
import { tinOf } from "./tin.js";

/** @typedef {import("./knowledge.js").Knowledge} Knowledge */

/** Sowings of the year to come. */
const AHEAD_DAYS = 366;

/**
 * Seeds that are lacking, by variety in order of id; all that are needed where nobody counted the tin.
 * @param {Knowledge} know
 * @returns {{what: string, amount: number, unit: string}[]}
 */
export function seedsShort(know) {
  /** @type {Map<string, {name: string, wanted: number}>} */
  const short = new Map();
  for (const state of know.states.values()) {
    const variety = state.fields.variety ?? null;
    const first = state.steps[0];
    if (state.begun || state.overOn !== null || !first || variety === null || letSlip(state, know)) continue;
    if (first.verb !== "sow" || !state.path.comesUp || state.want === null) continue;
    const day = sowingDay(state, 0, know);
    if (day > know.today + AHEAD_DAYS) continue;
    const place = first.where === "final" ? state.final : know.raising || state.final;
    const seeds = seedsFor(comingUp(state, place, day, know).pct, state.want, know) || 0;
    short.set(variety, { name: state.varietyName, wanted: (short.get(variety)?.wanted ?? 0) + seeds });
  }
  const tin = tinOf(know);
  return [...short]
    .sort((a, b) => (a[0] < b[0] ? -1 : 1))
    .map(([id, { name, wanted }]) => ({ what: name, amount: wanted - (tin.get(id) ?? 0), unit: "seeds" }))
    .filter(({ amount }) => amount > 0);
}
