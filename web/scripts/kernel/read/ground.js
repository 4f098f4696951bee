// @ts-check
/**
 * The ground: places that nest, and the fixtures put up in them. A fixture that holds batches serves as a place under
 * its own id. Nesting comes from records and may be broken; a broken link simply ends the way outwards.
 */

/**
 * @typedef {{id: string, name: string, sort: string, walk: number, watering: string | null, areaDm2: number | null, path: string[],
 *   house: string, cover: string, heatedToC: number | null, climate: string}} Place areaDm2: length by width, whole dm²; climate: its cover, or the rulebook's name for the
 *   climate of a house that has one of its own.
 * @typedef {{id: string, name: string, sort: string, place: string | null, inWayOf: string[], firstUp: boolean, up: boolean,
 *   connected: boolean, since: number | null, drained: number | null}} Fixture drained: the day its water was let out, until it is
 *   connected again
 */

export const WATER_LINES = ["drip_line", "soaker_hose"];
/** Walking order of what has none: last. */
export const UNNUMBERED = 9999;

/** Every place and fixture by id, in order of id. */
export class Ground {
  /** @param {Map<string, Place>} places @param {Map<string, Fixture>} fixtures */
  constructor(places, fixtures) {
    this.places = places;
    this.fixtures = fixtures;
  }

  /** A place or fixture and all it lies in, outwards. @param {string | null | undefined} id @returns {string[]} */
  path(id) {
    if (id === null || id === undefined) return [];
    const place = this.places.get(id);
    if (place) return place.path;
    const fixture = this.fixtures.get(id);
    return fixture ? [id, ...this.path(fixture.place)] : [];
  }

  /** Whether a place is the outer one or lies in it. @param {string | null | undefined} id @param {string} outer */
  inside(id, outer) {
    return this.path(id).includes(outer);
  }

  /** The outermost place. @param {string | null | undefined} id @returns {string | null} */
  house(id) {
    const path = this.path(id);
    const last = path[path.length - 1];
    return path.length && this.places.has(last) ? last : null;
  }

  /** @param {string | null | undefined} id @returns {Place | null} */
  #nearest(id) {
    for (const step of this.path(id)) {
      const place = this.places.get(step);
      if (place) return place;
    }
    return null;
  }

  /** What is overhead; open ground where nothing is said. @param {string | null | undefined} id @returns {string} */
  cover(id) {
    return this.#nearest(id)?.cover ?? "open";
  }

  /**
   * The climate plants stand in there: a house's own where the rulebook knows it, else that of the cover.
   * @param {string | null | undefined} id
   * @returns {string}
   */
  climate(id) {
    return this.#nearest(id)?.climate ?? "open";
  }

  /** What a place is kept at. [whole °C] @param {string | null | undefined} id @returns {number | null} */
  heatedToC(id) {
    return this.#nearest(id)?.heatedToC ?? null;
  }

  /** What a place or fixture is called. @param {string | null | undefined} id @returns {string | null} */
  name(id) {
    if (id === null || id === undefined) return null;
    return this.places.get(id)?.name ?? this.fixtures.get(id)?.name ?? null;
  }

  /** Walking order; what has none comes last. @param {string | null | undefined} id @returns {number} */
  walk(id) {
    return this.#nearest(id)?.walk ?? UNNUMBERED;
  }
}

/**
 * The ground from visible records of kinds place and fixture, sorted by id. houses: climate by place, where it has one.
 * @param {any[]} places
 * @param {any[]} fixtures
 * @param {Record<string, string>} houses
 * @returns {Ground}
 */
export function readGround(places, fixtures, houses) {
  /** @type {Map<string, any>} */
  const raw = new Map(places.map((record) => [record.id, record.fields]));
  /** @type {Map<string, Place>} */
  const known = new Map();
  for (const [id, fields] of raw) {
    const path = wayOut(id, raw);
    /** @type {Place} */
    const place = {
      id,
      name: fields.name || id,
      sort: fields.sort || "bed",
      walk: fields.walk ?? UNNUMBERED,
      watering: fields.watering ?? null,
      areaDm2: areaOf(fields),
      path,
      house: path[path.length - 1],
      cover: "open",
      heatedToC: null,
      climate: "open",
    };
    const covered = path.find((step) => raw.get(step).cover);
    if (covered !== undefined) place.cover = raw.get(covered).cover;
    const heated = path.find((step) => (raw.get(step).heated_to_c ?? null) !== null);
    if (heated !== undefined) place.heatedToC = Math.floor(raw.get(heated).heated_to_c);
    place.climate = climateOf(path, raw, houses) ?? place.cover;
    known.set(id, place);
  }
  /** @type {Map<string, Fixture>} */
  const putUp = new Map();
  for (const { id, fields } of fixtures) {
    putUp.set(id, {
      id,
      name: fields.name || id,
      sort: fields.sort || "other",
      place: known.has(fields.place) ? fields.place : null,
      inWayOf: fields.in_way_of || [],
      firstUp: fields.up === true,
      up: fields.up === true,
      connected: false,
      since: null,
      drained: null,
    });
  }
  return new Ground(known, putUp);
}

/** Length by width. [whole dm²] @param {any} fields @returns {number | null} */
function areaOf(fields) {
  const [length, width] = [fields.length_cm ?? null, fields.width_cm ?? null];
  return length === null || width === null ? null : Math.floor((length * width) / 100);
}

/** @param {string[]} path @param {Map<string, any>} raw @param {Record<string, string>} houses @returns {string | null} */
function climateOf(path, raw, houses) {
  for (const step of path) {
    if (step in houses) return houses[step];
    if (raw.get(step).cover) return null;
  }
  return null;
}

/** @param {string} id @param {Map<string, any>} raw @returns {string[]} */
function wayOut(id, raw) {
  const path = [id];
  for (;;) {
    const outer = raw.get(path[path.length - 1]).within ?? null;
    if (outer === null || !raw.has(outer)) return path;
    if (path.includes(outer)) {
      const outermost = path.slice(path.indexOf(outer)).reduce((least, one) => (one < least ? one : least));
      return path.slice(0, path.indexOf(outermost) + 1);
    }
    path.push(outer);
  }
}
