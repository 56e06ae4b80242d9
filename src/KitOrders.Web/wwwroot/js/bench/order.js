// @ts-check
// What an order is, as GET /api/orders/{number} answers it, and what stands on its steps once the results that still wait
// on this tablet are laid over it. Pure: no clock, no page, no network. It mirrors the order of work that the server holds.

/**
 * @typedef {"preliminary"|"main"|"closeUp"} PartOf
 * @typedef {"instruction"|"check"|"reading"|"torque"|"carryOver"|"functionTest"|"photograph"} Kind
 * @typedef {"asSpecified"|"notAsSpecified"|"notApplicable"} StepOutcome
 *
 * @typedef {object} Result
 * @property {number|string} id            the server's number, or "waiting …" while it waits on this tablet
 * @property {StepOutcome} outcome
 * @property {number|null} [value]
 * @property {string|null} [unit]
 * @property {number|null} [pass]
 * @property {number|null} [bolt]
 * @property {number|null} [piece]
 * @property {"reuse"|"replace"|null} [decision]
 * @property {string|null} [tool]
 * @property {string|null} [note]
 * @property {string} recordedAt
 * @property {string} person
 * @property {string|null} [witness]
 * @property {number|null} [witnessValue]
 * @property {number|string|null} [corrects]
 * @property {boolean} [corrected]
 * @property {boolean} [waiting]           recorded here and not sent yet
 *
 * @typedef {object} Step
 * @property {number} step
 * @property {PartOf} partOf
 * @property {Kind} kind
 * @property {string} text
 * @property {"danger"|"warning"|"caution"|"notice"|null} signalWord
 * @property {string|null} hazard
 * @property {string|null} consequence
 * @property {string|null} avoid
 * @property {string|null} joint
 * @property {number|null} bolts
 * @property {"alternate"|"star"|"round"|null} sequence
 * @property {number|null} target
 * @property {number|null} low
 * @property {number|null} high
 * @property {string|null} unit
 * @property {number|null} tolerancePct
 * @property {number|null} passes
 * @property {boolean} holdPoint
 * @property {boolean} witnessed
 * @property {string|null} part
 * @property {string|null} partDescription
 * @property {string[]} [inItsPlace]        parts that stand in for it on this order
 * @property {number} pieces
 * @property {number|null} minutes
 * @property {string|null} tool
 * @property {string|null} document
 * @property {string|null} edition
 * @property {string|null} page
 * @property {number|null} [documentId]
 * @property {{sha256: string, caption: string}[]} [pictures]
 * @property {boolean} recorded
 * @property {boolean} deviates
 * @property {string|null} releasedAt
 * @property {string|null} releasedBy
 * @property {string|null} acceptedBy
 * @property {string|null} acceptReason
 * @property {Result[]} results
 *
 * @typedef {object} Order
 * @property {string} number
 * @property {string} state
 * @property {string} pump
 * @property {string} serial
 * @property {string} model
 * @property {string} job
 * @property {string} jobDescription
 * @property {string|null} paused
 * @property {string|null} stagedPlace
 * @property {number} score
 * @property {string} neededBy
 * @property {string|null} openedAt
 * @property {string|null} startedAt
 * @property {number|null} estimatedHours
 * @property {number} version
 * @property {Step[]} steps
 * @property {any[]} demand
 * @property {any[]} kits
 * @property {any[]} permits
 * @property {any[]} hours
 * @property {any[]} suitability
 * @property {string} suitabilityNotice
 */

const PARTS = ["preliminary", "main", "closeUp"];

/** Steps in the order of work: preliminary, main, close-up. @param {Order} order */
export const inOrder = order => [...order.steps].sort((a, b) => PARTS.indexOf(a.partOf) - PARTS.indexOf(b.partOf) || a.step - b.step);

/** @param {Step} step */
export const passesOf = step => step.passes ?? ((step.bolts ?? 1) >= 2 ? 2 : 1);

/**
 * The places a step asks a result for: one, or one per pass and bolt, or one per kept piece.
 * @param {Step} step
 * @returns {{pass: number|null, bolt: number|null, piece: number|null}[]}
 */
