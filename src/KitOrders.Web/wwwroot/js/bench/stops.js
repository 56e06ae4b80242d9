// @ts-check
// Where the work stands still: before the start, at a hold point, in a pause, when a planner has to decide, at the end.
import { h, mk } from "./dom.js";
import { caution } from "./drawings.js";
import { deviates, inOrder, recorded, released, standing } from "./order.js";
import { holdLetter } from "./place.js";
import { clock, count, day, figure, withUnit } from "./figures.js";
import { keep, wordOf } from "./screens.js";
import { bring } from "./bring.js";

/** @typedef {import("./desk.js").Desk} Desk @typedef {import("./order.js").Step} Step @typedef {import("./screens.js").Screen} Screen */

/** @param {string} title @param {any[]} words */
const words = (title, ...words) => h("section", { class: "bsay" }, h("h1", { tabindex: -1 }, title), words);

const today = { label: "Today's orders", on: () => location.assign("/bench") };

/** @param {Desk} desk @returns {Screen} */
export function startScreen(desk) {
  const order = desk.seen;
  const open = order.suitability.filter(c => c.result !== "passed" && !c.answer);
  const look = desk.look.permits;
  return {
    say: [words(`${order.number} is staged${order.stagedPlace ? ` at ${order.stagedPlace}` : ""}`,
      h("p", {}, order.jobDescription || order.job, ", ", order.pump, ` (${order.model}, serial ${order.serial}).`),
      h("p", { class: "q" }, "Starting asks the server to check once more that the kit suits this pump. ", order.suitabilityNotice))],
    see: h("div", { class: "scroll" }, bring(order),
      open.length > 0 && h("ul", { class: "rows" }, open.map(c => h("li", {}, mk(c.result), h("div", {}, h("b", {}, `${c.check}: ${c.result}`), h("small", {}, c.reason))))),
      h("dl", { class: "fl" }, order.permits.map(p => h("div", {}, h("dt", {}, p.kind), h("dd", {}, h("b", {}, p.reference), p.validTo && h("small", {}, `valid to ${day(p.validTo)}`)), h("dd", {}))),
        look.map((/** @type {any} */ p) => h("div", {}, h("dt", {}, p.kind), h("dd", {}, h("b", {}, p.reference), h("small", {}, "recorded with the start")), h("dd", {})))),
      permitForm(desk)),
    done: keep(desk, `Start ${order.number}`, () => desk.now(desk.orderPath("start"), desk.look.permits.length > 0 ? { permits: desk.look.permits } : {}).then(ok => ok && desk.back())),
    more: [today],
  };
}

/** @param {Desk} desk */
function permitForm(desk) {
  return h("form", {
    class: "line3", onsubmit: (/** @type {Event} */ e) => {
      e.preventDefault();
      const data = new FormData(/** @type {HTMLFormElement} */ (e.target));
      const kind = String(data.get("kind") ?? "").trim(), reference = String(data.get("reference") ?? "").trim();
      if (!kind || !reference) return;
      /** @type {HTMLFormElement} */ (e.target).reset();
      desk.set({ permits: [...desk.look.permits, { kind, reference }] });
    },
  }, h("label", { class: "f" }, h("span", {}, "Permit, its kind"), h("input", { name: "kind", maxlength: 60, autocomplete: "off" })),
  h("label", { class: "f" }, h("span", {}, "Its number"), h("input", { name: "reference", maxlength: 60, autocomplete: "off" })),
  h("button", { class: "btn" }, "Add the permit"));
}

/** @param {Desk} desk @returns {Screen} */
export function notYetScreen(desk) {
  const order = desk.seen;
  const short = order.demand.filter(d => d.short > 0);
  return {
    say: [words(order.state === "draft" ? `${order.number} is a draft` : `${order.number} is open and not staged`,
      h("p", {}, order.state === "draft" ? "A planner opens it first." : "The storeroom picks and stages its kit first; then it can be started here."))],
    see: short.length > 0 && h("ul", { class: "rows" }, short.map(d => h("li", {}, mk("short"), h("div", {}, h("b", {}, `${d.part}: short ${figure(d.short)}`),
      h("small", {}, d.description, d.promisedOn && `, promised ${day(d.promisedOn)}`))))),
    done: null, more: [today],
  };
}

