// @ts-check
// One step fills the screen: caution first, then the step, then one large action. A screen is a plain description; layout.js
// puts it on the page.
import { h } from "./dom.js";
import { boltCircle, caution } from "./drawings.js";
import { keys, reading, valueOf } from "./pad.js";
import { passesOf, slots, standingFor } from "./order.js";
import { holdLetter, leftOpen, place } from "./place.js";
import { adapterFactor, clean, inside, limits, percentOf } from "./torque.js";
import { clock, figure, inOtherUnit, inUnit, setting, span, withUnit } from "./figures.js";
import { smaller } from "./photo.js";
import { cited, pictures } from "./pictures.js";

/**
 * @typedef {import("./desk.js").Desk} Desk
 * @typedef {import("./order.js").Step} Step
 * @typedef {import("./desk.js").Slot} Slot
 * @typedef {object} Screen
 * @property {any[]} say                      caution, number, words
 * @property {any} [see]                      drawing, list, options
 * @property {any} [act]                      pad
 * @property {{label: string, on?: (e: Event) => void, off?: boolean, plain?: boolean}|null} [done]
 * @property {{label: string, on: (e: Event) => void, due?: boolean}[]} [more]
 * @property {{typed: string, type: (typed: string) => void, minus?: boolean, point?: boolean, max?: number}} [typing]
 * @property {any} [doneNode]                  instead of done: a field that looks like it
 * @property {boolean} [outside]              what is typed lies outside its limits
 * @property {number|null} [now]              the step lit on the strip
 */

/** @param {Desk} desk @param {Step} step @param {Slot} slot @returns {Screen} */
export function stepScreen(desk, step, slot) {
  const id = [step.step, slot.pass, slot.bolt, slot.piece, desk.look.correct ? "again" : ""].join("/");
  if (desk.look.slot !== id) Object.assign(desk.look, { slot: id, typed: "", choice: null });
  const by = { torque, carryOver, photograph, reading: readingStep, functionTest: readingStep }[/** @type {string} */ (step.kind)];
  const measures = step.kind === "reading" || step.kind === "torque" || (step.kind === "functionTest" && (step.unit || step.low != null || step.high != null));
  /** @type {Screen} */
  const screen = by && (by !== readingStep || measures) ? by(desk, step, slot) : plain(desk, step, slot);
  return { now: step.step, more: more(desk, step, slot, screen.outside), ...screen };
}

/** @param {Desk} desk @param {Step} step @param {Slot} slot @param {boolean} [outside] */
function more(desk, step, slot, outside) {
  const before = previous(desk, step, slot);
  return [
    desk.look.correct
      ? { label: "Leave it as it was", on: () => desk.back() }
      : { label: before ? before.label : "Today's orders", on: () => before ? desk.set({ review: before.step }) : location.assign("/bench") },
    { label: "Not as specified", due: outside, on: () => desk.set({ sheet: { is: "nas", step: step.step, slot } }) },
    { label: "Pause here", on: () => desk.set({ sheet: { is: "pause" } }) },
  ];
}

/** @param {Desk} desk @param {Step} step @param {Slot} slot */
function previous(desk, step, slot) {
  const earlier = slots(step).filter(s => standingFor(step, s) && !(s.pass === slot.pass && s.bolt === slot.bolt && s.piece === slot.piece));
  const last = earlier[earlier.length - 1];
  if (last) return { step: step.step, label: last.bolt ? `Back to bolt ${last.bolt}` : `Back to piece ${last.piece}` };
  const steps = [...desk.seen.steps].filter(s => s.results.length > 0 && s.step < step.step);
  const at = steps[steps.length - 1];
  return at ? { step: at.step, label: `Back to step ${at.step}` } : null;
}

/**
 * Caution, number, what to do; what was left; what is still open before it.
 * @param {Desk} desk @param {Step} step @param {string} [title] @param {any[]} [words]
 */
export function say(desk, step, title = step.text, words = []) {
  const order = desk.seen;
  const open = leftOpen(order, step);
  const facts = [
    step.joint, step.partDescription ?? step.part, (step.inItsPlace ?? []).length > 0 && `in its place: ${(step.inItsPlace ?? []).join(", ")}`, step.kind !== "torque" && step.tool && `tool ${step.tool}`,
    step.witnessed && "a second person must see it", step.holdPoint && `hold point ${holdLetter(order, step)} follows`,
  ].filter(Boolean).join(" · ");
  const source = cited(step);
  return [
    caution(step),
    h("section", { class: "bstep" }, h("p", { class: "bno" }, step.step), h("div", {},
      h("h1", { tabindex: -1 }, title),
      words, (facts || source) && h("p", { class: "q" }, facts, facts && source && " · ", source),
      pictures(step, () => desk.paint()),
      desk.look.correct ? wasRecorded(desk, step) : leftAt(desk, step),
      open.length > 0 && h("p", { class: "m alert" }, h("b", {}, `Still open before this: step ${open.map(s => s.step).join(", ")}`)))),
  ];
}

