// @ts-check
/**
 * Registering the service worker, and bringing in a new version only when the grower says so (or when nothing is being
 * written). Knows nothing of the app.
 */

const WORKER = "/service-worker.js";
const LOOK_EACH_MS = 3600_000;

/** @returns {any} the worker's address as the page's policy wants it */
function trustedWorker() {
  const types = /** @type {any} */ (globalThis).trustedTypes;
  if (!types) return WORKER;
  const policy = types.createPolicy("app", {
    createScriptURL: (/** @type {string} */ url) => {
      if (url !== WORKER) throw new TypeError(`${url} is not our worker`);
      return url;
    },
  });
  return policy.createScriptURL(WORKER);
}

/**
 * @param {{onReady: () => void, onUpdate: (take: () => void) => void, reload: () => void}} given
 * @returns {Promise<boolean>} whether the app can open without the server
 */
export async function registerWorker({ onReady, onUpdate, reload }) {
  if (!("serviceWorker" in navigator)) return false;
  const container = navigator.serviceWorker;
  const hadOne = Boolean(container.controller);
  /** @type {ServiceWorkerRegistration | undefined} What some browsers give where workers are forbidden. */
  let given;
  try {
    given = await container.register(trustedWorker(), { updateViaCache: "none" });
  } catch (error) {
    console.warn("no service worker", error);
    return false;
  }
  if (!given) return false;
  const registration = given;
  let asked = false;
  container.addEventListener("controllerchange", () => {
    if (!hadOne && !asked) {
      onReady();
      return;
    }
    if (asked) {
      asked = false;
      reload();
    }
  });
  const offer = () => {
    const waiting = registration.waiting;
    if (!waiting || !container.controller) return;
    onUpdate(() => {
      asked = true;
      (registration.waiting || waiting).postMessage("skip-waiting");
    });
  };
  offer();
  registration.addEventListener("updatefound", () => {
    const fresh = registration.installing;
    fresh?.addEventListener("statechange", () => {
      if (fresh.state === "installed") offer();
    });
  });
  const look = () => void registration.update().catch(() => {});
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") look();
  });
  setInterval(look, LOOK_EACH_MS);
  container.controller?.postMessage("mend");
  return true;
}
