// @ts-check
/** A job opened, as elements: from what is to be seen, and what its keys do. */
import { h } from "../../lib/dom.js";
import { bullets, emptyBoard, row, section, sheet, soft } from "../../ui/board.js";
import { cautionGlyph, glyph } from "../../ui/glyphs.js";
import { readGrams } from "../../lib/amounts.js";
import { unitName } from "../../lib/quantities.js";
import { isBeside } from "../../lib/words.js";
import { chain } from "../../ui/chain.js";
import { heldKey, key, keyGroup, keys } from "../../ui/key.js";
import { titleParts } from "../../ui/label.js";
import { largeBar } from "../../ui/leeway-bar.js";
import { mark } from "../../ui/mark.js";
import { plate } from "../../ui/plate.js";
import { stepper } from "../../ui/stepper.js";
import { topRow } from "../../ui/top.js";
import { onTap } from "../../ui/touch.js";

/**
 * @typedef {import("./seen.js").Seen} Seen
 * @typedef {import("./seen.js").Way} Way
 * @typedef {import("../../types.js").Job} Job
 * @typedef {{done: (more: Record<string, any>) => void, undo: () => void, letGo: () => void, takeBack: () => void, tickOther: (job: Job) => void,
 *   chooseFor: (person: string | null) => void, some: (some: boolean) => void, open: (id: string) => void, batch: (id: string) => void,
 *   putOff: () => void, tomorrow: () => void, seen: () => void, sayMore: () => void, way: (way: import("../../types.js").Way) => void, still: () => void}} Does
 */

/** More than so many are counted, not tapped. */
const MOST_KEYS = 24;

/** @param {ReturnType<typeof import("./seen.js").seeWhere>} where @param {() => void} back */
export function drawWhere({ house, beds }, back) {
  return topRow(back, house && plate(house.walk, house.name), beds && h("span", { class: "bed" }, beds));
}

/** @param {() => void} toRound */
export function drawGone(toRound) {
  return emptyBoard("This job is not on the list any more: it was done, let go, or what it hung on has changed.", key("Back to the Round", toRound));
}

/** @param {Seen} seen @param {Does} does */
export function drawJob(seen, does) {
  const { job } = seen;
  return sheet(
    section(
      h("h1", { class: "big" }, titleParts(job)),
      isBeside(job) && h("p", { class: "soft" }, job.subject),
      seen.open && h("p", { class: seen.past ? "big-say past" : "big-say" }, seen.says, h("span", null, seen.minutes)),
      seen.loses && h("p", null, h("b", null, seen.loses)),
      seen.open && h("div", { class: "steel" }, largeBar(job, seen.today)),
      h("p", { class: "unseen" }, seen.span),
    ),
    seen.cautions.map(drawCaution),
    seen.pinched && h("div", { class: "sec pinched" }, h("h2", null, "Pinched"), h("p", null, seen.pinched)),
    seen.ways.length > 0 && section(h("h2", null, "Waiting on"), seen.ways.map((way) => drawWay(way, does)), seen.onlyOne && h("p", { class: "soft note" }, "Tick that and this one is ready.")),
    seen.chain.length > 0 && section(h("h2", null, "What hangs on what"), chain(seen.chain, does.open)),
    seen.why.length > 0 && row("Why", bullets(seen.why)),
    job.hint && row("How", h("p", null, job.hint)),
    seen.free && row("In the way", h("p", null, "Nothing now.")),
    seen.needs.length > 0 && row("Needs", bullets(seen.needs)),
    seen.plants && row("Plants", drawPlants(seen.plants, does)),
    seen.people && row("For", drawPeople(seen.people, does)),
    seen.toldBy && row("Told by", h("p", null, seen.toldBy)),
    seen.letsGo && !job.ways?.some((way) => way.id === "let_go" || way.id === "kept") && section(key("Let go", onTap(does.letGo), { look: "slim" }), h("p", { class: "soft note" }, "It is not done this time, and holds nothing back.")),
  );
}

/** @param {Seen["cautions"][0]} caution */
function drawCaution({ id, title, say }) {
  return h("div", { class: "caution", role: "note" }, h("p", { class: "caut" }, glyph(cautionGlyph(id), 28), title), h("p", null, say));
}

/** @param {Way} way @param {Does} does */
function drawWay({ text, says, before }, does) {
  if (!before) return h("p", { class: "block still" }, text);
  const open = () => does.open(before.id);
  return h(
    "div",
    { class: "block" },
    h("button", { class: "t", type: "button", onclick: open }, h("b", null, text), h("br"), soft(says)),
    before.state === "ready"
      ? h("button", { class: "well", type: "button", "aria-label": `Done: ${before.title}`, onclick: onTap(() => does.tickOther(before)) }, mark("ready"), "Done")
      : h("button", { class: "well", type: "button", "aria-label": `Open: ${before.title}`, onclick: open }, mark(before.state), before.state),
  );
}

/** @param {NonNullable<Seen["plants"]>} plants @param {Does} does */
function drawPlants({ id, name, lines }, does) {
  return h("div", null, bullets(lines), key(name, () => does.batch(id), { look: "slim gap" }));
}

