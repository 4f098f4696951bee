// @ts-check
/** What another app has handed in, as the worker keeps it for Jot: taken out once. */

const CACHE = "mudproof-shared";

/** @returns {Promise<{words: string, photos: Blob[]} | null>} null where nothing came */
export async function takeShared() {
  if (!globalThis.caches || !(await caches.has(CACHE))) return null;
  const cache = await caches.open(CACHE);
  let words = "";
  /** @type {Blob[]} */
  const photos = [];
  for (const request of await cache.keys()) {
    const kept = await cache.match(request);
    if (new URL(request.url).pathname.endsWith("/words")) words = (await kept?.text()) || "";
    else if (kept) photos.push(await kept.blob());
  }
  await caches.delete(CACHE);
  return words || photos.length ? { words, photos } : null;
}