/** @param {Desk} desk @returns {Screen} */
export function endedScreen(desk) {
  const order = desk.seen;
  const said = { finished: "The work is finished. A planner accounts for the parts and closes it.", closed: "It is closed; nothing more is recorded on it.", cancelled: "It was cancelled. Bring picked parts back to the storeroom." };
  return {
    say: [words(`${order.number} is ${order.state}`, h("p", {}, said[/** @type {keyof typeof said} */ (order.state)] ?? ""))],
    done: { label: "Today's orders", on: () => location.assign("/bench") },
  };
}

/** @param {Desk} desk @returns {Screen} */
export function pausedScreen(desk) {
  const order = desk.seen;
  const last = desk.cameBack;
  return {
    say: [h("section", { class: "hp" }, mk("hold"), h("h1", { tabindex: -1 }, "Paused"), h("p", {}, order.paused)),
      last && h("p", { class: "left" }, `Last recorded: step ${last.step.step}, ${clock(last.result.recordedAt, Date.now())} by ${last.result.person === desk.me ? "you" : last.result.person}.`)],
    done: keep(desk, "Go on with the work", () => desk.resume()),
    more: [today],
  };
}

/** Back after more than five minutes, or after somebody else: one look at the last step first. @param {Desk} desk @param {Step|null} next @returns {Screen} */
export function lookScreen(desk, next) {
  const { step, result } = /** @type {NonNullable<Desk["cameBack"]>} */ (desk.cameBack);
  const who = result.person === desk.me ? "you" : result.person;
  const goOn = () => { desk.mustLook = false; desk.back(); };
  return {
    now: next?.step ?? null,
    say: [words(next ? `You stopped before step ${next.step}` : "You stopped here",
      h("p", {}, `Step ${step.step} was recorded ${clock(result.recordedAt, Date.now())} by ${who}. Look at the pump: is it so?`))],
    see: h("div", { class: "did" }, h("span", { class: "lab2" }, `Step ${step.step}`), h("p", {}, h("b", {}, step.text)), values(step)),
    done: keep(desk, next ? `It is so: on to step ${next.step}` : "It is so: go on", goOn),
    more: [{ label: `Look at step ${step.step}`, on: () => { desk.mustLook = false; desk.set({ review: step.step }); } }, today],
  };
}

/** @param {Step} step */
function values(step) {
  return h("p", { class: "q" }, standing(step).map(r => [r.bolt && `bolt ${r.bolt}`, r.piece && `piece ${r.piece}`, r.value != null ? withUnit(r.value, r.unit) : wordOf(r.decision ?? r.outcome)].filter(Boolean).join(" ")).slice(-12).join(" · "));
}

/** @param {Desk} desk @param {Step} step @returns {Screen} */
export function holdScreen(desk, step) {
  const order = desk.seen;
  const all = inOrder(order);
  const at = all.findIndex(s => s.step === step.step);
  const from = all.slice(0, at).findLastIndex(s => s.holdPoint) + 1;
  const since = all.slice(from, at + 1);
  const letter = holdLetter(order, step);
  const next = all[at + 1];
  const done = all.slice(0, at + 1).filter(recorded).length;
  const measured = since.filter(s => s.step === step.step || standing(s).some(r => r.value != null) || s.results.some(r => r.outcome === "notAsSpecified"));
  return {
    now: step.step,
    say: [caution(step),
      h("section", { class: "hp" }, mk("hold"), h("h1", { tabindex: -1 }, `Hold point ${letter}`),
        h("p", {}, `${step.text} ${next ? `Step ${next.step} stays shut` : "The work cannot be finished"} until a named person releases this with their PIN.`))],
    see: h("ul", { class: "cond" },
      measured.map(s => h("li", {}, mk(deviates(s) ? "failed" : "passed"), h("div", {}, h("b", {}, s.text), h("small", {}, by(desk, s))), h("span", { class: "val" }, short(s)))),
      h("li", {}, mk(done === at + 1 ? "passed" : "failed"), h("div", {}, h("b", {}, "Nothing open before this"), h("small", {}, open(all.slice(0, at + 1)))), h("span", { class: "val" }, `${done} of ${at + 1}`))),
    done: done === at + 1 ? keep(desk, `Release hold point ${letter}`, () => desk.set({ sheet: { is: "second", release: step.step } }))
      : { label: `Release ${letter}: a step is left open`, off: true },
    more: [{ label: `Back to step ${step.step}`, on: () => desk.set({ review: step.step }) },
      { label: "Not as specified", on: () => desk.set({ sheet: { is: "nas", step: step.step, slot: { pass: null, bolt: null, piece: null } } }) },
      { label: "Pause here", on: () => desk.set({ sheet: { is: "pause" } }) }],
  };
}

