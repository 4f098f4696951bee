// @ts-check
/** The chain a job hangs in: what must be done before it, and what waits for it. Pure. */

/**
 * @typedef {import("../types.js").Job} Job
 * @typedef {{job: Job, text: string, own: boolean}} Link text: as it is told where it stands in the way; own: the job that was asked about
 */

/** Links told on either side; more is no picture any more. */
const MOST = 4;
const OPEN = ["ready", "waiting", "early", "later"];

/**
 * From the first link that can be done to the last that waits; empty where nothing but the plants' own next step hangs on it.
 * @param {Job[]} jobs the list
 * @param {Job} job
 * @returns {Link[]}
 */
export function chainOf(jobs, job) {
  const open = new Map(jobs.filter((one) => OPEN.includes(one.state)).map((one) => [one.id, one]));
  const before = backward(open, job);
  const after = forward(open, job, new Set([job.id, ...before.map((link) => link.job.id)]));
  const chain = [...before, { job, text: job.title, own: true }, ...after];
  return chain.length > 1 && chain.some((link, at) => at > 0 && !samePlants(link.job, chain[at - 1].job)) ? chain : [];
}

/** Whether one is just the next step of the other. @param {Job} a @param {Job} b */
function samePlants(a, b) {
  return a.batch !== null && a.batch === b.batch;
}

/** What must be done first: of several the one that comes last, which holds the others up. @param {Map<string, Job>} open @param {Job} job @returns {Link[]} */
function backward(open, job) {
  /** @type {Link[]} */
  const found = [];
  const seen = new Set([job.id]);
  for (let at = job; found.length < MOST; ) {
    const ways = at.in_the_way.flatMap((way) => {
      const before = way.job && !seen.has(way.job) ? open.get(way.job) : undefined;
      return before ? [{ job: before, text: way.text, own: false }] : [];
    });
    if (!ways.length) break;
    const last = ways.reduce((latest, one) => (hangs(one.job, at) > hangs(latest.job, at) || (hangs(one.job, at) === hangs(latest.job, at) && one.job.aim > latest.job.aim) ? one : latest));
    found.unshift(last);
    seen.add(last.job.id);
    at = last.job;
  }
  return found;
}

/** What stands in the way from outside is told before the plants' own steps. @param {Job} before @param {Job} job */
function hangs(before, job) {
  return Number(!samePlants(before, job));
}

/** What waits for it: of several what is in the way from outside, and the soonest. @param {Map<string, Job>} open @param {Job} job @param {Set<string>} seen @returns {Link[]} */
function forward(open, job, seen) {
  /** @type {Link[]} */
  const found = [];
  for (let at = job; found.length < MOST; ) {
    const held = [...open.values()].filter((one) => !seen.has(one.id) && one.in_the_way.some((way) => way.job === at.id));
    if (!held.length) break;
    const next = held.reduce((soonest, one) => (hangs(one, at) > hangs(soonest, at) || (hangs(one, at) === hangs(soonest, at) && one.aim < soonest.aim) ? one : soonest));
    if (samePlants(next, at) && found.length) break; // beyond what was held up the plants go their own way
    found.push({ job: next, text: next.title, own: false });
    seen.add(next.id);
    at = next;
  }
  return found;
}