/** "You stopped here; step 13 recorded 10:42 by you." @param {Desk} desk @param {Step} step */
function leftAt(desk, step) {
  const last = desk.cameBack;
  if (!last) return null;
  const who = last.result.person === desk.me ? "you" : last.result.person;
  const what = last.step.step === step.step
    ? last.result.bolt ? `bolt ${last.result.bolt}${last.result.pass ? ` of pass ${last.result.pass}` : ""}` : last.result.piece ? `piece ${last.result.piece}` : "this step"
    : `step ${last.step.step}`;
  return h("p", { class: "left" }, `You stopped ${last.step.step === step.step ? "here" : `before step ${step.step}`}; ${what} recorded ${clock(last.result.recordedAt, Date.now())} by ${who}.`);
}

/** @param {Desk} desk @param {Step} step */
function wasRecorded(desk, step) {
  const old = desk.look.correct && standingFor(step, desk.look.correct.slot);
  return old && h("p", { class: "left" }, `Correcting: ${old.value != null ? withUnit(inUnit(old, step), step.unit ?? old.unit) : old.decision ?? "as recorded"}, ${clock(old.recordedAt, Date.now())} by ${old.person}. Both stay on record.`);
}

/** @param {Desk} desk @param {Step} step @param {Slot} slot */
function plain(desk, step, slot) {
  const label = step.kind === "check" ? "It is so" : step.kind === "functionTest" ? "It works as it should" : `Step ${step.step} is done`;
  return { say: say(desk, step), done: keep(desk, label, () => desk.record(step, slot, {})) };
}

/** @param {Desk} desk @param {string} label @param {() => any} on @param {boolean} [off] */
export const keep = (desk, label, on, off = false) => ({ label, off: off || desk.busy, on: (/** @type {Event} */ e) => { if (desk.takes(e)) on(); } });

/** @param {Desk} desk @param {Step} step @param {Slot} slot */
function readingStep(desk, step, slot) {
  const between = limits(step);
  const value = valueOf(desk.look.typed);
  const out = value != null && !inside(value, between);
  const type = (/** @type {string} */ typed) => desk.set({ typed });
  const minus = (between.low ?? 0) < 0 || /^°/.test(step.unit ?? "");
  const target = step.target != null && h("p", {}, "Aim for ", h("b", {}, withUnit(step.target, step.unit)));
  return {
    say: say(desk, step, step.text, [target]),
    see: h("dl", { class: "fl" },
      h("div", {}, h("dt", {}, "Limits"), h("dd", {}, h("b", {}, span(between, step.unit)))),
      step.kind === "reading" && h("div", { class: "tl" }, h("dt", {}, "Tool"), h("dd", {}, h("b", {}, desk.toolFor(step) ?? step.tool ?? "any")), h("dd", {}, h("button", {
        type: "button", class: "btn", "data-k": "tool", onclick: () => desk.set({ sheet: { is: "adapter", step: step.step } }),
      }, "Another"))),
      step.minutes != null && h("div", {}, h("dt", {}, "Takes about"), h("dd", {}, `${figure(step.minutes)} min`))),
    act: h("div", { class: "pad" }, reading({ label: "Reading", typed: desk.look.typed, unit: step.unit, limits: between, out }),
      keys({ typed: desk.look.typed, type, minus })),
    typing: { typed: desk.look.typed, type, minus },
    outside: out,
    done: out ? again(desk) : keep(desk, value == null ? "Type the reading" : `Keep ${withUnit(value, step.unit)}`,
      () => desk.record(step, slot, { value, tool: desk.toolFor(step) }), value == null),
  };
}

/** Outside its limits the large action only offers to type it again. @param {Desk} desk */
const again = desk => keep(desk, "Enter it again", () => desk.set({ typed: "" }));

