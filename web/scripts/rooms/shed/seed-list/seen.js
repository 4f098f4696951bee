// @ts-check
/** What is to be seen of a list of seeds that the server has read. Pure. */
import { cropChoices } from "../../../household/names.js";
import { counted, kept } from "../../../lib/words.js";

/**
 * @typedef {import("./seed-rows.js").Packet} Packet
 * @typedef {{problem?: string, good: Packet[], unknown: {name: string, lines: number[], near: string[]}[], left_out: number,
 *   bad: {line: number, why: string}[]}} Found the server's answer
 */

const SHOWN = 30;
const LINES_NAMED = 8;

/**
 * Names nobody knows come first, one at a time; then what can be taken.
 * @param {import("../../../store/book.js").Book} book
 * @param {Found} found
 * @param {Set<string>} passed names that are to be left out
 */
export function seeFound(book, found, passed) {
  if (found.problem) return { problem: found.problem };
  const strange = found.unknown.find((one) => !passed.has(one.name));
  return strange ? { question: seeQuestion(book, strange) } : { packets: seePackets(book, found) };
}

/** @param {import("../../../store/book.js").Book} book @param {Found["unknown"][0]} strange */
function seeQuestion(book, { name, lines, near }) {
  const named = `${lines.length === 1 ? "line" : "lines"} ${lines.slice(0, LINES_NAMED).join(", ")}`;
  return {
    name,
    words: kept(`What is “${name}”? It stands on ${named}.`),
    near: near.map((id) => ({ id, many: book.rulebook.crops?.[id]?.many || id })),
    crops: cropChoices(book),
  };
}

/** @param {import("../../../store/book.js").Book} book @param {Found} found */
function seePackets(book, found) {
  const { good } = found;
  return {
    title: kept(`${counted(good.length, "packet")} can be taken`),
    lines: good.slice(0, SHOWN).map((packet) => ({ name: packet.variety, crop: book.rulebook.crops?.[packet.crop]?.many || packet.crop, facts: factWords(packet) })),
    more: good.length > SHOWN ? `and ${good.length - SHOWN} more` : "",
    key: good.length === 1 ? "Take it" : `Take these ${good.length}`,
    leftOut: found,
  };
}

/** @param {Packet} packet */
function factWords({ germination_pct, seeds, weight_g }) {
  return kept([germination_pct !== null && `${germination_pct} % come up`, seeds !== null && counted(seeds, "seed"), weight_g !== null && `${weight_g} g`].filter(Boolean).join(", "));
}
