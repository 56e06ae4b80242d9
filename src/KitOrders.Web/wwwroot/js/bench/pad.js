// @ts-check
// The number pad: figures as large as a glove, the reading above them with its unit, the other unit and its limits.
import { h } from "./dom.js";
import { gauge } from "./drawings.js";
import { inOtherUnit } from "./figures.js";

/** What a key makes of what stands there. @param {string} typed @param {string} key @param {{minus?: boolean, max?: number, point?: boolean}} [may] point false: figures alone, a pin may begin with 0 */
export function press(typed, key, may = {}) {
  if (key === "clear") return "";
  if (key === "back") return typed.slice(0, -1);
  if (key === "minus") return !may.minus ? typed : typed.startsWith("-") ? typed.slice(1) : `-${typed}`;
  if (typed.length >= (may.max ?? 9)) return typed;
  if (may.point === false) return /^\d$/.test(key) ? typed + key : typed;
  if (key === ".") return typed.includes(".") ? typed : typed === "" || typed === "-" ? `${typed}0.` : `${typed}.`;
  return /^\d$/.test(key) ? (typed === "0" ? key : typed + key) : typed;
}

/** The value of what is typed; null while it is none. @param {string} typed */
export const valueOf = typed => /\d/.test(typed) && Number.isFinite(Number(typed)) ? Number(typed) : null;

/** @param {{typed: string, type: (typed: string) => void, minus?: boolean, max?: number, point?: boolean}} pad */
export function keys({ typed, type, minus, max, point = true }) {
  // Two quick taps may fall on the same picture of the pad, so the second goes on from the first and not from the picture.
  let now = typed;
  const key = (/** @type {string} */ k, label = k, name = "", wide = "") => h("button", {
    type: "button", "data-k": `key ${k}`, class: wide, "aria-label": name || null,
    onclick: () => type(now = press(now, k, { minus, max, point })),
  }, label);
  return h("div", { class: `keys${minus ? " four" : ""}`, role: "group", "aria-label": "Figures" },
    ["1", "2", "3", "4", "5", "6", "7", "8", "9"].map(k => key(k)),
    point ? key(".", ".", "decimal point") : key("back", "Back", "", "w"), key("0"), key("clear", "Clear", "", "w"),
    minus && key("minus", "+/−", "above or below zero", "w"), minus && key("back", "Back", "", "w"));
}

/**
 * @param {{label: string, typed: string, unit: string|null, limits: {low: number|null, high: number|null}, out: boolean, extra?: string|null, value?: number|null}} r
 *   value: what counts against the limits, where an adapter makes it differ from what is typed
 */
export function reading({ label, typed, unit, limits, out, extra, value = valueOf(typed) }) {
  const other = value == null ? null : inOtherUnit(value, unit);
  return h("div", { class: out ? "rd2 oob" : "rd2", role: out ? "alert" : null },
    h("span", { class: "lab2" }, label),
    h("output", { class: "big2", "data-reading": "" }, typed === "" ? h("span", { class: "none" }, "–") : typed, unit && h("small", {}, unit)),
    (extra ?? other) && h("p", { class: "q oth" }, extra ?? other),
    gauge(value, limits, unit));
}

/** Four squares that fill as the pin is typed; the figures themselves are never shown or kept. @param {string} name @param {string} typed */
export const pinSquares = (name, typed) => h("div", { class: "rd2" },
  h("span", { class: "lab2" }, `${name}: your PIN`),
  h("div", { class: "pin", role: "img", "aria-label": `${typed.length} figures entered` },
    Array.from({ length: Math.max(4, Math.min(8, typed.length)) }, (_, i) => h("i", { class: i < typed.length ? "d" : i === typed.length ? "c" : null }))));
