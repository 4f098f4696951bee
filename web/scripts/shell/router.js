// @ts-check
/** Which room is open, by the part of the address after the hash. Knows nothing of what rooms do. */

/**
 * @typedef {{element: HTMLElement, title: string, refresh?: (what: string) => void, leave?: () => void, bare?: boolean}} Room
 * @typedef {{name: string, params: string[]}} Way
 */

/** `#/job/b1.sow` as `{name: "job", params: ["b1.sow"]}`. @param {string} hash @returns {Way} */
export function readWay(hash) {
  const parts = hash.replace(/^#\/?/, "").split("/").filter(Boolean).map((part) => {
    try {
      return decodeURIComponent(part);
    } catch {
      return part;
    }
  });
  return { name: parts[0] || "round", params: parts.slice(1) };
}

/** The address of a room. @param {string} name @param {...string} params @returns {string} */
export function wayTo(name, ...params) {
  return `#/${[name, ...params].map(encodeURIComponent).join("/")}`;
}
