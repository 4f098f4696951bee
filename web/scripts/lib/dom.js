// @ts-check
/** Making elements. Text always goes in as text; there is no way to hand in markup. Quantities in it are the household's. */
import { asMeasured } from "./quantities.js";

/** @typedef {Node | string | number | null | undefined | false | any[]} Child */

/** Attributes whose text is read by people. */
const READ_OUT = new Set(["aria-label", "title", "placeholder", "label"]);
const SVG = "http://www.w3.org/2000/svg";

/**
 * An element. `class`, attributes (aria-, data- and all others), `on...` functions, `style` as an object of properties.
 * @param {string} tag
 * @param {Record<string, any> | null} [props]
 * @param {...Child} children
 * @returns {any}
 */
export function h(tag, props, ...children) {
  return build(document.createElement(tag), props, children);
}

/**
 * The same for drawings.
 * @param {string} tag
 * @param {Record<string, any> | null} [props]
 * @param {...Child} children
 * @returns {any}
 */
export function svg(tag, props, ...children) {
  return build(document.createElementNS(SVG, tag), props, children);
}

/**
 * Give an element just these children. One that is there already is not touched, so that it keeps its place on the
 * screen, its focus and its layout.
 * @param {Element} element
 * @param {...Child} children
 * @returns {Element}
 */
export function fill(element, ...children) {
  const wanted = flat(children, []);
  const kept = new Set(wanted);
  for (const node of [...element.childNodes]) if (!kept.has(node)) node.remove();
  let at = element.firstChild;
  for (const node of wanted) {
    if (at === node) at = node.nextSibling;
    else element.insertBefore(node, at);
  }
  return element;
}

/** @param {Child[]} children @param {Node[]} into @returns {Node[]} */
function flat(children, into) {
  for (const child of children) {
    if (child === null || child === undefined || child === false) continue;
    if (Array.isArray(child)) flat(child, into);
    else into.push(child instanceof Node ? child : document.createTextNode(asMeasured(String(child))));
  }
  return into;
}

/** @param {any} element @param {Record<string, any> | null | undefined} props @param {Child[]} children */
function build(element, props, children) {
  for (const [name, value] of Object.entries(props || {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on") && typeof value === "function") element.addEventListener(name.slice(2), value);
    else if (name === "style") for (const [key, set] of Object.entries(value)) element.style.setProperty(key, String(set));
    else if (name === "value" && "value" in element) element.value = value;
    else if (name === "checked") element.checked = Boolean(value);
    else if (READ_OUT.has(name)) element.setAttribute(name, asMeasured(String(value)));
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...flat(children, []));
  return element;
}

/** How long a frame is waited for: a window out of sight draws none, a slow phone in sight may take its time over one. */
const OUT_OF_SIGHT_MS = 500;
const IN_SIGHT_MS = 5000;

/**
 * Once what was drawn just now is on the screen: the frame after the one that holds it has begun. Where none comes it
 * is enough to wait a while.
 * @returns {Promise<void>}
 */
export function painted() {
  return new Promise((resolve) => {
    setTimeout(resolve, document.hidden ? OUT_OF_SIGHT_MS : IN_SIGHT_MS);
    requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(resolve, 0)));
  });
}
