// @ts-check
/** The plain forms: what can be said of each kind of thing. */

const DEGREES = [["C", "°C"], ["F", "°F"]];
const UNITS = [["metric", "centimetres, kilograms, litres"], ["us", "inches, pounds, US gallons"], ["imperial", "inches, pounds, imperial gallons"]];
const SORTS = [["house", "a house or plot"], ["bed", "a bed"], ["border", "a border"], ["bench", "a bench"], ["shelf", "a shelf"], ["propagator", "a propagator"], ["frame", "a frame"], ["store", "a store: cellar, loft, clamp"]];
const COVERS = [["glass", "glass"], ["tunnel", "tunnel"], ["frame", "cold frame"], ["open", "open sky"], ["indoors", "indoors"]];
const BEGINS = [["seed", "seed"], ["plants", "plants that are bought"], ["cuttings", "cuttings"]];
const PATTERNS = [["square", "in a square"], ["staggered", "staggered"], ["rows", "in rows"]];
const VESSELS = [["pot", "a pot"], ["tray", "a seed tray"], ["cells", "a tray of modules"]];
const WATERING = [["hand", "by hand"], ["drip", "drip line"], ["soaker", "soaker hose"], ["none", "no watering"]];
const FIXTURES = [["shelf", "a shelf"], ["trestle", "a trestle"], ["strings", "strings or wires"], ["drip_line", "a drip line"], ["soaker_hose", "a soaker hose"], ["mesh", "mesh"], ["fleece", "fleece"], ["heater", "a heater"], ["other", "something else"]];

const IN_THE_WAY_OF = [["sow", "Sowing"], ["plant_out", "Planting out"], ["string", "Stringing"], ["train", "Tying in"], ["water", "Watering"], ["feed", "Feeding"], ["treat", "Treating"], ["look", "Looking over"], ["pick", "Picking"], ["clear", "Clearing"]];

/** @typedef {import("../../parts/form.js").Shape} Shape */

