// @ts-check
/** Work: a job while its dates are being worked out, before it is said. */

/**
 * @typedef {[number, string]} Bound A day and the words for where it comes from.
 * @typedef {{sort: string, id: string, text: string}} Block What is in the way though no open work will move it.
 * @typedef {{on: string, min: number, aim: number | null, max: number | null, heat: string | null,
 *   emergence: Record<string, number> | null, cover: string, heatedToC: number | null, path: boolean, text: string,
 *   why: string, least: number, keeps: number | null, soft: boolean, latest: [number, number] | null, broken: boolean, shortest: number}} Link
 *   Work that waits on other work. least: however warm it is, no sooner than so many days; keeps: days that what is ripe stays good: its last day, where nothing else gives one; soft: bounds
 *   what it waits on, and is in nobody's way.
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
    least: 0,
    keeps: null,
    soft: false,
    latest: null,
    broken: false,
    shortest: 0,
    ...given,
  };
}

/** One open job. Bounds are its own; the passes add what comes through its links. */
export class Work {
  /** @type {number | null} Index in its batch's path; null for what is not of one. */
  step = null;
  /** @type {[string, number]} What becomes of it if nobody tells of it, and for how many days past its last one it is asked for. */
  missed = ["stays", 0];
  /** @type {number | null} The last day on which it still pays, where that is later than its own last day. */
  lastUseful = null;
  /** @type {import("../../types.js").Way[]} Answers it may be given, each with what it writes. */
  ways = [];
  /** Whether it brings plants on before they are planted. */
  raises = false;
  /** And so many tenths of a minute for each square metre of its place. */
  eachM2 = 0;
  /** Somebody said that it is still to be done. */
  still = false;
  /** The first day it could be done, had all before it been done as soon as could be. */
  could = 0;

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
    this.firstPicking = false;
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

  /** Whether it may be taken as done though nobody tells of it. @returns {boolean} */
  believable() {
    const told = this.missed[0] === "stays" || this.missed[0] === "asked" || this.step === null;
    return !told && this.putOff === null && !this.letGo && !this.still;
  }

  /** The day it is taken to have been done for what follows, once that has come; null for what must be told. @param {number} today @returns {number | null} */
  takenOn(today) {
    if (!this.believable()) return null;
    const day = this.verb === "look" && this.by !== null ? this.by : this.aim;
    return day <= today ? day : null;
  }
}
