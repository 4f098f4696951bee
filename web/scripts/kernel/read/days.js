// @ts-check
/**
 * Calendar days as whole numbers, so that both kernels count alike: days since 1970-01-01 in the proleptic Gregorian
 * calendar. No time zone, no clock: the site's calendar date is handed in as text.
 */

export const MONTHS = [
  "January", "February", "March", "April", "May", "June",
  "July", "August", "September", "October", "November", "December",
];
const BEFORE_MONTH = [0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335]; // of a leap year

/**
 * Days since 1970-01-01.
 * @param {number} year
 * @param {number} month
 * @param {number} day
 * @returns {number}
 */
export function dayNumber(year, month, day) {
  const shifted = month <= 2 ? year - 1 : year;
  const era = Math.floor(shifted / 400);
  const yearOfEra = shifted - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146097 + dayOfEra - 719468;
}

/**
 * Year, month and day of month of a day number.
 * @param {number} day
 * @returns {[number, number, number]}
 */
export function civil(day) {
  const shifted = day + 719468;
  const era = Math.floor(shifted / 146097);
  const dayOfEra = shifted - era * 146097;
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36524) - Math.floor(dayOfEra / 146096)) / 365,
  );
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const monthFromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const month = monthFromMarch + (monthFromMarch < 10 ? 3 : -9);
  return [
    yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    dayOfYear - Math.floor((153 * monthFromMarch + 2) / 5) + 1,
  ];
}

/**
 * Day number of `YYYY-MM-DD`. The text has been checked where it came in.
 * @param {string} text
 * @returns {number}
 */
export function parse(text) {
  return dayNumber(Number(text.slice(0, 4)), Number(text.slice(5, 7)), Number(text.slice(8, 10)));
}

/**
 * `YYYY-MM-DD` of a day number.
 * @param {number} day
 * @returns {string}
 */
export function iso(day) {
  const [year, month, date] = civil(day);
  return `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(date).padStart(2, "0")}`;
}

/**
 * The calendar year a day lies in.
 * @param {number} day
 * @returns {number}
 */
export function yearOf(day) {
  return civil(day)[0];
}

/**
 * Day number of a rulebook date `Y-MM-DD`, Y years after `year`. 29 February becomes 28 in a plain year.
 * @param {string} text
 * @param {number} year
 * @returns {number}
 */
export function inSeason(text, year) {
  return clamped(year + Number(text[0]), Number(text.slice(2, 4)), Number(text.slice(5, 7)));
}

/**
 * First and last day of the season a day lies in, or of the next.
 * @param {{from: string, to: string}} season `MM-DD`, over the new year too
 * @param {number} day
 * @returns {[number, number]}
 */
export function seasonAt(season, day) {
  const turns = season.to < season.from ? 1 : 0;
  for (const year of [yearOf(day) - 1, yearOf(day)]) {
    const closes = inSeason(`0-${season.to}`, year + turns);
    if (day <= closes) return [inSeason(`0-${season.from}`, year), closes];
  }
  const following = yearOf(day) + 1;
  return [inSeason(`0-${season.from}`, following), inSeason(`0-${season.to}`, following + turns)];
}

/** @param {number} year @param {number} month @param {number} date @returns {number} */
function clamped(year, month, date) {
  return dayNumber(year, month, month === 2 && date === 29 && !leap(year) ? 28 : date);
}

/** @param {number} year @returns {boolean} */
function leap(year) {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

/**
 * 0 to 365: place of a day's month and date in a leap year. 1 March is always 60.
 * @param {number} day
 * @returns {number}
 */
export function leapIndex(day) {
  const [, month, date] = civil(day);
  return BEFORE_MONTH[month - 1] + date - 1;
}

/**
 * `12 March`: a day as it is said in a reason.
 * @param {number} day
 * @returns {string}
 */
export function spoken(day) {
  const [, month, date] = civil(day);
  return `${date} ${MONTHS[month - 1]}`;
}
