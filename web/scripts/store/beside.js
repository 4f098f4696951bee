// @ts-check
/**
 * Small things kept beside the store: how the page looks, what is being typed, the list of last time. A browser may forbid or fill
 * this place; nothing that the household wrote down hangs on it, so it is then as if nothing had been kept.
 */

/** @param {string} name @returns {string | null} */
export function readBeside(name) {
  try {
    return localStorage.getItem(name);
  } catch {
    return null;
  }
}

/** @param {string} name @param {string} text @returns {boolean} whether it is kept */
export function keepBeside(name, text) {
  try {
    localStorage.setItem(name, text);
    return true;
  } catch {
    return false;
  }
}

/** @param {string} name */
export function dropBeside(name) {
  try {
    localStorage.removeItem(name);
  } catch {
    // nothing was kept
  }
}

/** @returns {string[]} */
export function namesBeside() {
  try {
    return Object.keys(localStorage);
  } catch {
    return [];
  }
}
