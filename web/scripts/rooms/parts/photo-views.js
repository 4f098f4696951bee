// @ts-check
/** Photos as rooms show them: at once from this phone, else from the server; and a strip to add some. */
import { h } from "../../lib/dom.js";
import { forgetPhoto, keepPhoto, photoKept } from "../../store/photos.js";
import { makeSmall } from "./photo-taking.js";

/** @typedef {{sha256: string, thumb: string, w: number, h: number}} Taken A photo that lies in this phone's store. */

/**
 * A picture by its hash. One that is neither here nor to be had says so instead.
 * @param {string} sha256
 * @param {{words: string, keep: boolean}} given keep: whether it stays on this phone once fetched
 */
export function photoImage(sha256, { words, keep }) {
  const image = h("img", { alt: words, class: "photo", decoding: "async" });
  const missing = () => image.replaceWith(h("span", { class: "photo none" }, "not on this phone yet"));
  void (async () => {
    const held = await photoKept(sha256).catch(() => undefined);
    let bytes = held?.bytes;
    if (!bytes) {
      const answer = await fetch(`/api/photos/${sha256}`).catch(() => null);
      if (!answer?.ok) {
        missing();
        return;
      }
      bytes = await answer.arrayBuffer();
      if (keep) await keepPhoto({ sha256, bytes, waiting: 0, small: 1 }).catch(() => {}); // a full phone shows it all the same
    }
    const url = URL.createObjectURL(new Blob([bytes], { type: "image/jpeg" }));
    image.onload = () => URL.revokeObjectURL(url);
    image.onerror = missing;
    image.src = url;
  })();
  return image;
}

/** The thumbnails of a deed, each opening large. @param {any} context @param {any} fields of a diary record */
export function photoStrip(context, fields) {
  const photos = (fields.photos || []).map((/** @type {string} */ id) => [id, context.book.fields(id)]).filter((/** @type {any[]} */ [, photo]) => photo.thumb);
  if (!photos.length) return null;
  return h("div", { class: "photos" }, photos.map((/** @type {any[]} */ [id, photo], /** @type {number} */ at) => h("button", { type: "button", "aria-label": `Photo ${at + 1} of ${photos.length}, large`, onclick: () => context.go("photo", id) }, photoImage(photo.thumb, { words: "", keep: true }))));
}

/** Both sizes or neither: half a photo would take room for nothing. @param {any} made by makeSmall */
async function keepBoth(made) {
  await keepPhoto({ sha256: made.thumb, bytes: made.small, waiting: 1, small: 1 });
  try {
    await keepPhoto({ sha256: made.sha256, bytes: made.large, waiting: 1, small: 0 });
  } catch (error) {
    await forgetPhoto(made.thumb).catch(() => {}); // it would only lie there unnamed
    throw error;
  }
}

/** One more photo, made small and kept on this phone. @param {Blob} file @param {Taken[]} taken */
export async function takePhoto(file, taken) {
  const made = await makeSmall(file);
  await keepBoth(made);
  const { sha256, thumb, w, h: tall } = made;
  if (!taken.some((one) => one.sha256 === sha256)) taken.push({ sha256, thumb, w, h: tall });
}

/**
 * A key that takes a photo and the small pictures of those taken. `taken` is filled in place and belongs to the caller.
 * @param {any} context
 * @param {Taken[]} taken
 * @param {() => void} redraw
 */
export function photoTaker(context, taken, redraw) {
  const said = h("small", { class: "bad", role: "alert", hidden: true });
  /** @param {any} event */
  async function take(event) {
    const files = [...(event.target.files || [])];
    said.hidden = true;
    for (const file of files.slice(0, 20 - taken.length)) {
      try {
        await takePhoto(file, taken);
      } catch (/** @type {any} */ error) {
        said.hidden = false;
        said.textContent = error.sort === "full" ? "The phone is full, so the photo is not kept. What you typed is still here: write it down without, or free some space and take the photo again." : error.say || "The photo could not be kept. What you typed is still here.";
        return;
      }
    }
    redraw();
  }

  /** @param {number} at */
  function leaveOut(at) {
    const [one] = taken.splice(at, 1);
    const used = context.book.ofKind("photo").some((/** @type {any} */ photo) => photo.fields.sha256 === one.sha256);
    if (!used) for (const mark of [one.sha256, one.thumb]) void forgetPhoto(mark);
    redraw();
  }

  return h(
    "div",
    { class: "field" },
    taken.length > 0 && h("div", { class: "photos" }, taken.map((one, at) => h("button", { type: "button", "aria-label": `Leave photo ${at + 1} out`, onclick: () => leaveOut(at) }, photoImage(one.thumb, { words: "", keep: false }), h("small", null, "leave out")))),
    h("label", { class: "key file slim" }, taken.length ? "One more photo" : "A photo", h("input", { type: "file", class: "unseen", accept: "image/*", capture: "environment", onchange: take })),
    said,
  );
}

/** What has to be written beside a deed, and the ids it names. @param {Taken[]} taken @param {any} context */
export function photoWishes(taken, context) {
  const wishes = taken.map((one) => ({ id: context.newId(), kind: "photo", fields: { sha256: one.sha256, thumb: one.thumb, w: one.w, h: one.h, taken: context.today() } }));
  return { wishes, ids: wishes.map((wish) => wish.id) };
}