/** @param {Desk} desk @param {Step} step @param {Slot} slot */
function torque(desk, step, slot) {
  const passes = passesOf(step), bolts = step.bolts ?? 1, pass = slot.pass ?? 1, bolt = slot.bolt ?? 1;
  const percent = percentOf(pass, passes);
  const between = limits(step, percent);
  const adapter = desk.adapterFor(step);
  const factor = adapterFactor(adapter) ?? 1;
  const aim = step.target == null ? null : clean(step.target * percent / 100);
  const shown = valueOf(desk.look.typed);
  const value = shown == null ? null : factor === 1 ? shown : Number((shown * factor).toPrecision(4));
  const out = value != null && !inside(value, between);
  const type = (/** @type {string} */ typed) => desk.set({ typed });
  const note = factor === 1 ? undefined
    : `wrench showed ${figure(shown ?? 0)} with an adapter ${adapter.position === "inLine" ? "in line" : "reversed"}, L ${figure(adapter.wrench)}, E ${figure(adapter.length)} mm`;
  const set = aim == null ? null : clean(aim / factor);
  const name = bolts === 1 ? "joint" : `bolt ${bolt}`;
  return {
    say: say(desk, step, passes > 1 ? `${plainly(step.text)}: pass ${pass} of ${passes}` : step.text, [
      h("p", {}, bolts > 1 && step.sequence && `${step.sequence[0].toUpperCase()}${step.sequence.slice(1)} order. `,
        (desk.toolFor(step) ?? step.tool) ? `Wrench ${desk.toolFor(step) ?? step.tool}, ` : "Wrench: ", adapter.position === "none" ? "no adapter: " : adapter.position === "rightAngle" ? "adapter at 90°: " : `adapter ${adapter.position === "inLine" ? "in line" : "reversed"}: `,
        set != null && "set ", set != null && h("b", {}, `${percent === 100 ? "" : "about "}${setting(set)} ${step.unit ?? "N·m"}`),
        set != null && inOtherUnit(set, step.unit) && ` (${inOtherUnit(set, step.unit)})`, "."),
    ]),
    see: h("figure", {}, boltCircle({ bolts, sequence: step.sequence, next: bolt, done: range(bolts).filter(b => b !== bolt && standingFor(step, { pass, bolt: b })) }),
      h("p", { class: "nxt" }, h("span", { class: "q" }, "after this: "), afterThis(desk, step, slot)),
      h("button", { type: "button", class: "btn adp", "data-k": "adapter", onclick: () => desk.set({ sheet: { is: "adapter", step: step.step } }) }, "Another wrench, or an adapter"),
      bolts * passes > 1 && passTable(step, slot)),
    act: h("div", { class: "pad" }, reading({
      label: `${name[0].toUpperCase()}${name.slice(1)}, ${factor === 1 ? "reading" : "the wrench shows"}`, typed: desk.look.typed, unit: step.unit, limits: between, out, value,
      extra: factor === 1 || value == null ? null : `${withUnit(value, step.unit)} at the bolt`,
    }), keys({ typed: desk.look.typed, type })),
    typing: { typed: desk.look.typed, type },
    outside: out,
    done: out ? again(desk) : keep(desk, value == null ? "Type the reading" : `Keep ${figure(value)} for ${name}`,
      () => desk.record(step, slot, { value, note, tool: desk.toolFor(step) }), value == null),
  };
}

/** Without its full stop, so that words can follow. @param {string} text */
const plainly = text => text.replace(/\.\s*$/, "");

/** @param {number} n */
const range = n => Array.from({ length: n }, (_, i) => i + 1);

/** @param {Desk} desk @param {Step} step @param {Slot} slot */
function afterThis(desk, step, slot) {
  const left = slots(step).filter(s => !standingFor(step, s) && !(s.pass === slot.pass && s.bolt === slot.bolt));
  const here = left.filter(s => s.pass === slot.pass).map(s => s.bolt);
  const bolts = here.length === 0 ? "" : here.length === 1 ? `bolt ${here[0]}` : `bolts ${here.slice(0, -1).join(", ")} and ${here[here.length - 1]}`;
  const then = left.some(s => s.pass !== slot.pass) ? `pass ${(slot.pass ?? 1) + 1}` : step.holdPoint ? `hold point ${holdLetter(desk.seen, step)}` : nextStep(desk, step);
  return [bolts, then].filter(Boolean).join(", then ");
}

/** @param {Desk} desk @param {Step} step */
function nextStep(desk, step) {
  const order = desk.seen;
  const done = { ...order, steps: order.steps.map(s => s.step === step.step ? { ...s, recorded: true, deviates: false, results: [] } : s) };
  const next = place(done);
  return next.kind === "step" ? `step ${next.step.step}` : next.kind === "hold" ? "a hold point" : "finish";
}

