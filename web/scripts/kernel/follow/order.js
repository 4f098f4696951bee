// @ts-check
/** Plants to come: what is to be ordered, or rooted from cuttings, so long before it is planted. */
import { CUTTINGS } from "../read/bought.js";
import { plantsWords } from "../read/words.js";
import { Work } from "../when/work.js";

/** Days before planting from which plants may, should and must be ordered. From memory: nurseries sell out. */
const ORDER_DAYS = [70, 42, 14];
/** And cuttings be taken: eight to twelve weeks until they are rooted. From memory. */
const ROOT_DAYS = [112, 84, 56];
const MINUTES = 10;

/**
 * The one job that comes before planting, until it is told. planting: with its own days.
 * @param {import("../read/batch-state.js").BatchState} state
 * @param {Work} planting
 * @param {import("./knowledge.js").Knowledge} know
 * @returns {Work[]}
 */
export function orderWork(state, planting, know) {
  const cuts = state.fields.begins === CUTTINGS;
  const verb = cuts ? "divide" : "order";
  const days = (planting.aims.length ? planting.aims : planting.lower).map(([day]) => day);
  if (planting.verb !== "plant_out" || !days.length || state.deeds.some(({ deed }) => deed.did === verb)) return [];
  const job = cuts ? `${state.id}.take` : `${state.id}.${verb}`;
  const plants = plantsWords(state.know, state.want);
  const ordered = state.know.steps[0].verb === "sow" ? `Order ${plants} as plants` : `Order ${plants}`;
  const work = new Work({
    id: job,
    verb,
    title: cuts ? `Take cuttings for ${plants}` : ordered,
    lead: (cuts ? "Take cuttings" : "Order").length,
    subject: state.varietyName,
    writes: { did: verb, batch: state.id },
    batch: state.id,
    minutes: MINUTES,
  });
  const why = cuts ? "so long before planting: until they are rooted" : "so long before planting: nurseries sell out, and send when it suits them";
  const [first, aim, last] = (cuts ? ROOT_DAYS : ORDER_DAYS).map((before) => Math.max(...days) - before);
  work.lower.push([first, why]);
  work.aims.push([aim, why]);
  work.upper.push([last, why]);
  work.letGo = know.letGoOn(job) !== null;
  return [work];
}