/** @param {Desk} desk @param {Step} step */
function by(desk, step) {
  const last = standing(step).at(-1);
  if (!last) return "";
  return [`step ${step.step}, ${clock(last.recordedAt, Date.now())} by ${last.person === desk.me ? "you" : last.person}`, last.witness && `seen by ${last.witness}`, last.tool && `tool ${last.tool}`,
    last.outcome === "notAsSpecified" && (step.acceptedBy ? `accepted by ${step.acceptedBy}` : "not as specified"), last.waiting && "waiting to be sent"].filter(Boolean).join("; ");
}

/** @param {Step} step */
function short(step) {
  const read = standing(step).filter(r => r.value != null);
  if (read.length === 0) return "";
  const last = read[read.length - 1];
  if (read.length === 1) return withUnit(last.value, last.unit);
  const final = read.filter(r => r.pass === last.pass).map(r => /** @type {number} */ (r.value));
  return `${figure(Math.min(...final))}–${withUnit(Math.max(...final), last.unit)}`;
}

/** @param {Step[]} steps */
function open(steps) {
  const left = steps.filter(s => !recorded(s)).map(s => s.step);
  const bad = steps.filter(s => s.acceptedBy).length;
  return left.length > 0 ? `step ${left.join(", ")} not recorded` : `${count(steps.length, "step")} kept${bad > 0 ? `; ${count(bad, "deviation")} accepted by a planner` : ""}`;
}

/** @param {Desk} desk @param {Step} step @returns {Screen} */
export function stuckScreen(desk, step) {
  return {
    now: step.step,
    say: [caution(step), words(`Step ${step.step} is not as specified`,
      h("p", {}, `${step.text} The procedure stops here until a planner accepts it, or you have put it right and correct the result.`),
      h("p", { class: "q" }, standing(step).filter(r => r.outcome === "notAsSpecified").map(r => r.note).filter(Boolean).join("; ")))],
    done: keep(desk, "Ask again whether it is accepted", () => desk.refresh()),
    more: [{ label: "Put right: correct it", on: () => desk.set({ review: step.step }) }, { label: "Pause here", on: () => desk.set({ sheet: { is: "pause" } }) }, today],
  };
}

