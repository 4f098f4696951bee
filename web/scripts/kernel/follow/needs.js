// @ts-check
/** Needs: what a step takes for so many plants. */
import { litres } from "../read/words.js";

/** To a batch, with its first step. Source: common practice, one to each lot that is sown or planted. */
export const LABELS = { what: "labels", amount: 1, unit: "" };
/** Compost settles: 15 % over the pot's litres. */
const SETTLING_PER_MILLE = 1150;

/**
 * What, how much and in which unit; of what goes by plants nothing where nobody counts. `finishing`: litres of the pots they end in, if any. `stems`: of
 * each plant, where the household has decided.
 * @param {any} step
 * @param {number | null} count
 * @param {number | null} finishing
 * @param {number | null} stems
 */
export function needsOf(step, count, finishing, stems) {
  const asked = (step.needs || []).filter((/** @type {any} */ need) => count !== null || need.once);
  const needs = asked.map((/** @type {any} */ need) => ({
    what: need.what,
    amount: amountOf(need, count, stems),
    unit: need.unit || "",
  }));
  if (count === null) return needs;
  if (finishing !== null) {
    const tenths = Math.floor(finishing * 10 + 0.5);
    needs.push({ what: `${litres(finishing)}\u00a0L pots`, amount: count, unit: "" });
    needs.push({ what: "compost", amount: Math.ceil((count * tenths * SETTLING_PER_MILLE) / 10000), unit: "L" });
  }
  return needs;
}

/**
 * Whole units of a need for so many plants: it is told in tenths or, where these would round it up, in thousandths too, for every
 * so many plants, of so many stems; or once for all of them.
 * @param {any} need
 * @param {number | null} count
 * @param {number | null} stems
 */
function amountOf(need, count, stems) {
  if (count === null || need.once) return Math.ceil(need.each / 10);
  const fine = need.thousandths;
  let parts = (fine || need.each) * Math.ceil(count / (need.per || 1));
  if (need.stems && stems) parts = Math.ceil((parts * stems) / need.stems);
  return Math.ceil(parts / (fine ? 1000 : 10));
}
