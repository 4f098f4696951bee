// @ts-check
/**
 * Warmth read off the rulebook: days until so many degree-days have come, and the mean under a cover on a day.
 * Heat is in tenths of a degree-day, so that both kernels count in whole numbers.
 */
import { leapIndex } from "./days.js";

/** Heat that has not come in three years will not come. */
export const LONGEST_WAIT_DAYS = 1100;

/** The heat and warmth of one rulebook. */
export class Heat {
  /** @type {Record<string, number[]>} */
  #series;
  /** @type {Record<string, number[]>} */
  #warmth;

  /** @param {any} rulebook */
  constructor(rulebook) {
    this.#series = rulebook.heat || {};
    this.#warmth = rulebook.warmth || {};
  }

  /**
   * First day by whose end `tenths` have come since `start`; null where it never comes or there is no series.
   * @param {string} series
   * @param {number} start
   * @param {number} tenths
   * @returns {number | null}
   */
  dayReached(series, start, tenths) {
    const daily = this.#series[series];
    if (daily === undefined) return null;
    if (tenths <= 0) return start;
    let total = 0;
    let index = leapIndex(start);
    for (let day = start + 1; day < start + LONGEST_WAIT_DAYS; day += 1) {
      index += 1;
      if (index === 59) index = leapIndex(day); // 29 February, if there is one
      else if (index === 366) index = 0;
      total += daily[index];
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
}
