// @ts-check
/** What is to be seen when a phone joins. Pure. */

const KINDS = [["iPhone", "iPhone"], ["iPad", "iPad"], ["Android", "Android phone"], ["Windows", "Windows computer"], ["Macintosh", "Mac"], ["Linux", "Linux computer"]];

export const KEEPS_NOTHING = "This window keeps nothing (a private one, perhaps), so it cannot join: it would be forgotten as soon as it is closed. Open Mudproof in an ordinary window and join there.";

/** A first guess at what a phone is called, to be changed. @param {string} agent the browser's own words @returns {string} */
export function phoneName(agent) {
  return KINDS.find(([word]) => agent.includes(word))?.[1] || "Phone";
}

/** @param {import("../../types.js").Sharing} sharing @returns {string[]} */
export function notesOf(sharing) {
  const notes = ["The code is on the server's screen when it starts, or in the Shed of a phone that has joined. It is good for ten minutes and for one phone."];
  if (sharing.kept > 0) notes.push("What is kept on this phone is shared as soon as it has joined.");
  return notes;
}
