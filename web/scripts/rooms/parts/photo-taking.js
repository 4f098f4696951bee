// @ts-check
/** A photo made small on the phone. Drawing it anew leaves behind where and when it was taken. */
import { sha256 } from "../../lib/sha256.js";

const LARGE_PX = 1600;
const SMALL_PX = 320;

/**
 * @param {Blob} file
 * @returns {Promise<{sha256: string, thumb: string, w: number, h: number, large: ArrayBuffer, small: ArrayBuffer}>} rejects with words for what is no picture
 */
export async function makeSmall(file) {
  let picture;
  try {
    picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch (error) {
    throw Object.assign(new Error(String(error)), { say: "That file is no picture this phone can read. Choose another." });
  }
  try {
    const large = await drawn(picture, LARGE_PX, 0.8);
    const small = await drawn(picture, SMALL_PX, 0.7);
    const [whole, thumb] = await Promise.all([sha256(large.bytes), sha256(small.bytes)]);
    return { sha256: whole, thumb, w: large.w, h: large.h, large: large.bytes, small: small.bytes };
  } finally {
    picture.close();
  }
}

/** @param {ImageBitmap} picture @param {number} most @param {number} quality @returns {Promise<{bytes: ArrayBuffer, w: number, h: number}>} */
async function drawn(picture, most, quality) {
  const scale = Math.min(1, most / Math.max(picture.width, picture.height));
  const [w, h] = [picture.width, picture.height].map((side) => Math.max(1, Math.round(side * scale)));
  const canvas = document.createElement("canvas");
  canvas.width = w;
  canvas.height = h;
  /** @type {any} */ (canvas.getContext("2d")).drawImage(picture, 0, 0, w, h);
  /** @type {Blob | null} */
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", quality));
  if (!blob) throw Object.assign(new Error("toBlob gave nothing"), { say: "The picture could not be made small enough. Close other apps, then try again." });
  return { bytes: await blob.arrayBuffer(), w, h };
}
