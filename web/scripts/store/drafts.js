// @ts-check
/** Drafts: what is being typed, kept beside the store so that no error and no closing loses it. A full phone still has it on screen. */
import { dropBeside, keepBeside, namesBeside, readBeside } from "./beside.js";

const PREFIX = "mudproof.draft.";

/** @param {string} key @param {any} value */
export function saveDraft(key, value) {
  keepBeside(PREFIX + key, JSON.stringify(value));
}

/** @param {string} key @returns {any} */
export function readDraft(key) {
  try {
    return JSON.parse(readBeside(PREFIX + key) || "null");
  } catch {
    return null;
  }
}

/** @param {string} key */
export function dropDraft(key) {
  dropBeside(PREFIX + key);
}

/** Whether anything is being typed in any window. @returns {boolean} */
export function anyDraft() {
  return namesBeside().some((key) => key.startsWith(PREFIX));
}
