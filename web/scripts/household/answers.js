// @ts-check
/** Which open job a deed would answer. */

/** @typedef {import("../types.js").Job} Job */

/** The open job that a verb on a batch would answer. @param {Job[]} jobs @param {string} batch @param {string} verb @returns {Job | null} */
export function jobForBatch(jobs, batch, verb) {
  const open = jobs.filter((job) => job.batch === batch && (job.verb === verb || (verb === "lose" && job.writes.did === verb)) && job.state !== "done" && job.state !== "let go" && !job.writes.found);
  return open.find((job) => job.state === "ready") || open.find((job) => job.state === "waiting") || (verb === "look" || verb === "train" ? null : open[0]) || null;
}

/** The standing job that watering or looking over a place would answer. @param {Job[]} jobs @param {string} place @param {string} verb */
export function jobForPlace(jobs, place, verb) {
  return jobs.find((job) => job.place === place && job.verb === verb && !job.batch && !job.fixture && job.state !== "done" && job.state !== "let go") || null;
}

/** The job that putting up, taking down or connecting would answer. @param {Job[]} jobs @param {string} fixture @param {string} verb */
export function jobForFixture(jobs, fixture, verb) {
  return jobs.find((job) => job.fixture === fixture && job.verb === verb && job.state !== "done" && job.state !== "let go") || null;
}
