// @ts-check
/** The way out of a broken worker: takes away the worker and its caches, never what was written down. */

const say = document.getElementById("say");
try {
  for (const registration of (await navigator.serviceWorker?.getRegistrations()) ?? []) await registration.unregister();
  if ("caches" in globalThis) {
    for (const name of await caches.keys()) if (name.startsWith("mudproof-shell-")) await caches.delete(name);
  }
  if (say) say.textContent = "Done. What you wrote down is still on this phone.";
} catch (error) {
  if (say) say.textContent = `It could not be done (${error}). Close every Mudproof window and try again.`;
}
