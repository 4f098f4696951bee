// @ts-check
/** The few words the kernel itself puts together; all others come from the rulebook and the records. */

/** @type {Record<string, string>} */
export const PAST = {
  sow: "sown",
  emerge: "up",
  prick_out: "pricked out",
  pot_up: "potted up",
  harden_off: "hardened off",
  plant_out: "planted",
  string: "strung",
  train: "trained",
  feed: "fed",
  water: "watered",
  treat: "treated",
  look: "looked over",
  pick: "picked",
  clear: "cleared",
  move: "moved",
  install: "put up",
  remove: "taken down",
  connect: "connected",
  weed: "weeded",
  mulch: "mulched",
  earth_up: "earthed up",
  prune: "pruned",
  cover: "covered",
  uncover: "uncovered",
  vent: "vented",
  decide: "decided",
  divide: "divided",
  clean: "cleaned",
  dress: "dressed",
  drain: "drained",
  test: "tested",
  turn: "turned",
  dig_in: "dug in",
  order: "ordered",
  store: "stored",
  use: "used",
};

/** A verb as done. @param {string} verb @returns {string} */
export function past(verb) {
  return Object.hasOwn(PAST, verb) ? PAST[verb] : "done";
}

/** `1 day`, `9 days`. @param {number} days @returns {string} */
export function daysWords(days) {
  return days === 1 ? "1 day" : `${days} days`;
}

/**
 * `14 tomatoes`, `1 tomato`, or `tomatoes` where nobody counts.
 * @param {any} know
 * @param {number | null} count
 * @returns {string}
 */
export function plantsWords(know, count) {
  const many = know.many || "plants";
  if (count === null) return many;
  return `${count} ${count === 1 ? know.one || "plant" : many}`;
}

/**
 * A step's sentence with its places filled; what is not known falls out without leaving a gap.
 * @param {string} say
 * @param {any} know
 * @param {number | null} count
 * @param {string | null} place
 * @param {number | null} seeds
 * @returns {string}
 */
export function fill(say, know, count, place, seeds) {
  let text = put(say, "{plants}", plantsWords(know, count));
  text = put(text, "{seeds}", seeds === null ? "" : String(seeds));
  text = put(text, "{many}", know.many || "plants");
  text = put(text, "{one}", know.one || "plant");
  text = put(text, "{place}", place || "their place");
  return GAP.test(text) ? text.split(" ").filter((part) => part !== "").join(" ") : text;
}

/** A space too many. */
const GAP = /^ | {2}| $/;

/** @param {string} text @param {string} mark @param {string} words @returns {string} */
function put(text, mark, words) {
  return text.includes(mark) ? text.split(mark).join(words) : text;
}

/** `10`, `0.3`: litres to a tenth at most, without a trailing nought. @param {number} amount @returns {string} */
export function litres(amount) {
  const tenths = Math.floor(amount * 10 + 0.5);
  const whole = Math.floor(tenths / 10);
  return tenths % 10 === 0 ? String(whole) : `${whole}.${tenths % 10}`;
}

/** The text with a small letter at its head, for use inside a sentence. @param {string} text @returns {string} */
export function lowerFirst(text) {
  const first = text.codePointAt(0);
  if (first === undefined) return text;
  const head = String.fromCodePoint(first);
  return head.toLowerCase() + text.slice(head.length);
}