/** @type {Record<string, {title: string, one: string, shapes: Shape[]}>} */
export const FORMS = {
  site: {
    title: "Where you are",
    one: "place",
    shapes: [
      { name: "name", label: "What the garden is called", sort: "line", help: "may stay empty" },
      { name: "lat", label: "Latitude, degrees", sort: "number", least: -90, most: 90, help: "north is above 0" },
      { name: "lon", label: "Longitude, degrees", sort: "number", least: -180, most: 180, help: "east is above 0" },
      { name: "tz", label: "Time zone", sort: "line", help: "like Europe/London" },
      { name: "degrees", label: "Warmth is told in", sort: "choice", choices: DEGREES, help: "left empty: °C" },
      { name: "units", label: "Lengths, weights and volumes", sort: "choice", choices: UNITS, help: "left empty: metric. 12 in, 2 lb 3 oz, 70 F or 2.3 kg can be typed whichever is chosen" },
      { name: "last_frost", label: "Last frost of spring", sort: "month-day", help: "day and month, like 12 May" },
      { name: "first_frost", label: "First frost of autumn", sort: "month-day", help: "day and month, like 18 October" },
    ],
  },
  place: {
    title: "A place",
    one: "place",
    shapes: [
      { name: "name", label: "What you call it", sort: "line", required: true },
      { name: "sort", label: "It is", sort: "choice", choices: SORTS, required: true },
      { name: "within", label: "Inside", sort: "fixture-place", help: "left empty: it stands by itself" },
      { name: "cover", label: "Over it", sort: "choice", choices: COVERS, help: "left empty: as where it lies" },
      { name: "length_cm", label: "Length", sort: "length", least: 0.1, most: 100000 },
      { name: "width_cm", label: "Width", sort: "length", least: 0.1, most: 100000 },
      { name: "x_cm", label: "From the door along", sort: "length", least: 0, most: 100000, help: "where its nearest corner lies in its house; left empty: in order" },
      { name: "y_cm", label: "From the left side", sort: "length", least: 0, most: 100000 },
      { name: "bearing", label: "Its way in runs, degrees from north", sort: "whole", least: 0, most: 359, help: "of a house: 0 from south to north, 90 from west to east; for the light on its rows" },
      { name: "heated_to_c", label: "Kept at", sort: "degrees", least: 0, most: 45, help: "only if it is heated" },
      { name: "night_gain_c", label: "Nights above outside by", sort: "warmer", least: -5, most: 20, help: "left empty: as usual under such a cover, or as its thermometer teaches" },
      { name: "watering", label: "Watered", sort: "choice", choices: WATERING },
      { name: "notes", label: "A word", sort: "words" },
    ],
  },
  fixture: {
    title: "Something put up",
    one: "fixture",
    shapes: [
      { name: "name", label: "What you call it", sort: "line", required: true, help: "as it stands in a sentence: the trestle" },
      { name: "sort", label: "It is", sort: "choice", choices: FIXTURES, required: true },
      { name: "place", label: "Where", sort: "fixture-place", required: true },
      { name: "in_way_of", label: "In the way of", sort: "verbs", choices: IN_THE_WAY_OF, help: "that work waits until it is taken down" },
      { name: "holds", label: "Plants can stand on it", sort: "yes" },
      { name: "up", label: "It is up now", sort: "yes", atFirst: true },
      { name: "notes", label: "A word", sort: "words" },
    ],
  },
  variety: {
    title: "A variety",
    one: "variety",
    shapes: [
      { name: "name", label: "What the packet says", sort: "line", required: true },
      { name: "crop", label: "It is a kind of", sort: "crop", required: true },
      { name: "seeds", label: "Seeds in hand", sort: "whole", least: 0, most: 1000000, help: "may stay empty; what is sown from now on is taken off" },
      { name: "seed_year", label: "Gathered or packed for", sort: "whole", least: 1900, most: 2200, help: "a year; old seed comes up thinner, and more of it is sown" },
      { name: "notes", label: "A word", sort: "words" },
    ],
  },
  batch: {
    title: "A batch",
    one: "batch",
    shapes: [
      { name: "variety", label: "Of which variety", sort: "variety", required: true },
      { name: "year", label: "Year of its first step", sort: "whole", least: 1900, most: 2200, required: true },
      { name: "want", label: "Plants wanted", sort: "whole", least: 0, most: 100000, help: "left empty: nobody counts" },
      { name: "for_place", label: "Where they end", sort: "place" },
      { name: "save_seed", label: "Some are left for seed", sort: "yes" },
      { name: "begins", label: "Raised from", sort: "choice", choices: BEGINS, help: "left empty: with seed, sets or what is at hand" },
      { name: "sow_on", label: "Your own day for the first step", sort: "date", help: "left empty: the list proposes" },
      { name: "follows", label: "Takes over from", sort: "batch" },
      { name: "near", label: "Stands at the foot of", sort: "batch", help: "in the same bed: between its plants or rows" },
      { name: "spacing_cm", label: "Spacing", sort: "length", least: 0.1, most: 100000 },
      { name: "row_cm", label: "Rows apart", sort: "length", least: 0.1, most: 100000 },
      { name: "rows", label: "Rows", sort: "whole", least: 1, most: 1000 },
      { name: "pattern", label: "Planted", sort: "choice", choices: PATTERNS, help: "left empty: in a square or in rows, as the distances say" },
      { name: "turned", label: "Rows run across the bed", sort: "yes" },
      { name: "at_cm", label: "Begins from the door end at", sort: "length", least: 0, most: 100000, help: "left empty: after what stands there before it" },
      { name: "run_cm", label: "Takes of the bed's length", sort: "length", least: 0.1, most: 100000, help: "left empty: as much as its plants need" },
      { name: "end_cm", label: "Kept free at its edges", sort: "length", least: 0, most: 1000, help: "left empty: half the spacing" },
      { name: "left_cm", label: "A strip of its own, from the left edge at", sort: "length", least: 0, most: 100000, help: "seen from the door end; left empty: from that edge" },
      { name: "wide_cm", label: "That strip is wide", sort: "length", least: 0.1, most: 100000, help: "others can stand beside it; left empty: as far as the other edge" },
      { name: "pot_l", label: "Stays in pots of", sort: "volume", least: 0.01, most: 1000 },
      { name: "name", label: "A name of its own", sort: "line" },
      { name: "notes", label: "A word", sort: "words" },
    ],
  },
  job: {
    title: "A job by hand",
    one: "job",
    shapes: [
      { name: "title", label: "What is to be done", sort: "line", required: true, help: "verb first: Mend the tunnel door" },
      { name: "place", label: "Where", sort: "place" },
      { name: "batch", label: "To which plants", sort: "batch" },
      { name: "answers", label: "To be decided: the answers", sort: "list", least: 2, most: 6, help: "one a line; left empty, it is something to do" },
      { name: "from", label: "From", sort: "date" },
      { name: "by_day", label: "By", sort: "date" },
      { name: "every_days", label: "Again every, days", sort: "whole", least: 1, most: 366 },
      { name: "minutes", label: "Minutes", sort: "whole", least: 0, most: 1440 },
      { name: "for", label: "For", sort: "person" },
    ],
  },
  vessel: {
    title: "A pot or tray",
    one: "pot or tray",
    shapes: [
      { name: "sort", label: "It is", sort: "choice", choices: VESSELS, required: true },
      { name: "name", label: "What you call it", sort: "line", help: "may stay empty" },
      { name: "litres", label: "Filled with", sort: "volume", least: 0.001, most: 1000, help: "the whole tray or pot" },
      { name: "cells", label: "Modules to a tray", sort: "whole", least: 1, most: 1000, help: "of a tray of modules" },
      { name: "length_cm", label: "Long, or across the rim", sort: "length", least: 1, most: 300, help: "from outside" },
      { name: "width_cm", label: "Wide", sort: "length", least: 1, most: 300, help: "left empty: a pot is as wide as it is long" },
      { name: "held", label: "How many there are", sort: "whole", least: 0, most: 100000 },
    ],
  },
  person: {
    title: "A person",
    one: "person",
    shapes: [{ name: "name", label: "Name", sort: "line", required: true }],
  },
};
