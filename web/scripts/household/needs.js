// @ts-check
/** What jobs need, summed up and in words. Pure. */
import { counted, kept, weightWords } from "../lib/words.js";

/** @typedef {{what: string, amount: number, unit: string}} Need */

/** What several jobs need together, in the order in which it is first needed. @param {{needs: Need[]}[]} jobs @returns {Need[]} */
export function sumOfNeeds(jobs) {
  /** @type {Map<string, Need>} */
  const sums = new Map();
  for (const need of jobs.flatMap((job) => job.needs)) {
    const name = `${need.what} ${need.unit}`;
    sums.set(name, { ...need, amount: need.amount + (sums.get(name)?.amount ?? 0) });
  }
  return [...sums.values()].filter(({ amount }) => amount > 0);
}

/** `14 strings`, `compost 28 L`, `6 × 0.3 L pots`. @param {Need} need */
export function needWords({ what, amount, unit }) {
  if (unit === "g") return `${what} ${weightWords(amount)}`;
  if (unit) return `${what} ${amount}\u00a0${unit}`;
  return /^\d/.test(what) ? `${amount} × ${kept(what)}` : counted(amount, what, what);
}