/** @param {NonNullable<Seen["people"]>} people @param {Does} does */
function drawPeople(people, does) {
  if (!people.length) return h("p", { class: "soft" }, "whoever is there");
  return keys("", people.map(({ id, name, chosen }) => heldKey(name, chosen, () => does.chooseFor(chosen ? null : id), { look: "slim" })));
}

/** @param {import("./seen.js").Keys} keysSeen @param {Does} does */
export function drawKeys({ sort, done, beside }, does, /** @type {Job["ways"]} */ ways = []) {
  if (sort === "undo") return acts(great("Undo", does.undo));
  if (sort === "lapsed") return acts(h("p", { class: "soft" }, "It is not asked for any more."), great("Still to do", does.still));
  if (sort === "take back") return acts(great("Take it back", does.takeBack));
  const third = {
    some: () => key("Only some", () => does.some(true)),
    more: () => key("Say more", does.sayMore),
    "": () => key("Did it anyway", onTap(() => does.done({}))),
  }[beside]();
  const put = (/** @type {string} */ day, /** @type {(event: any) => void} */ act) => key([h("small", null, "put off to"), day], act, { "aria-label": `Put off to ${day}` });
  if (sort === "ways") return acts(drawWays(ways, does), beside ? keys("two", put("tomorrow", onTap(does.tomorrow)), put("another day", does.putOff)) : third);
  const others = keys("three", put("tomorrow", onTap(does.tomorrow)), put("another day", does.putOff), third);
  if (sort === "waits") return acts(others);
  if (sort === "look") return acts(keys("two", great("None seen", () => does.done({ level: "none" })), key("Seen", does.seen, { look: "done" })), others);
  return acts(great([glyph("tick", 34, 4), done], () => does.done({})), ways.length > 0 && drawWays(ways, does), others);
}

/** The answers a job may be given: each key writes what it says. @param {Job["ways"]} ways @param {Does} does */
function drawWays(ways, does) {
  const short = ways.length > 2 && ways.every((way) => way.say.length <= 12);
  const one = (/** @type {Job["ways"][0]} */ way) => key([way.say, way.note && h("small", null, way.note)], onTap(() => does.way(way)), { look: "way" });
  return keyGroup("Answers", ways.some((way) => way.note) ? "stacked" : short ? "three" : "two", ways.map(one));
}

/** How many, before an answer is written. @param {Job["ways"][0]} way @param {number} most @param {Does} does @param {(count: number) => void} write */
export function drawAsked(way, most, does, write) {
  const count = stepper({ value: Math.max(1, Math.floor(most / 2)), least: 0, most: 99999, name: "How many", small: true, onChange: () => {} });
  const act = () => {
    const many = count.value();
    if (many !== null) write(many);
  };
  return acts(h("p", null, h("b", null, `${way.say}: how many?`)), count.element, keys("two", key("Back", () => does.some(false)), great("Write it down", act)));
}

/** What a weight begins at. [g] */
const USUAL_G = 2000;

/** An answer that asks for a weight first; what comes in may stay unweighed. @param {import("../../types.js").Way} way @param {Does} does @param {(grams: number | null) => void} write */
export function drawWeighed(way, does, write) {
  const weighed = unitName("weight");
  const count = stepper({ value: USUAL_G, least: 0, step: 250, name: weighed === "g" ? "Grams" : "Ounces", under: weighed === "g" ? "grams" : "ounces", of: "weight", reads: readGrams });
  const act = () => {
    const grams = count.value();
    if (grams !== null) write(Math.round(grams));
  };
  const unweighed = way.tells[0]?.did === "store" && key("Not weighed", onTap(() => write(null)));
  return acts(h("p", null, h("b", null, `${way.say}: what weight?`)), count.element, keys(unweighed ? "three" : "two", key("Back", () => does.some(false)), unweighed, great("Write it down", act)));
}

/** Only some of them: a few are a key each, which writes; many are counted. @param {number} most @param {Does} does */
export function drawSome(most, does) {
  if (most > MOST_KEYS) return drawCounted(most, does);
  const numbers = Array.from({ length: most - 1 }, (_, at) => at + 1);
  return acts(
    h("p", null, h("b", null, "How many"), ` of the ${most} are done?`),
    keyGroup("How many are done", "many", numbers.map((many) => key(many, onTap(() => does.done({ count: many })), { look: "slim", "aria-label": `Done, ${many} of ${most}` }))),
    key("Back", () => does.some(false)),
  );
}

/** @param {number} most @param {Does} does */
function drawCounted(most, does) {
  const words = (/** @type {number} */ value) => `Done, ${value} of ${most}`;
  const half = Math.max(1, Math.floor(most / 2));
  const count = stepper({ value: half, least: 1, most: 99999, name: "How many", small: true, onChange: (value) => write.replaceChildren(words(value)) });
  const write = great(words(half), () => {
    const many = count.value();
    if (many !== null) does.done({ count: many });
  });
  return acts(count.element, keys("two", key("Back", () => does.some(false)), write));
}

/** @param {any} words @param {() => void} act */
function great(words, act) {
  return key(words, onTap(act), { look: "done" });
}

/** @param {...any} inside */
function acts(...inside) {
  return h("div", { class: "acts" }, h("div", { class: "in" }, inside));
}
