// @ts-check
/** The backward pass: what must be done by some day pulls what it waits on. */
import { spoken } from "../read/days.js";
import { waitsFor } from "./forward.js";
import { lowerFirst } from "../read/words.js";

/** @typedef {import("./work.js").Work} Work */

/** Tighten `by` of each job to what waits on it, in place; aims are drawn in after it. @param {Work[]} ordered */
export function backward(ordered) {
  const byId = new Map(ordered.map((job) => [job.id, job]));
  for (let at = ordered.length - 1; at >= 0; at -= 1) {
    const job = ordered[at];
    if (job.by === null || job.letGo || job.dropped) continue;
    for (const link of job.links) {
      const before = waitsFor(link.on, byId);
      const limit = link.soft ? job.aim : link.path ? job.firmBy : job.by; // a guessed limit never pulls the work it is guessed from
      if (before === null || link.broken || limit === null) continue;
      const latest = limit - link.shortest;
      if (before.firmBy === null || latest < before.firmBy) before.firmBy = latest;
      if (before.by === null || latest < before.by) {
        before.by = latest;
        before.byWhy = `${lowerFirst(job.title)} waits on this, by ${spoken(limit)}`;
      }
    }
  }
  for (const job of ordered) {
    if (job.by !== null && job.aim > job.by) {
      job.aim = Math.max(job.start, job.by);
      job.aimWhy = "";
    }
  }
}