export function slots(step) {
  if (step.kind === "torque") {
    const all = [];
    for (let pass = 1; pass <= passesOf(step); pass++)
      for (let bolt = 1; bolt <= (step.bolts ?? 1); bolt++) all.push({ pass, bolt, piece: null });
    return all;
  }
  if (step.kind === "carryOver")
    return Array.from({ length: step.pieces || 1 }, (_, i) => ({ pass: null, bolt: null, piece: i + 1 }));
  return [{ pass: null, bolt: null, piece: null }];
}

/** @param {Step} step @param {Result} r */
const isWhole = (step, r) => step.kind === "torque" ? r.pass == null && r.bolt == null : step.kind === "carryOver" ? r.piece == null : true;

/**
 * The results that stand, oldest first: a correction replaces what it points at, a later result an earlier one for the same
 * bolt and pass or piece.
 * @param {Step} step
 * @returns {Result[]}
 */
export function standing(step) {
  /** @type {Result[]} */
  let stand = [];
  for (const result of step.results) {
    const onlyPass = step.kind === "torque" && result.bolt != null && result.pass == null && passesOf(step) === 1;
    const next = onlyPass ? { ...result, pass: 1 } : result;
    if (next.corrected) continue;
    stand = stand.filter(old => old.id !== next.corrects && !isWhole(step, old) && !isWhole(step, next)
      && !(old.pass === next.pass && old.piece === next.piece && (old.bolt === next.bolt || next.bolt == null)));
    stand.push(next);
  }
  return stand;
}

/** The result that stands for one bolt and pass or piece. @param {Step} step @param {{pass?: number|null, bolt?: number|null, piece?: number|null}} slot */
export const standingFor = (step, slot) => standing(step).find(r => isWhole(step, r)
  || (slot.piece != null ? r.piece === slot.piece : r.pass === slot.pass && (r.bolt == null || r.bolt === slot.bolt)));

/** @param {Step} step */
export const missing = step => slots(step).filter(slot => !standingFor(step, slot));

/** Every result the step asks for has been recorded. @param {Step} step */
export const recorded = step => step.results.some(r => r.waiting) || !step.recorded ? missing(step).length === 0 : true;

/** A result that was not as specified and that no planner has accepted. @param {Step} step */
export const deviates = step => step.results.some(r => r.waiting)
  ? standing(step).some(r => r.outcome === "notAsSpecified" && (r.waiting || !step.acceptedBy))
  : step.deviates;

/** @param {Step} step */
export const resolved = step => recorded(step) && !deviates(step);

/** @param {Step} step */
export const released = step => step.releasedAt != null;

/**
 * Lays what waits on this tablet over the order as the server last told it.
 * @param {Order} order
 * @param {import("./outbox.js").Waiting[]} waiting   of this order, oldest first, without what was refused
 * @returns {Order}
 */
export function overlay(order, waiting) {
  if (waiting.length === 0) return order;
  const seen = { ...order, steps: order.steps.map(s => ({ ...s, results: [...s.results] })) };
  for (const record of waiting) {
    if (record.kind === "pause") seen.paused = record.body.reason;
    if (record.kind === "resume") seen.paused = null;
    const step = record.kind === "result" ? seen.steps.find(s => s.step === record.step) : undefined;
    if (!step || step.results.some(r => sameTap(r, record))) continue;
    const corrects = record.body.corrects ?? step.results.find(r => record.correctsAt && sameTime(r.recordedAt, record.correctsAt))?.id ?? null;
    step.results = step.results.map(r => r.id === corrects ? { ...r, corrected: true } : r);
    step.results.push({ ...record.body, id: `waiting ${record.key}`, corrects, person: record.user, waiting: true });
  }
  return seen;
}

/** @param {string} a @param {string} b */
export const sameTime = (a, b) => Date.parse(a) === Date.parse(b);

/** The answer came, but the tablet has not crossed the record off yet. @param {Result} r @param {import("./outbox.js").Waiting} record */
const sameTap = (r, record) => !r.waiting && sameTime(r.recordedAt, record.body.recordedAt);
