/**
 * The service worker: keeps one whole version of the shell, and nothing else. The list of files with their hashes is
 * filled in by the server. A new version waits until the page says so; records never pass through here.
 */
const SHELL = /*SHELL*/ {"version": "dev", "files": []};
const PREFIX = "mudproof-shell-";
const CACHE = PREFIX + SHELL.version;
const LISTED = new Map(SHELL.files);
const NOT_OURS = ["/api/", "/recover", "/health", "/service-worker.js"];
/** What another app hands in lies here until Jot takes it; it goes nowhere else. */
const SHARED = "/shared";
const SHARED_CACHE = "mudproof-shared";
const MOST_PHOTOS = 20;
const LAST_RESORT =
  "<!doctype html><html lang=en-GB><meta charset=utf-8><meta name=viewport content='width=device-width'>" +
  "<title>Mudproof</title><h1>Mudproof cannot open just now</h1><p>What you wrote down is safe on this phone. " +
  "Come back when there is signal, or open /recover.";

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method === "POST" && url.origin === self.location.origin && url.pathname === SHARED) event.respondWith(takeShared(event.request));
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (NOT_OURS.some((path) => url.pathname.startsWith(path))) return;
  const path = event.request.mode === "navigate" ? "/" : url.pathname;
  if (LISTED.has(path)) event.respondWith(answer(path, event.request));
});
self.addEventListener("message", (event) => {
  if (event.data === "skip-waiting") self.skipWaiting();
  if (event.data === "mend") event.waitUntil(mend());
});

/** Fetch every file past the HTTP cache and check its hash: all or nothing. */
async function install() {
  const cache = await caches.open(CACHE);
  try {
    await Promise.all(SHELL.files.map(async ([path]) => (await cache.match(path)) || keep(cache, path)));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

/** One file of this very version, kept. @param {Cache} cache @param {string} path @returns {Promise<Response>} */
async function keep(cache, path) {
  const response = await fetch(path, { cache: "reload" });
  if (!response.ok) throw new Error(`${path}: status ${response.status}`);
  const body = await response.arrayBuffer();
  if ((await hash(body)) !== LISTED.get(path)) throw new Error(`${path}: not the file of this version`);
  const headers = new Headers();
  for (const name of ["content-type", "content-security-policy", "x-content-type-options", "referrer-policy", "cross-origin-opener-policy"]) {
    const value = response.headers.get(name);
    if (value) headers.set(name, value);
  }
  const kept = new Response(body, { headers });
  await cache.put(path, kept.clone());
  return kept;
}

/** Take away our own older versions, nobody else's caches. */
async function activate() {
  for (const name of await caches.keys()) if (name.startsWith(PREFIX) && name !== CACHE) await caches.delete(name);
  await self.clients.claim();
}

/** From the cache alone; a file that the browser has let go of is fetched again, never one of another version. @param {string} path @param {Request} request */
async function answer(path, request) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(path);
  if (kept) return kept;
  try {
    return await keep(cache, path);
  } catch (error) {
    if (request.mode !== "navigate") throw error;
    return new Response(LAST_RESORT, { headers: { "content-type": "text/html; charset=utf-8" } });
  }
}

/** Fill the holes that a browser short of room has made, while the server is there. */
async function mend() {
  const cache = await caches.open(CACHE);
  await Promise.allSettled(SHELL.files.map(async ([path]) => (await cache.match(path)) || keep(cache, path)));
}

/** Words and photos that another app shares, kept for Jot, which is opened on them. @param {Request} request */
async function takeShared(request) {
  try {
    const form = await request.formData();
    await caches.delete(SHARED_CACHE);
    const cache = await caches.open(SHARED_CACHE);
    const words = ["title", "text", "url"].map((name) => form.get(name)).filter((one) => typeof one === "string" && one.trim());
    await cache.put(`${SHARED}/words`, new Response([...new Set(words)].join("\n")));
    const photos = form.getAll("photos").filter((one) => one instanceof File && one.size > 0).slice(0, MOST_PHOTOS);
    await Promise.all(photos.map((photo, at) => cache.put(`${SHARED}/photos/${at}`, new Response(photo))));
  } catch (error) {
    console.error("what was shared could not be kept", error); // Jot says that nothing came
  }
  return Response.redirect("/#/jot/shared", 303);
}

/** @param {ArrayBuffer} body */
async function hash(body) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
