// @ts-check
// Torque: where the bolts sit, what each pass aims at, what an adapter makes of it. Pure.

/**
 * Position of bolt 1, 2 … in tightening order, clockwise from the top, 0 to n − 1. The same pattern as the server draws on
 * paper: pairs lie opposite for an even count; a star spreads its pairs, alternate takes them one after the other; odd counts
 * step to the bolt nearest to opposite; round goes from neighbour to neighbour.
 * @param {number} bolts
 * @param {"alternate"|"star"|"round"|null} sequence
 * @returns {number[]}
 */
export function positions(bolts, sequence) {
  const half = Math.floor(bolts / 2);
  const upTo = (/** @type {number} */ n) => Array.from({ length: n }, (_, i) => i);
  if (bolts === 1 || !sequence || sequence === "round") return upTo(bolts);
  if (bolts % 2 === 0) return (sequence === "star" ? spreadOverHalf(half) : upTo(half)).flatMap(p => [p, p + half]);
  return sequence === "star" ? upTo(bolts).map(k => k * half % bolts) : [...upTo(half).flatMap(p => [p, p + half + 1]), half];
}

/** @param {number} half */
function spreadOverHalf(half) {
  if (half % 2 !== 0) return farthestFirst(half);
  return farthestFirst(half / 2).flatMap(p => [p, p + half / 2]);
}

/** 0 … n − 1 on a ring, each next one as far as possible from all taken; the lowest of equals. @param {number} n */
function farthestFirst(n) {
  const taken = [0];
  const gap = (/** @type {number} */ p) => Math.min(...taken.map(t => Math.min(Math.abs(p - t), n - Math.abs(p - t))));
  while (taken.length < n) {
    let best = -1;
    for (let p = 0; p < n; p++) if (!taken.includes(p) && (best < 0 || gap(p) > gap(best))) best = p;
    taken.push(best);
  }
  return taken;
}

/**
 * Percent of the target by pass: 50, 100 for two passes (common practice, no source); 30, 60, 100 and then 100 again for more.
 * @param {number} pass @param {number} passes
 */
export const percentOf = (pass, passes) => pass === passes || pass >= 3 ? 100 : passes === 2 ? 50 : pass === 1 ? 30 : 60;

/**
 * The limits that bind: as stated, else target ± tolerance. Before the last full pass only the high limit does.
 * @param {import("./order.js").Step} step
 * @param {number} percent
 * @returns {{low: number|null, high: number|null}}
 */
export function limits(step, percent = 100) {
  const around = (/** @type {number} */ sign) => step.target != null && step.tolerancePct != null
    ? clean(step.target * (1 + sign * step.tolerancePct / 100)) : null;
  return { low: percent === 100 ? step.low ?? around(-1) : null, high: step.high ?? around(1) };
}

/** The limits themselves count as inside. @param {number} value @param {{low: number|null, high: number|null}} between */
export const inside = (value, between) => !(between.low != null && value < between.low) && !(between.high != null && value > between.high);

/**
 * @typedef {{position: "none"|"inLine"|"reversed"|"rightAngle", wrench: number, length: number}} Adapter
 */

/**
 * How many times the torque at the bolt is what the wrench shows: (L + E)/L in line, (L − E)/L reversed, 1 at 90° or without.
 * Null when the lengths cannot be.
 * @param {Adapter} adapter
 * @returns {number|null}
 */
export function adapterFactor({ position, wrench, length }) {
  if (position === "none" || position === "rightAngle") return 1;
  if (!(wrench > 0) || !(length >= 0) || (position === "reversed" && length >= wrench)) return null;
  return position === "inLine" ? (wrench + length) / wrench : (wrench - length) / wrench;
}

/** Floating dust off: twelve figures are more than any wrench shows. @param {number} value */
export const clean = value => Number(value.toPrecision(12));
