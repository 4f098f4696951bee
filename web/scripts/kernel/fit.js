// @ts-check
/** Fit: which of the ready jobs go into the minutes there are. */

/** @typedef {import("../types.js").Job} Job */

const URGENT_DAYS = 1;
const NO_LEEWAY = 9999;

/**
 * What to take, urgent first and then in as few houses as may be.
 *
 * Urgent jobs (past, today, tomorrow) are taken by leeway wherever they are. The rest goes on filling from the houses
 * already walked to, and to a new house only when those have nothing more that fits. `take` is in walking order;
 * `runs_out` are jobs left though their by-day is today or past. What presses nobody is not counted.
 * @param {Job[]} jobs
 * @param {number} minutes
 * @returns {{take: string[], leave: string[], minutes: number, runs_out: string[]}}
 */
export function fit(jobs, minutes) {
  const ready = jobs.filter((job) => job.state === "ready" && !job.low);
  const byLeeway = [...ready].sort(
    (a, b) => leewayOf(a) - leewayOf(b) || a.minutes - b.minutes || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0),
  );
  /** @type {Set<string>} */
  const taken = new Set();
  /** @type {Set<string>} */
  const houses = new Set();
  let left = minutes;
  for (const job of byLeeway) {
    if (leewayOf(job) <= URGENT_DAYS && job.minutes <= left) {
      taken.add(job.id);
      houses.add(job.house || "");
      left -= job.minutes;
    }
  }
  const early = jobs.filter((job) => job.state === "early" && !job.low);
  early.sort((a, b) => inOrder(a.aim, b.aim) || a.minutes - b.minutes || inOrder(a.id, b.id)); // what could be begun comes after all that is ready
  for (const some of [byLeeway, early]) {
    for (;;) {
      const room = left;
      const fitting = some.filter((job) => !taken.has(job.id) && job.minutes <= room);
      if (!fitting.length) break;
      const best = fitting.find((job) => houses.has(job.house || "")) ?? fitting[0];
      taken.add(best.id);
      houses.add(best.house || "");
      left -= best.minutes;
    }
  }
  const leave = ready.filter((job) => !taken.has(job.id));
  return {
    take: jobs.filter((job) => taken.has(job.id) && (job.state === "ready" || job.state === "early")).map((job) => job.id),
    leave: leave.map((job) => job.id),
    minutes: minutes - left,
    runs_out: leave.filter((job) => leewayOf(job) <= 0).map((job) => job.id),
  };
}

/** @param {string} a @param {string} b @returns {number} */
function inOrder(a, b) {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** @param {Job} job @returns {number} */
function leewayOf(job) {
  return job.leeway !== null ? job.leeway : NO_LEEWAY;
}
