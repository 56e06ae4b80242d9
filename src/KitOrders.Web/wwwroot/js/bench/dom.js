// @ts-check
// Elements from names, attributes and texts. Whatever comes from the server is put in as text and never as markup.

const SVG = "http://www.w3.org/2000/svg";

/**
 * @typedef {Node|string|number|null|undefined|false} Child
 * @param {Element} element @param {Record<string, any>} attributes @param {(Child|Child[])[]} children
 */
function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value" && element instanceof HTMLInputElement) element.value = value;
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  for (const child of children.flat())
    if (child !== null && child !== undefined && child !== false) element.append(child instanceof Node ? child : String(child));
  return element;
}

/** @param {string} name @param {Record<string, any>} [attributes] @param {(Child|Child[])[]} children @returns {any} */
export const h = (name, attributes = {}, ...children) => fill(document.createElement(name), attributes, children);

/** @param {string} name @param {Record<string, any>} [attributes] @param {(Child|Child[])[]} children @returns {any} */
export const svg = (name, attributes = {}, ...children) => fill(document.createElementNS(SVG, name), attributes, children);

/** A shape before its word. @param {string} mark */
export const mk = mark => h("i", { class: `mk ${mark}`, "aria-hidden": "true" });

let pressed = false, presses = 0;
/** @type {(() => void)|null} */
let postponed = null;
// A picture that changes under the finger would swallow the tap: it waits until the finger is off, and until the next one is
// off when that came down at once.
addEventListener("pointerdown", () => { pressed = true; presses++; }, true);
for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => {
  const mine = presses;
  setTimeout(() => {
    if (mine !== presses) return;
    pressed = false;
    postponed?.();
    postponed = null;
  });
}, true);

/** @param {() => void} paint */
export function whenUntouched(paint) {
  if (pressed) postponed = paint;
  else paint();
}

/** What somebody has typed into fields, and where they type. @param {Element} root */
const fields = root => /** @type {HTMLInputElement[]} */ ([...root.querySelectorAll("input:not([type=file])")]);

/**
 * Puts the parts in place. Nothing is touched when nothing has changed; on the same screen what was typed into fields stays,
 * and the focus stays where it was.
 * @param {Element} root @param {Child[]} parts
 */
export function show(root, parts) {
  const next = /** @type {Element} */ (root.cloneNode(false));
  next.append(.../** @type {Node[]} */ (parts.filter(p => p instanceof Node)));
  if (next.innerHTML === root.innerHTML) return;
  const active = document.activeElement instanceof HTMLElement && root.contains(document.activeElement) ? document.activeElement : null;
  const heading = root.querySelector("h1")?.textContent;
  const typed = new Map(fields(root).map(f => [f.dataset.k ?? f.name, f.value]));
  const key = active?.dataset.k ?? (active instanceof HTMLInputElement ? active.name : "");
  root.replaceChildren(...next.childNodes);
  if (root.querySelector("h1")?.textContent === heading)
    for (const field of fields(root)) if (!field.value) field.value = typed.get(field.dataset.k ?? field.name) ?? "";
  if (key) /** @type {HTMLElement|null} */ (root.querySelector(`[data-k="${CSS.escape(key)}"], [name="${CSS.escape(key)}"]`))?.focus({ preventScroll: true });
}
