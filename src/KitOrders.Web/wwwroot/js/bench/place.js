// @ts-check
// Where the work stands and what comes next. The order of work: preliminary steps strictly one after the other and all of
// them before any main step (29 CFR 1910.147(d)); main steps in any order; close-up last and in order (1910.147(e));
// nothing passes a hold point that has not been released.
import { inOrder, recorded, released, resolved, missing } from "./order.js";

/**
 * @typedef {import("./order.js").Order} Order
 * @typedef {import("./order.js").Step} Step
 *
 * @typedef {{kind: "notYet"|"start"|"paused"|"ended"}
 *   | {kind: "step", step: Step, slot: {pass: number|null, bolt: number|null, piece: number|null}}
 *   | {kind: "hold", step: Step}
 *   | {kind: "stuck", step: Step}
 *   | {kind: "finish"}} Place
 */

/**
 * Why this step cannot be recorded yet; null when it can.
 * @param {Order} order
 * @param {Step} step
 * @returns {string|null}
 */
export function keptBack(order, step) {
  const all = inOrder(order);
  const before = all.slice(0, all.findIndex(s => s.step === step.step));
  const first = (/** @type {(s: Step) => boolean} */ is) => before.find(is);
  const hold = first(s => s.holdPoint && recorded(s) && !released(s));
  if (hold) return `Hold point after step ${hold.step} is not released.`;
  if (step.partOf !== "closeUp") {
    const unsafe = first(s => s.partOf === "preliminary" && !resolved(s));
    if (unsafe) return step.partOf === "preliminary"
      ? `Preliminary steps go in order. ${toDo(unsafe)} first.` : `The pump is not proved safe. ${toDo(unsafe)} first.`;
  } else {
    const undone = first(s => s.partOf !== "closeUp" && !resolved(s));
    if (undone) return `Close-up begins when all work is done. ${toDo(undone)} first.`;
    const earlier = first(s => s.partOf === "closeUp" && !recorded(s));
    if (earlier) return `Close-up steps go in order. ${toDo(earlier)} first.`;
  }
  const ahead = first(s => s.holdPoint && !released(s));
  return ahead ? `Step ${ahead.step} is a hold point. ${toDo(ahead)} first.` : null;
}

/** @param {Step} step */
const toDo = step => recorded(step) ? `Step ${step.step} is not as specified: correct it or have a planner accept it` : `Do step ${step.step}`;

/**
 * What the screen shows.
 * @param {Order} order
 * @param {number|null} chosen   a step the person went to by hand; it counts while it is open and not kept back
 * @returns {Place}
 */
export function place(order, chosen = null) {
  if (order.state === "staged") return { kind: "start" };
  if (order.state === "draft" || order.state === "open") return { kind: "notYet" };
  if (order.state !== "underway") return { kind: "ended" };
  if (order.paused != null) return { kind: "paused" };
  const all = inOrder(order);
  const open = all.filter(s => !recorded(s) && keptBack(order, s) === null);
  const step = open.find(s => s.step === chosen) ?? open[0];
  if (step) return { kind: "step", step, slot: missing(step)[0] };
  const hold = all.find(s => s.holdPoint && recorded(s) && !released(s));
  if (hold) return { kind: resolved(hold) ? "hold" : "stuck", step: hold };
  const left = all.find(s => !recorded(s));
  const bad = all.find(s => recorded(s) && !resolved(s));
  return left && bad ? { kind: "stuck", step: bad } : { kind: "finish" };
}

/** Steps before this one that were left open; they stay pinned until they are done. @param {Order} order @param {Step} step */
export function leftOpen(order, step) {
  const all = inOrder(order);
  return all.slice(0, all.findIndex(s => s.step === step.step)).filter(s => !recorded(s));
}

/** The letter of a hold point: A, B, C in the order of work. @param {Order} order @param {Step} step */
export const holdLetter = (order, step) =>
  String.fromCharCode(65 + inOrder(order).filter(s => s.holdPoint).findIndex(s => s.step === step.step));

/**
 * The last thing anybody recorded before now.
 * @param {Order} order
 * @returns {{step: Step, result: import("./order.js").Result}|null}
 */
export function lastRecorded(order) {
  let last = null;
  for (const step of order.steps)
    for (const result of step.results)
      if (!last || Date.parse(result.recordedAt) > Date.parse(last.result.recordedAt)) last = { step, result };
  return last;
}