/** What each pass kept. @param {Step} step @param {Slot} slot */
function passTable(step, slot) {
  const bolts = range(step.bolts ?? 1);
  return h("div", { class: "psb", tabindex: bolts.length > 8 ? 0 : null, role: bolts.length > 8 ? "group" : null, "aria-label": bolts.length > 8 ? "Passes" : null },
    h("table", { class: "t ps" },
      h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Bolt"), bolts.map(b => h("th", { scope: "col" }, b)))),
      h("tbody", {}, range(passesOf(step)).map(pass => h("tr", {}, h("th", { scope: "row" }, `Pass ${pass}`), bolts.map(bolt => {
        const kept = standingFor(step, { pass, bolt });
        return h("td", { class: pass === slot.pass && bolt === slot.bolt ? "nw2" : null }, kept ? kept.value == null ? kept.outcome === "asSpecified" ? "✓" : "not" : figure(inUnit(kept, step)) : "");
      }))))));
}

/** @param {Desk} desk @param {Step} step @param {Slot} slot */
function carryOver(desk, step, slot) {
  const choice = desk.look.choice;
  const spares = desk.seen.demand.filter(d => d.spare && (d.part === step.part || (d.inPlaceOf ?? []).some(o => o.part === step.part))).reduce((sum, d) => sum + d.picked + d.reserved, 0);
  const option = (/** @type {string} */ word, /** @type {string} */ title, /** @type {string} */ text) => h("button", {
    type: "button", class: "opt", "data-k": word, "aria-pressed": choice === word ? "true" : "false", onclick: () => desk.set({ choice: word }),
  }, h("b", {}, h("i", { class: "rdo", "aria-hidden": "true" }), title), h("span", {}, text));
  return {
    say: say(desk, step, step.pieces > 1 ? `${plainly(step.text)}: piece ${slot.piece} of ${step.pieces}` : step.text),
    see: h("div", { class: "judge" },
      h("div", { class: "pcs" }, slots(step).map(s => {
        const kept = standingFor(step, s);
        const here = s.piece === slot.piece;
        return h("div", { class: here ? "now2" : null }, h("span", { class: "lab2" }, `Piece ${s.piece}`),
          kept && !here ? h("b", { class: "m passed" }, `${title(kept.decision ?? kept.outcome)}, ${clock(kept.recordedAt, Date.now())}`) : h("b", {}, here ? "being judged" : "to be judged"));
      }), h("div", {}, h("span", { class: "lab2" }, "Spares"), h("b", {}, spares > 0 ? `${figure(spares)} held for this order` : "none held for this order"))),
      h("div", { class: "ch2x", role: "group", "aria-label": "Decision" },
        option("reuse", "Reuse", "It goes back as it is."),
        option("replace", "Replace", spares > 0 ? "Takes a spare." : "No spare is held: it becomes a shortage, and the order waits."))),
    done: keep(desk, choice ? `${title(choice)}${step.pieces > 1 ? ` piece ${slot.piece}` : ""}` : "Reuse or replace?", () => desk.record(step, slot, { decision: choice }), !choice),
  };
}

/** @param {string} word */
const title = word => ({ reuse: "Reuse", replace: "Replace", notAsSpecified: "Not as specified", notApplicable: "Does not apply", asSpecified: "As specified" })[word] ?? word;

/** The button that opens the camera. @param {Desk} desk @param {Step} step @param {string} label @param {(picture: Blob) => any} then @param {string} cls */
export function camera(desk, step, label, then, cls) {
  const field = h("input", {
    type: "file", accept: "image/*", capture: "environment", class: "vh", "data-k": `camera ${step.step}`, "aria-label": label,
    onchange: async () => {
      const file = field.files?.[0];
      if (!file) return;
      const picture = await smaller(file);
      if (picture) return then(picture);
      desk.message = { is: "refused", title: "This is no picture the tablet can read", sentence: "Nothing was kept. Take it again, as a photograph." };
      desk.paint();
    },
  });
  return h("label", { class: cls }, label, field);
}

/** @param {Desk} desk @param {Step} step @param {Slot} slot */
function photograph(desk, step, slot) {
  const waiting = desk.unsent.filter(r => r.kind === "photograph" && r.step === step.step).length;
  return {
    say: say(desk, step),
    see: h("div", { class: "did" }, h("p", {}, waiting > 0 ? "The photograph is kept on this tablet and goes to the server with the results." : "The photograph is made smaller here, kept with this step and sent with the results.")),
    doneNode: camera(desk, step, "Take the photograph", async picture => {
      if (await desk.photograph(step, picture)) await desk.record(step, slot, { note: "photograph taken" });
    }, "btn go done"),
    done: null,
  };
}

export { title as wordOf };
