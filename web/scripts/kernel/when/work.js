// @ts-check
/** Work: a job while its dates are being worked out, before it is said. */

/**
 * @typedef {[number, string]} Bound A day and the words for where it comes from.
 * @typedef {{sort: string, id: string, text: string}} Block What is in the way though no open work will move it.
 * @typedef {{on: string, min: number, aim: number | null, max: number | null, heat: string | null,
 *   emergence: Record<string, number> | null, cover: string, heatedToC: number | null, path: boolean, text: string,
 *   why: string, latest: [number, number] | null, broken: boolean, shortest: number}} Link Work that waits on other work.
 */

/**
 * A link with good defaults.
 * @param {Partial<Link> & {on: string}} given
 * @returns {Link}
 */
export function makeLink(given) {
  return {
    min: 0,
    aim: null,
    max: null,
    heat: null,
    emergence: null,
    cover: "open",
    heatedToC: null,
    path: true,
    text: "",
    why: "",
    latest: null,
    broken: false,
    shortest: 0,
    ...given,
  };
}

/** One open job. Bounds are its own; the passes add what comes through its links. */
export class Work {
  /**
   * @param {{id: string, verb: string, title: string, lead: number, subject: string, writes: any,
   *   batch?: string | null, place?: string | null, fixture?: string | null, count?: number | null,
   *   minutes?: number, cautions?: string[], repeat?: number | null, hint?: string | null, low?: boolean}} given
   */
  constructor(given) {
    this.id = given.id;
    this.verb = given.verb;
    this.title = given.title;
    this.lead = given.lead;
    this.subject = given.subject;
    this.writes = given.writes;
    this.batch = given.batch ?? null;
    this.place = given.place ?? null;
    this.fixture = given.fixture ?? null;
    this.count = given.count ?? null;
    /** @type {Bound[]} */
    this.lower = [];
    /** @type {Bound[]} Own earliest days if somebody waits for it. */
    this.hurried = [];
    /** @type {Bound[]} */
    this.aims = [];
    /** @type {Bound[]} */
    this.upper = [];
    /** @type {Bound | null} */
    this.gate = null;
    this.gateId = "";
    /** @type {Link[]} */
    this.links = [];
    /** @type {Block[]} */
    this.blocks = [];
    /** @type {number | null} */
    this.notAfter = null;
    /** @type {{from: string, to: string} | null} Weeks of each year within which alone it is done, as `MM-DD`. */
    this.season = null;
    this.minutes = given.minutes ?? 0;
    /** @type {{what: string, amount: number, unit: string}[]} */
    this.needs = [];
    this.cautions = given.cautions ?? [];
    this.part = 1;
    this.repeat = given.repeat ?? null;
    this.hint = given.hint ?? null;
    /** @type {string[]} */
    this.notes = [];
    /** @type {string | null} */
    this.waysOut = null;
    this.low = given.low ?? false;
    this.goesIn = false;
    this.dropped = false;
    /** @type {number | null} */
    this.putOff = null;
    this.letGo = false;
    this.ownFrom = 0;
    this.start = 0;
    this.bareStart = 0;
    this.startWhy = "";
    this.aim = 0;
    this.aimWhy = "";
    /** @type {number | null} */
    this.by = null;
    this.byWhy = "";
    /** @type {number | null} */
    this.firmBy = null;
  }
}
