// @ts-check
/** Plants that grow already: put in at the stage they have come to by one deed, without inventing a history. Pure. */
import { present } from "../../../household/wishes.js";
import { inSeason, parse, yearOf } from "../../../kernel/read/days.js";
import { turned } from "../../../kernel/read/turns.js";

/** The verb by which plants come to a stage. */
const VERB_OF = /** @type {Record<string, string>} */ ({ sown: "sow", up: "emerge", "pricked out": "prick_out", "potted up": "pot_up", hardening: "harden_off", planted: "plant_out" });

/** The stages a crop's path has, with the pots of that stage. @param {any} know @returns {{stage: string, verb: string, pots: number[]}[]} */
export function stagesOf(know) {
  return Object.entries(VERB_OF)
    .filter(([stage]) => know?.steps?.some((/** @type {any} */ step) => step.stage === stage))
    .map(([stage, verb]) => ({ stage, verb, pots: know.steps.filter((/** @type {any} */ step) => step.stage === stage && step.pot_l).map((/** @type {any} */ step) => step.pot_l) }));
}

/**
 * The year of the batch's first step and its turn, from a day on which one of its steps was done: those whose own days lie nearest.
 * @param {any} know
 * @param {string} stage
 * @param {string} since
 * @returns {{year: number, turn: number | null}}
 */
export function beganAt(know, stage, since) {
  const day = parse(since);
  const year = yearOf(day);
  const step = know.steps.find((/** @type {any} */ one) => one.stage === stage);
  const turns = know.turns || [];
  let best = { year, turn: turns.length ? 0 : null };
  let least = Infinity;
  for (let turn = 0; turn <= turns.length; turn += 1) {
    const window = [step, know.steps[0]].map((one) => one && turned(one, know, turn, "open").window).find(Boolean);
    const aim = /** @type {any} */ (Object.values(window || {})[0])?.aim;
    for (const one of aim ? [year, year - 1] : []) {
      const away = Math.abs(inSeason(aim, one) - day);
      if (away < least) [best, least] = [{ year: one, turn: turns.length ? turn : null }, away];
    }
  }
  return best;
}

/**
 * The batch and the deed that says where it stands.
 * @param {any} know
 * @param {{batch: string, variety: string, stage: string, count: number, here: string | null, place: string | null,
 *   since: string, pot: number | null, picked: boolean}} plants
 * @param {{today: string, at: any, newId: () => string}} tools
 * @returns {any[]}
 */
export function growingWishes(know, plants, { today, at, newId }) {
  const { batch, variety, stage, count, here, since } = plants;
  const found = stagesOf(know).find((one) => one.stage === stage);
  const seeds = stage === "sown" && know.steps.some((/** @type {any} */ step) => step.verb === "emerge");
  const forPlace = plants.place || (stage === "planted" || know.steps[0].where === "final" ? here : null);
  const deed = { did: VERB_OF[stage], batch, on: since, by: at.by, count, to_place: here, pot_l: found?.pots.length ? plants.pot || found.pots[0] : null, note: "put in at this stage" };
  const wishes = [
    { id: batch, kind: "batch", fields: present({ variety, ...beganAt(know, stage, since), want: seeds ? null : count, for_place: forPlace }) },
    { id: newId(), kind: "diary", fields: present(deed) },
  ];
  if (plants.picked && stage === "planted") wishes.push({ id: newId(), kind: "diary", fields: present({ did: "pick", batch, on: today, at: at.at, by: at.by, note: "being picked when put in" }) });
  return wishes;
}