/** @param {Desk} desk @returns {Screen} */
export function finishScreen(desk) {
  const order = desk.seen;
  const all = inOrder(order);
  const bad = all.filter(s => s.results.some(r => r.outcome === "notAsSpecified" && !r.corrected));
  const kept = all.filter(s => s.kind === "carryOver");
  const tests = all.filter(s => s.kind === "functionTest");
  const holds = all.filter(s => s.holdPoint);
  const form = desk.look.finish ?? { hours: [{ person: desk.me, hours: "" }], downtime: "", strokes: "" };
  // Two quick taps may fall on the same picture, so each goes on from what stands now.
  const now = () => desk.look.finish ?? form;
  const change = (/** @type {any} */ patch) => desk.set({ finish: { ...now(), ...patch } });
  const waits = desk.unsent.length, refused = desk.refused.filter(r => r.order === order.number).length;
  const worked = (/** @type {any} */ given) => given.hours.filter((/** @type {any} */ x) => Number(x.hours) > 0);
  const since = order.startedAt ? (Date.now() - Date.parse(order.startedAt)) / 3_600_000 : null;
  const row = (/** @type {string} */ name, /** @type {any} */ value, /** @type {any} */ small, mark = "") =>
    h("div", {}, h("dt", {}, name), h("dd", {}, h("b", { class: mark ? `m ${mark}` : null }, value), small && h("small", {}, small)), h("dd", {}));
  return {
    say: [h("section", { class: "fin" }, h("p", { class: "bno2" }, all.length), h("div", {}, h("h1", { tabindex: -1 }, `All ${all.length} steps are kept`),
      h("p", {}, since != null && `${time(since)} since the start by the clock`, order.estimatedHours != null && `, ${figure(order.estimatedHours)} h planned`, ".")))],
    see: h("div", { class: "scroll" }, h("dl", { class: "fl" },
      row("Not as specified", bad.length === 0 ? "none" : `step ${bad.map(s => s.step).join(", ")}`, bad.map(s => s.acceptedBy ? `step ${s.step} accepted by ${s.acceptedBy}` : `step ${s.step} waits for a planner before closing`).join("; "), bad.some(deviates) ? "failed" : "passed"),
      kept.length > 0 && row("Carried over", kept.map(s => `${s.partDescription ?? s.part ?? `step ${s.step}`}: ${standing(s).map(r => r.decision ?? wordOf(r.outcome)).join(", ")}`).join("; "), null),
      row("Function test", tests.length === 0 ? "no step for it" : tests.map(s => short(s) || wordOf(standing(s).at(-1)?.outcome ?? "")).join("; "), tests.map(s => by(desk, s)).join("; "), tests.length > 0 && !tests.some(deviates) ? "passed" : ""),
      holds.length > 0 && row("Hold points", holds.map(s => `${holdLetter(order, s)} ${released(s) ? `released by ${s.releasedBy}` : "not released"}`).join("; "), null),
      form.hours.map((/** @type {any} */ x, /** @type {number} */ i) => stepper(desk, i === 0 ? "Hours" : "", x.person, x.hours, .25, v => change({ hours: now().hours.map((/** @type {any} */ y, /** @type {number} */ j) => j === i ? { ...y, hours: v } : y) }))),
      h("div", {}, h("dt", {}, ""), h("dd", {}, "Somebody else worked on it too?"), h("dd", {}, h("button", { type: "button", class: "btn", "data-k": "who", onclick: () => desk.set({ sheet: { is: "who" }, finish: now() }) }, "Add a person"))),
      stepper(desk, "Pump was down", "hours, empty when not known", form.downtime, .5, v => change({ downtime: v })),
      h("div", {}, h("dt", {}, "Stroke count"), h("dd", {}, h("label", { class: "f wide" }, h("span", { class: "vh" }, "Stroke count"), h("input", { inputmode: "numeric", pattern: "[0-9]*", autocomplete: "off", "data-k": "strokes", value: form.strokes, placeholder: "as on the counter", oninput: (/** @type {any} */ e) => { desk.look.finish = { ...now(), strokes: e.target.value.replace(/\D/g, "") }; desk.outbox.setDraft(/** @type {any} */ ({ id: desk.number, look: desk.look })).catch(() => {}); } }))), h("dd", {})))),
    done: waits > 0 ? { label: `Finish: ${count(waits, "result")} must be sent first`, off: true }
      : keep(desk, worked(form).length === 0 ? "Give the hours first" : `Finish ${order.number}`, () => desk.now(desk.orderPath("finish"), {
        hours: worked(now()).map((/** @type {any} */ x) => ({ person: x.person, hours: Number(x.hours) })),
        ...(now().downtime === "" ? {} : { downtimeHours: Number(now().downtime) }),
        ...(now().strokes === "" ? {} : { strokeCount: Number(now().strokes) }),
      }).then(ok => ok && desk.back()), worked(form).length === 0),
    more: [{ label: `Back to step ${all.at(-1)?.step}`, on: () => desk.set({ review: all.at(-1)?.step ?? null }) },
      refused > 0 ? { label: `${count(refused, "refused result")}: look`, due: true, on: () => desk.set({ sheet: { is: "waiting" } }) } : { label: "Pause here", on: () => desk.set({ sheet: { is: "pause" } }) }],
  };
}

/** @param {number} hours */
const time = hours => `${Math.floor(hours)} h ${Math.floor(hours % 1 * 60)} min`;

/** @param {Desk} desk @param {string} name @param {string} who @param {string} value @param {number} by @param {(v: string) => void} on */
function stepper(desk, name, who, value, by, on) {
  let now = Number(value) || 0;
  const to = (/** @type {number} */ v) => { now = Math.max(0, Math.round(v * 100) / 100); on(now === 0 ? "" : String(now)); };
  return h("div", {}, h("dt", {}, name), h("dd", {}, h("b", {}, value === "" ? "–" : `${figure(now)} h`), h("small", {}, who)),
    h("dd", { class: "pm" },
      h("button", { type: "button", class: "btn", "data-k": `less ${name}${who}`, "aria-label": `${name || "Hours"}, ${who}: less`, onclick: () => to(now - by) }, "−"),
      h("button", { type: "button", class: "btn", "data-k": `more ${name}${who}`, "aria-label": `${name || "Hours"}, ${who}: more`, onclick: () => to(now + by) }, "+")));
}
