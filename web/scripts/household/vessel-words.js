// @ts-check
/** What pots and trays are called. Pure. */
import { counted } from "../lib/words.js";

/** @typedef {{sort: string, length: number, width: number, cells: number}} Vessel [mm] cells: modules to a tray */

/** A seed tray shorter than this is half of one. [mm] */
const HALF_MM = 250;

/** One, and several: `pot of 9 cm` and `pots of 9 cm`, `tray of 24`, `seed tray`. @param {Vessel} vessel @returns {[string, string]} */
export function vesselNames({ sort, length, width, cells }) {
  if (sort === "pot") return [`pot of ${width / 10}\u00a0cm`, `pots of ${width / 10}\u00a0cm`];
  if (sort === "cells") return [`tray of ${cells}`, `trays of ${cells}`];
  return length < HALF_MM ? ["half seed tray", "half seed trays"] : ["seed tray", "seed trays"];
}

/** `14 pots of 9 cm`. @param {Vessel & {many: number}} filled */
export function vesselWords(filled) {
  return counted(filled.many, ...vesselNames(filled));
}
