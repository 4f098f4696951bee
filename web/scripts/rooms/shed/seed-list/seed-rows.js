// @ts-check
/** Packets of a seed list as varieties of the book. Pure. */
import { ownNumbers, ownWish } from "../../../household/crop-numbers.js";
import { countedSeeds } from "../../../household/seeds.js";

const GERMINATION = "numbers.germination_pct";

/** @typedef {{variety: string, crop: string, germination_pct: number | null, seeds: number | null, weight_g: number | null}} Packet */

/**
 * What has to be written so that these packets are in the book. A variety of that name is not made twice; what the packet
 * says of its seed becomes the variety's own number.
 * @param {any} book
 * @param {Packet[]} packets
 * @param {() => string} newId
 * @param {string} today
 * @returns {{id: string, kind: string, fields: Record<string, any>}[]}
 */
export function seedWishes(book, packets, newId, today) {
  return packets.flatMap((packet) => {
    const held = book.ofKind("variety").find((/** @type {any} */ one) => one.fields.crop === packet.crop && plain(one.fields.name) === plain(packet.variety));
    const id = held?.id ?? newId();
    /** @type {Record<string, any>} */
    const fields = held ? {} : { name: packet.variety, crop: packet.crop };
    if (packet.seeds !== null && packet.seeds !== held?.fields.seeds) Object.assign(fields, countedSeeds(packet.seeds, today));
    if (packet.weight_g !== null && packet.weight_g !== held?.fields.weight_g) fields.weight_g = packet.weight_g;
    const wishes = Object.keys(fields).length ? [{ id, kind: "variety", fields }] : [];
    const percent = packet.germination_pct === null ? null : Math.round(packet.germination_pct);
    const sown = book.rulebook.crops?.[packet.crop]?.seeds_for !== "100"; // sets and tubers have no such number
    if (percent !== null && sown && ownNumbers(book, "variety", id).get(GERMINATION) !== percent) wishes.push(ownWish(book, { crop: packet.crop, variety: id }, GERMINATION, percent));
    return wishes;
  });
}

/** @param {unknown} name */
function plain(name) {
  return String(name ?? "").trim().toLowerCase();
}
