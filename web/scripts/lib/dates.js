// @ts-check
/** Days as the app says them. Built on the kernel's day numbers; knows no locale and no clock. */
import { MONTHS, civil, iso, parse } from "../kernel/read/days.js";

const WEEKDAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

/** 0 for Monday. @param {number} day @returns {number} */
export function weekday(day) {
  return (((day + 3) % 7) + 7) % 7;
}

/** `Tuesday`. @param {string} date @returns {string} */
export function dayName(date) {
  return WEEKDAYS[weekday(parse(date))];
}

/** `Tuesday 19 May`. @param {string} date @returns {string} */
export function longDay(date) {
  const [, month, day] = civil(parse(date));
  return `${dayName(date)} ${day}\u00a0${MONTHS[month - 1]}`;
}

/** `Thu 28 May`. @param {string} date @returns {string} */
export function shortDay(date) {
  const [, month, day] = civil(parse(date));
  return `${dayName(date).slice(0, 3)} ${day}\u00a0${MONTHS[month - 1].slice(0, 3)}`;
}

/** `28 May`, with the year where it is not this one. @param {string} date @param {string} today @returns {string} */
export function plainDay(date, today) {
  const [year, month, day] = civil(parse(date));
  const words = `${day}\u00a0${MONTHS[month - 1]}`;
  return date.slice(0, 4) === today.slice(0, 4) ? words : `${words} ${year}`;
}

/** `28 May to 3 June`, with a year where it is not this one; a year that both have, once. @param {string} from @param {string} to @param {string} today @returns {string} */
export function daySpan(from, to, today) {
  return `${plainDay(from, from.slice(0, 4) === to.slice(0, 4) ? from : today)} to ${plainDay(to, today)}`;
}

/** `May`. @param {string} date @returns {string} */
export function monthName(date) {
  return MONTHS[Number(date.slice(5, 7)) - 1];
}

/** `12 May` for `05-12`, a day of any year. @param {string} monthDay @returns {string} */
export function dayOfYear(monthDay) {
  const [month, day] = monthDay.split("-").map(Number);
  return `${day}\u00a0${MONTHS[month - 1]}`;
}

/** A day of any year as people write it: `12 May`, `May 12`, `12. 5.`, `05-12`. @param {string} text @returns {string} `MM-DD`; empty where it is none */
export function readMonthDay(text) {
  const plain = text.replaceAll("\u00a0", " ").trim().toLowerCase();
  const name = /[a-z]{3,}/.exec(plain)?.[0];
  const [first, second] = (plain.match(/\d{1,2}/g) || []).map(Number);
  const month = name ? MONTHS.findIndex((one) => one.toLowerCase().startsWith(name)) + 1 : plain.includes("-") ? first : second;
  const day = name ? first : plain.includes("-") ? second : first;
  const longest = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] || 0;
  return day >= 1 && day <= longest ? `${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}` : "";
}

/** @param {string} date @param {number} days @returns {string} */
export function addDays(date, days) {
  return iso(parse(date) + days);
}

/** Days from one date to another. @param {string} from @param {string} to @returns {number} */
export function daysBetween(from, to) {
  return parse(to) - parse(from);
}

/** `today`, `yesterday`, `Thursday`, `28 May`: a day near today as it is said. @param {string} date @param {string} today */
export function nearDay(date, today) {
  const off = daysBetween(today, date);
  if (off === 0) return "today";
  if (off === 1) return "tomorrow";
  if (off === -1) return "yesterday";
  if (off > 1 && off < 7) return dayName(date);
  return off > 0 && off < 14 ? shortDay(date) : plainDay(date, today);
}

/** The calendar day and time of a clock reading in a zone. @param {Date} now @param {string | null} zone */
export function civilNow(now, zone) {
  let parts;
  try {
    parts = formatter(zone || undefined).formatToParts(now);
  } catch {
    parts = formatter(undefined).formatToParts(now);
  }
  /** @type {Record<string, string>} */
  const found = {};
  for (const part of parts) found[part.type] = part.value;
  return { date: `${found.year}-${found.month}-${found.day}`, time: `${found.hour}:${found.minute}` };
}

/** @type {Map<string | undefined, Intl.DateTimeFormat>} Each costs a millisecond to make, and the date is asked for with every row. */
const formatters = new Map();

/** @param {string | undefined} zone @returns {Intl.DateTimeFormat} */
function formatter(zone) {
  let made = formatters.get(zone);
  if (!made) {
    made = new Intl.DateTimeFormat("en-GB", {
      timeZone: zone,
      year: "numeric",
      month: "2-digit",
      day: "2-digit",
      hour: "2-digit",
      minute: "2-digit",
      hourCycle: "h23",
    });
    formatters.set(zone, made);
  }
  return made;
}
