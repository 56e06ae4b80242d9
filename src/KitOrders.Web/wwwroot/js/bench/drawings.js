// @ts-check
// The strip of steps, the caution, the bolts, the gauge: what every step is drawn from.
import { h, svg, mk } from "./dom.js";
import { inOrder, recorded, released } from "./order.js";
import { positions } from "./torque.js";
import { figure, withUnit } from "./figures.js";

const HEADINGS = { preliminary: "Preliminary", main: "Main", closeUp: "Close-up" };

/**
 * Place-keeping: every step, the one that is due, the hold points as bars. The whole strip opens the list of steps.
 * @param {import("./order.js").Order} order @param {number|null} now @param {() => void} open
 */
export function strip(order, now, open) {
  const steps = inOrder(order);
  const done = steps.filter(recorded).length;
  const holds = steps.filter(s => s.holdPoint && !released(s)).length;
  const parts = ["preliminary", "main", "closeUp"].map(part => {
    const of = steps.filter(s => s.partOf === part);
    if (of.length === 0) return null;
    const ahead = of.filter(s => s.holdPoint && !released(s)).map(s => s.step);
    const box = h("div", { class: "ph" },
      h("span", {}, HEADINGS[/** @type {keyof typeof HEADINGS} */ (part)], ahead.length > 0 && `, hold at ${ahead.join(", ")}`),
      h("ol", {}, of.flatMap(s => [
        h("li", { class: s.step === now ? "now" : recorded(s) ? "d" : null, "aria-current": s.step === now ? "step" : null },
          h("span", { class: "no" }, s.step), recorded(s) && h("span", { class: "vh" }, " done")),
        s.holdPoint && h("li", { class: released(s) ? "h" : "h ahead" }, h("span", { class: "vh" }, released(s) ? "hold point, released" : "hold point")),
      ])));
    // Where the steps are many, each part takes the room its steps need.
    box.style.flexGrow = String(of.length);
    return box;
  });
  return h("div", { class: `strip bstrip${steps.length > 24 ? " many" : ""}` }, parts, h("button", {
    type: "button", class: "over", "data-k": "strip", onclick: open,
    "aria-label": `${now ? `Step ${now} of ${steps.length}` : `${steps.length} steps`}, ${done} done, ${holds} hold points ahead. All steps`,
  }));
}

/** The caution of a step, before the step. @param {import("./order.js").Step} step */
export function caution(step) {
  if (!step.signalWord) return null;
  const word = step.signalWord.toUpperCase();
  return h("section", { class: `caut ${step.signalWord}`, role: "note", "aria-label": word },
    h("b", {}, step.signalWord !== "notice" && mk("alert"), word),
    h("div", {}, h("p", {}, h("strong", {}, step.hazard), step.consequence && ` ${step.consequence}`), step.avoid && h("p", {}, step.avoid)));
}

/**
 * The bolts of a joint, numbered in the order in which they are tightened; done is ink, the next one is lit.
 * @param {{bolts: number, sequence: any, next: number|null, done: number[]}} joint
 */
export function boltCircle({ bolts, sequence, next, done }) {
  const radius = bolts < 2 ? 27 : Math.min(27, Math.max(11, 118 * Math.sin(Math.PI / bolts) * .46));
  const spots = positions(bolts, sequence).map((position, i) => {
    const angle = 2 * Math.PI * position / bolts;
    return bolts === 1 ? { bolt: 1, x: 170, y: 170 } : { bolt: i + 1, x: 170 + 118 * Math.sin(angle), y: 170 - 118 * Math.cos(angle) };
  });
  const from = spots.find(s => s.bolt === (next ?? 0) - 1);
  const to = spots.find(s => s.bolt === next);
  const big = radius * 1.26;
  return svg("svg", { viewBox: "0 0 340 340", class: "bolts", role: "img",
    "aria-label": `${bolts} ${bolts === 1 ? "bolt" : "bolts"}${sequence && bolts > 1 ? `, ${sequence} order` : ""}: ${done.length} tightened in this pass${next ? `, next is bolt ${next}` : ""}` },
    svg("circle", { class: "cv", cx: 170, cy: 170, r: 164 }),
    bolts > 1 && svg("circle", { class: "cv2", cx: 170, cy: 170, r: 74 }),
    bolts > 1 && svg("path", { class: "cv2", d: "M170 130v80M130 170h80" }),
    from && to && svg("path", { class: "sq", d: line(from, to, radius, big + 8) }),
    spots.map(s => s.bolt === next
      ? [svg("circle", { class: "ring", cx: s.x, cy: s.y, r: big + 8 }), svg("circle", { class: "nx", cx: s.x, cy: s.y, r: big })]
      : svg("g", { class: done.includes(s.bolt) ? "bo d" : "bo" }, svg("circle", { cx: s.x, cy: s.y, r: radius }))).flat(),
    spots.map(s => s.bolt === next
      ? svg("text", { class: "bnx", x: s.x, y: s.y + 12 }, s.bolt)
      : svg("g", { class: done.includes(s.bolt) ? "bn d" : "bn" }, svg("text", { x: s.x, y: s.y + (radius < 16 ? 6 : 8.5), class: radius < 16 ? "tiny" : null }, s.bolt))));
}

/** @param {{x: number, y: number}} a @param {{x: number, y: number}} b @param {number} ra @param {number} rb */
function line(a, b, ra, rb) {
  const d = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  const at = (/** @type {number} */ t) => `${(a.x + (b.x - a.x) * t).toFixed(1)} ${(a.y + (b.y - a.y) * t).toFixed(1)}`;
  return `M${at(ra / d)}L${at(1 - rb / d)}`;
}

/**
 * Where a reading lies between its limits.
 * @param {number|null} value @param {{low: number|null, high: number|null}} limits @param {string|null} unit
 */
export function gauge(value, limits, unit) {
  const { low, high } = limits;
  if (low == null && high == null) return null;
  const width = low != null && high != null ? high - low || Math.abs(high) || 1 : Math.abs(high ?? low ?? 1) || 1;
  const left = (low ?? (high ?? 0) - width) - width * .5;
  const right = (high ?? (low ?? 0) + width) + width * .6;
  const x = (/** @type {number} */ v) => Math.min(356, Math.max(16, 6 + (v - left) / (right - left) * 360));
  const from = low == null ? 6 : x(low), to = high == null ? 366 : x(high);
  const out = value == null ? null : low != null && value < low ? `outside, ${figure(round(low - value))} under`
    : high != null && value > high ? `outside, ${figure(round(value - high))} over` : "inside";
  const words = [low != null && [from, figure(low)], high != null && [to, withUnit(high, unit)]].filter(Boolean);
  return svg("svg", { viewBox: "0 0 372 62", role: "img", class: "gauge",
    "aria-label": `Limits ${low == null ? "" : `from ${figure(low)} `}${high == null ? "" : `to ${figure(high)} `}${unit ?? ""}${value == null ? "" : `, reading ${figure(value)}, ${out}`}` },
    svg("path", { class: "sc", d: "M6 12h360" }),
    svg("path", { class: "ok", d: `M${from} 6h${to - from}v12H${from}z` }),
    value != null && svg("path", { class: "pt", d: `M${x(value)} 0v24` }),
    words.map(w => svg("text", { x: Math.min(330, Math.max(24, /** @type {number} */ (/** @type {any} */ (w)[0]))), y: 38 }, /** @type {any} */ (w)[1])),
    out && svg("text", { x: 186, y: 58, class: "in" }, out));
}

/** @param {number} v */
const round = v => Number(v.toPrecision(6));
