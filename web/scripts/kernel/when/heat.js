// @ts-check
/**
 * Warmth read off the rulebook: days until so many degree-days have come, and the mean under a cover on a day.
 * Heat is in tenths of a degree-day, so that both kernels count in whole numbers.
 */
import { leapIndex, parse } from "../read/days.js";

/** Heat that has not come in three years will not come. */
export const LONGEST_WAIT_DAYS = 1100;

/** Seed that has not come up by then will not. */
const LONGEST_UP_DAYS = 120;

/** What the days from sowing to coming up come to, each its part: in whole numbers, exact for up to 100 days. */
const UP = 10000;

/** No thermometer. @type {[number, number[]]} */
const UNREAD = [0, []];
const NO_SPELL = { off: 0, today: 0 };

/** The heat and warmth of one rulebook. */
export class Heat {
  /** @type {Record<string, number[]>} */
  #series;
  /** @type {Record<string, number[]>} */
  #warmth;

  /** @type {Record<string, [number, number[]]>} */
  #read;
  #spell;

  /** @param {any} rulebook */
  constructor(rulebook) {
    this.#series = rulebook.heat || {};
    this.#warmth = rulebook.warmth || {};
    this.#read = Object.fromEntries(Object.entries(rulebook.heat_read || {}).map(([name, it]) => [name, [parse(it.from), it.days]]));
    this.#spell = rulebook.spell || 0;
  }

  /**
   * First day by whose end `tenths` have come since `start`; null where it never comes or there is no series. Days that a
   * thermometer read count with what it read, the others with the typical year's.
   * @param {string} series
   * @param {number} start
   * @param {number} tenths
   * @returns {number | null}
   */
  dayReached(series, start, tenths) {
    return this.#reach(series, start, tenths, this.#read[series] || UNREAD, NO_SPELL);
  }

  /** Whether there is such a series. @param {string} series @returns {boolean} */
  knows(series) {
    return this.#series[series] !== undefined;
  }

  /** Whether a thermometer read some of the days since `start`. @param {string} series @param {number} start @returns {boolean} */
  wasRead(series, start) {
    const [first, days] = this.#read[series] || UNREAD;
    return first + days.length > start + 1;
  }

  /**
   * The same in a typical year, whatever was read.
   * @param {string} series
   * @param {number} start
   * @param {number} tenths
   * @returns {number | null}
   */
  dayUsuallyReached(series, start, tenths) {
    return this.#reach(series, start, tenths, UNREAD, NO_SPELL);
  }

  /**
   * The early and the late day: what is still to come a warm spell's or a cold spell's worth away from the typical.
   * @param {string} series
   * @param {number} start
   * @param {number} tenths
   * @param {number} today
   * @returns {[number, number] | null}
   */
  band(series, start, tenths, today) {
    if (this.#spell === 0) return null;
    const read = this.#read[series] || UNREAD;
    const early = this.#reach(series, start, tenths, read, { off: this.#spell, today });
    const late = this.#reach(series, start, tenths, read, { off: -this.#spell, today });
    return early === null || late === null ? null : [early, late];
  }

  /**
   * @param {string} series
   * @param {number} start
   * @param {number} tenths
   * @param {[number, number[]]} read
   * @param {{off: number, today: number}} spell how much warmer each day after today is than usual. [tenths of a degree-day]
   * @returns {number | null}
   */
  #reach(series, start, tenths, read, { off, today }) {
    const daily = this.#series[series];
    const [first, days] = read;
    const end = first + days.length;
    if (daily === undefined) return null;
    if (tenths <= 0) return start;
    let total = 0;
    let index = leapIndex(start);
    for (let day = start + 1; day < start + LONGEST_WAIT_DAYS; day += 1) {
      index += 1;
      if (index === 59) index = leapIndex(day); // 29 February, if there is one
      else if (index === 366) index = 0;
      if (first <= day && day < end) total += days[day - first];
      else if (off !== 0 && day > today && daily[index] > 0) total += Math.max(0, daily[index] + off);
      else total += daily[index];
      if (total >= tenths) return day;
    }
    return null;
  }

  /**
   * Typical mean under a cover on a day. [whole °C]
   * @param {string} cover
   * @param {number} day
   * @returns {number | null}
   */
  meanC(cover, day) {
    const daily = this.#warmth[cover];
    return daily === undefined ? null : daily[leapIndex(day)];
  }

  /**
   * Days from sowing until the first are up, as warm as days usually are there; null where none are in their time.
   * @param {Record<string, number>} table whole °C to the days it takes at that temperature; at one not in it nothing comes
   * @param {string} cover
   * @param {number} since
   * @returns {number | null}
   */
  daysToComeUp(table, cover, since) {
    const daily = this.#warmth[cover];
    if (daily === undefined) return null;
    let done = 0;
    for (let day = since; day < since + LONGEST_UP_DAYS; day++) {
      const days = table[String(daily[leapIndex(day)])];
      if (days === undefined) continue;
      done += Math.ceil(UP / days);
      if (done >= UP) return day + 1 - since;
    }
    return null;
  }
}
