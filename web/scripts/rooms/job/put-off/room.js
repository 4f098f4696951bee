// @ts-check
/** Putting a job off: to a day, with what that costs said beside it. */
import { putOffWish } from "../../../household/wishes.js";
import { fill, h } from "../../../lib/dom.js";
import { drawGone } from "../draw.js";
import { drawPutOff } from "./draw.js";
import { putOffSaid, seePutOff } from "./seen.js";

/** @typedef {import("../../../types.js").Job} Job */

/** @param {import("../../../types.js").Context} context params: the job's id */
export function room(context) {
  const { book, back, today, write } = context;
  const element = h("main", { class: "page", id: "room" });

  /** @param {Job} job @param {string} day */
  async function putOff(job, day) {
    const say = putOffSaid(job, day);
    if (await write([putOffWish(job, day, today())], { say, undo: [putOffWish(job, null, today())] })) back("job");
  }

  function refresh() {
    const jobs = /** @type {Job[]} */ (book.jobs(today()));
    const job = jobs.find((one) => one.id === context.params[0] && one.state !== "done");
    if (!job) fill(element, drawGone(() => back("job")));
    else fill(element, drawPutOff(seePutOff(book, job, today()), { back, putOff: (day) => void putOff(job, day) }));
  }

  refresh();
  return { element, title: "Put off", refresh };
}

