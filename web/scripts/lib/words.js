// @ts-check
/** Words that several rooms use. */
import { unitName } from "./quantities.js";
import { addDays, civilNow, dayName, daysBetween, plainDay } from "./dates.js";

/**
 * How long a job can wait.
 * @param {import("../types.js").Job} job
 * @param {string} today
 * @returns {{text: string, past: boolean}}
 */
export function leewayWords(job, today) {
  if (job.state === "early") return { text: `best ${plainDay(job.aim, today)}`, past: false };
  if (job.state === "lapsed") return { text: "lapsed", past: false };
  if (job.state === "later") {
    const off = daysBetween(today, job.from);
    const when = off === 1 ? "tomorrow" : off < 7 ? dayName(job.from) : plainDay(job.from, today);
    return { text: `from ${when}`, past: false };
  }
  const leeway = job.leeway;
  if (leeway === null) return { text: "can wait", past: false };
  if (leeway < 0) return { text: leeway === -1 ? "1 day past" : `${-leeway} days past`, past: true };
  if (leeway === 0) return { text: "today", past: false };
  if (leeway === 1) return { text: "by tomorrow", past: false };
  if (leeway <= 3) return { text: `by ${dayName(addDays(today, leeway))}`, past: false };
  if (leeway === 7) return { text: "can wait a week", past: false };
  if (leeway <= 20) return { text: `can wait ${leeway}\u00a0days`, past: false };
  return { text: `can wait ${Math.floor(leeway / 7)}\u00a0weeks`, past: false };
}

/** `45 min`, `about 3 h`. @param {number} minutes @returns {string} */
export function minutesWords(minutes) {
  if (minutes < 100) return `${minutes}\u00a0min`;
  const hours = Math.round(minutes / 30) / 2;
  return `about ${hours}\u00a0h`;
}

/** What a tick ends or gives up, to be said before it; empty for nothing. @param {import("../types.js").Job} job @returns {string} */
export function losesWords({ writes, count, ways }) {
  if (writes.did === "clear") return "ends the batch";
  if (ways?.length) return "";
  return writes.did === "lose" ? `gives up ${counted(count ?? 1, "plant")}` : "";
}

/** Whether the variety says more than the title: no "tomatoes tomatoes". @param {import("../types.js").Job} job */
export function isBeside({ title, subject }) {
  return Boolean(subject) && !title.toLowerCase().includes(subject.toLowerCase());
}

/** `1 job`, `8 jobs`. @param {number} count @param {string} one @param {string} [many] @returns {string} */
export function counted(count, one, many = `${one}s`) {
  return `${count}\u00a0${count === 1 ? one : many}`;
}

/**
 * How sharing stands, as a fact.
 * @param {import("../types.js").Sharing} sharing
 * @param {number} nowMs
 * @param {string | null} zone
 * @param {boolean} [brief] for one line on the smallest phone
 * @returns {string}
 */
export function sharingWords(sharing, nowMs, zone, brief = false) {
  const where = brief ? "kept here" : "kept on this phone";
  if (sharing.kept > 0) return `${counted(sharing.kept, "change")} ${sharing.keeps ? where : "not safe yet"}`;
  if (sharing.lastShared === null) return "not shared yet";
  return `all shared ${momentWords(sharing.lastShared, nowMs, zone)}`;
}

/** `10:42`, `Sunday 17:20`, `28 April`. @param {number} ms @param {number} nowMs @param {string | null} zone */
export function momentWords(ms, nowMs, zone) {
  const then = civilNow(new Date(ms), zone);
  const now = civilNow(new Date(nowMs), zone);
  const off = daysBetween(then.date, now.date);
  if (off <= 0) return then.time;
  if (off < 7) return `${dayName(then.date)} ${then.time}`;
  return plainDay(then.date, now.date);
}

/** @type {Record<string, string>} */
const DID = {
  sow: "Sowed",
  emerge: "Up:",
  prick_out: "Pricked out",
  pot_up: "Potted up",
  harden_off: "Hardened off",
  plant_out: "Planted",
  string: "Strung",
  train: "Trained",
  feed: "Fed",
  water: "Watered",
  treat: "Treated",
  look: "Looked at",
  pick: "Picked",
  clear: "Cleared",
  decide: "Decided",
  move: "Moved",
  lose: "Lost",
  install: "Put up",
  remove: "Took down",
  connect: "Connected",
  measure: "Measured",
  note: "Note",
  weed: "Weeded",
  mulch: "Mulched",
  earth_up: "Earthed up",
  prune: "Pruned",
  cover: "Covered",
  uncover: "Uncovered",
  vent: "Vented",
  divide: "Divided",
  clean: "Cleaned",
  dress: "Limed or manured",
  drain: "Drained",
  test: "Tested",
  turn: "Turned",
  dig_in: "Dug in",
  order: "Ordered",
  store: "Stored",
  use: "Used",
};

/** A deed's verb in the past. @param {string} did @returns {string} */
export function pastVerb(did) {
  return Object.hasOwn(DID, did) ? DID[did] : did;
}

/** The same with a capital letter. @param {string} text @returns {string} */
export function capital(text) {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

/** Text with numbers kept beside their nouns. @param {string} text @returns {string} */
export function kept(text) {
  return text.replace(/(\d) (?=\S)/g, "$1\u00a0").replace(/\bbed (?=\d)/g, "bed\u00a0");
}

/** `0.8 kg`, `350 g`. @param {number} grams @returns {string} */
export function weightWords(grams) {
  if (unitName("weight") !== "g" || grams < 1000) return `${Math.round(grams)}\u00a0g`; // pounds and ounces are told from all the grams
  return `${Math.round(grams / 100) / 10}\u00a0kg`;
}

/** `This phone's clock is 3 h fast.` @param {number} ahead milliseconds */
export function clockWords(ahead) {
  const minutes = Math.round(Math.abs(ahead) / 60_000);
  let size = `${Math.round(minutes / 525_600)} years`;
  if (minutes < 120) size = `${minutes} min`;
  else if (minutes < 2880) size = `${Math.round(minutes / 60)} h`;
  else if (minutes < 900_000) size = `${Math.round(minutes / 1440)} days`;
  return `This phone's clock is ${size} ${ahead > 0 ? "fast" : "slow"}.`;
}
