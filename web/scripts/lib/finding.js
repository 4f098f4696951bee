// @ts-check
/** Finding by what was typed. */

/** Whether every word that was typed is somewhere in a text. @param {string} text @param {string} asked */
export function holds(text, asked) {
  const plain = plainText(text);
  return plainText(asked).split(/\s+/).filter(Boolean).every((word) => plain.includes(word));
}

/** Small letters without accents: nobody types those with a wet thumb. @param {string} text */
function plainText(text) {
  return text.toLowerCase().normalize("NFD").replace(/\p{M}/gu, "").replaceAll("\u00a0", " ");
}
