// @ts-check
/** Used: what was taken out of the shed by what was done. Nobody tells it; it follows from the rulebook's steps and work. */
import { TENDS } from "../read/diary.js";
import { LABELS, needsOf } from "./needs.js";
import { ruleOf, takenBy } from "./upkeep.js";

/**
 * @typedef {import("./knowledge.js").Knowledge} Knowledge
 * @typedef {import("../read/deeds.js").Deed} Deed
 * @typedef {{what: string, amount: number, unit: string}} Need
 */

/** What every deed took, batch by batch and then work by work; stamp: of its telling. What is believed to be done has used as much. @param {Knowledge} know @returns {Generator<Need & {on: number, stamp: string}>} */
export function* usedOf(know) {
  for (const state of know.states.values()) for (const [{ on, stamp }, need] of ofBatch(state)) yield { on, stamp, ...need };
  for (const id of know.upkeep.keys()) for (const [{ on, stamp }, need] of ofUpkeep(id, know)) yield { on, stamp, ...need };
}

/** @param {import("../read/batch-state.js").BatchState} state @returns {Generator<[Deed, Need]>} */
function* ofBatch(state) {
  /** @type {Set<string>} */
  const begun = new Set();
  for (const { deed, step: index } of state.deeds) {
    if (index === null) continue;
    const part = `${index} ${deed.job ?? deed.ids[0]}`;
    let step = state.steps[index];
    if (begun.has(part)) {
      step = { ...step, needs: (step.needs || []).filter((/** @type {any} */ need) => !need.once) }; // done in parts, what it takes once for all is taken with the first
    } else if (index === 0) yield [deed, LABELS];
    begun.add(part);
    const finishing = index === state.finalStep ? (state.fields.pot_l ?? null) : null;
    for (const need of needsOf(step, deed.count ?? state.want, finishing, state.stems())) yield [deed, need];
  }
}

/** Of work told by its job, or of its place where no other work there is done with the same verb. Once a day. @param {string} id @param {Knowledge} know @returns {Generator<[Deed, Need]>} */
function* ofUpkeep(id, know) {
  const fields = know.upkeep.get(id) || {};
  const rule = ruleOf(id, know);
  if (!rule) return;
  const place = fields.place ?? null;
  const alike = [...know.upkeep].filter(([other, chosen]) => (chosen.place ?? null) === place && ruleOf(other, know)?.verb === rule.verb);
  const here = TENDS.includes(rule.verb) && alike.length === 1 ? know.diary.tended.get(place ?? "") || [] : [];
  const told = [...(know.diary.byJob.get(id) || []), ...here.filter((deed) => deed.job === null)];
  /** @type {Map<number, Deed>} */
  const days = new Map();
  for (const deed of told) if (deed.did === rule.verb && !days.has(deed.on)) days.set(deed.on, deed);
  for (const deed of days.values()) for (const need of takenBy(rule, fields, know)) yield [deed, need];
}
