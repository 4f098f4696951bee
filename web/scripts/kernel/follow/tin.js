// @ts-check
/** Tin: the seeds in hand, as they were counted and less what was sown since. */

const SOW = "sow";

/**
 * Seeds left of every variety somebody counted, in order of id; never below nought. A count without a day stands as it was
 * told. On the day of the count itself, what was told after it was sown after it.
 * @param {import("./knowledge.js").Knowledge} know
 * @returns {Map<string, number>}
 */
export function tinOf(know) {
  const { counted } = know.reading;
  const left = new Map([...counted].map(([id, { seeds }]) => [id, seeds]));
  for (const state of know.states.values()) {
    const one = counted.get(state.fields.variety ?? "");
    if (!one || one.on === null) continue;
    for (const { deed } of state.deeds) {
      const later = deed.on > one.on || (deed.on === one.on && deed.stamp > one.stamp);
      if (deed.did === SOW && deed.count !== null && later) left.set(state.fields.variety, /** @type {number} */ (left.get(state.fields.variety)) - deed.count);
    }
  }
  return new Map([...left].map(([id, seeds]) => [id, Math.max(0, seeds)]));
}
