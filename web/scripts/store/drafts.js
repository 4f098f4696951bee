// @ts-check
/** Drafts: what is being typed, kept beside the store so that no error and no closing loses it. */

const PREFIX = "mudproof.draft.";

/** @param {string} key @param {any} value */
export function saveDraft(key, value) {
  try {
    localStorage.setItem(PREFIX + key, JSON.stringify(value));
  } catch {
    // a full phone still has it on screen
  }
}

/** @param {string} key @returns {any} */
export function readDraft(key) {
  try {
    return JSON.parse(localStorage.getItem(PREFIX + key) || "null");
  } catch {
    return null;
  }
}

/** @param {string} key */
export function dropDraft(key) {
  try {
    localStorage.removeItem(PREFIX + key);
  } catch {
    // nothing was kept
  }
}

/** Whether anything is being typed in any window. @returns {boolean} */
export function anyDraft() {
  try {
    return Object.keys(localStorage).some((key) => key.startsWith(PREFIX));
  } catch {
    return false;
  }
}
