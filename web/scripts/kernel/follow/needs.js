// @ts-check
/** Needs: what a step takes for so many plants. */
import { litres } from "../read/words.js";

/** Compost settles: 15 % over the pot's litres. */
const SETTLING_PER_MILLE = 1150;

/**
 * What, how much and in which unit; nothing where nobody counts. `finishing`: litres of the pots they end in, if any.
 * @param {any} step
 * @param {number | null} count
 * @param {number | null} finishing
 */
export function needsOf(step, count, finishing) {
  if (count === null) return [];
  const needs = (step.needs || []).map((/** @type {any} */ need) => ({
    what: need.what,
    amount: Math.ceil((need.each * count) / 10),
    unit: need.unit || "",
  }));
  if (finishing !== null) {
    const tenths = Math.floor(finishing * 10 + 0.5);
    needs.push({ what: `${litres(finishing)} L pots`, amount: count, unit: "" });
    needs.push({ what: "compost", amount: Math.ceil((count * tenths * SETTLING_PER_MILLE) / 10000), unit: "L" });
  }
  return needs;
}
