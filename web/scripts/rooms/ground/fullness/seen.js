// @ts-check
/** What is to be seen of room through the year: each place with its weeks, and what could move where it is too full. Pure. */
import { fullPlace, houses, inside, placeName, within } from "../../../household/names.js";
import { couldMove, overflowWords, overflows } from "../../../household/room-working.js";
import { kept } from "../../../lib/words.js";
import { seeTime } from "../place/bed-seen.js";

/** @param {import("../../../store/book.js").Book} book @param {import("../../../household/bed-working.js").Room} room @param {string} today */
export function seeFullness(book, room, today) {
  const known = new Set(room.places.map((place) => place.id));
  const all = houses(book).map((house) => ({ id: house.id, name: kept(placeName(book, house.id)), places: within(book, house.id).filter((id) => known.has(id)).map((id) => seePlace(book, room, id, house.id, today)) }));
  const unsized = book.ofKind("place").filter(({ id, fields }) => !known.has(id) && fields.sort !== "store" && !inside(book, id).length);
  return {
    houses: all.filter(({ places }) => places.length),
    over: all.flatMap(({ places }) => places.flatMap(({ over }) => over)).length,
    unsized: unsized.length ? kept(`Without a size, and so not here: ${unsized.map(({ id }) => fullPlace(book, id)).join("; ")}.`) : "",
  };
}

/** @param {import("../../../store/book.js").Book} book @param {import("../../../household/bed-working.js").Room} room @param {string} id @param {string} house @param {string} today */
function seePlace(book, room, id, house, today) {
  const over = overflows(room, id, today).map((one) => ({ says: kept(overflowWords(book, one, today).replace(`${fullPlace(book, id)} is too`, "Too")), ways: couldMove(book, room, one, today).map(kept) }));
  const time = seeTime(room, [id], today, Number(today.slice(0, 4)), today);
  const now = time.weeks[time.week] ?? 0;
  return { id, name: kept(id === house ? placeName(book, id) : fullPlace(book, id).split(", ").slice(1).join(", ")), says: now ? kept(`${now} % taken now`) : "empty now", over, strip: { from: time.from, weeks: time.weeks, week: null, now: time.now } };
}
