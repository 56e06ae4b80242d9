// @ts-check
// What comes in front of a step for a moment: not as specified, a pause, the second person, the list of steps, what waits.
import { h, mk } from "./dom.js";
import { keys, pinSquares, reading, valueOf } from "./pad.js";
import { inOrder, recorded, released, deviates, standing, standingFor } from "./order.js";
import { keptBack } from "./place.js";
import { adapterFactor, inside } from "./torque.js";
import { clock, count, figure, withUnit } from "./figures.js";
import { camera, keep, say, wordOf } from "./screens.js";

/** @typedef {import("./desk.js").Desk} Desk @typedef {import("./order.js").Step} Step @typedef {import("./screens.js").Screen} Screen */

const close = (/** @type {Desk} */ desk, label = "Back to the step") => ({ label, on: () => { desk.second = { name: "", pin: "", known: false, step: 0 }; desk.back(); } });

/** @param {Desk} desk @param {number} number */
const stepOf = (desk, number) => /** @type {Step} */ (desk.seen.steps.find(s => s.step === number));

const KINDS = ["Damaged", "Missing", "Does not fit", "Out of limits", "Leaks", "Something else"];

/** Two taps: "not as specified", then what kind. @param {Desk} desk @returns {Screen} */
export function nasSheet(desk) {
  const { step: number, slot } = desk.look.sheet;
  const step = stepOf(desk, number);
  const value = valueOf(desk.look.typed);
  const measured = value != null && (step.kind === "reading" || step.kind === "torque" || step.kind === "functionTest");
  const give = (/** @type {string} */ note) => desk.record(step, slot, { outcome: "notAsSpecified", note, ...(measured ? { value } : {}) });
  const word = () => String(/** @type {any} */ (document.getElementById("word"))?.value ?? "").trim();
  const tap = (/** @type {string} */ kind) => keep(desk, kind, () => give(word() ? `${kind}: ${word()}` : kind));
  return {
    now: number,
    say: [h("section", { class: "bstep" }, h("p", { class: "bno" }, number), h("div", {}, h("h1", { tabindex: -1 }, "Not as specified: what is it?"),
      h("p", {}, step.text, slot.bolt && ` Pass ${slot.pass}, bolt ${slot.bolt}.`, slot.piece && ` Piece ${slot.piece}.`, measured && ` It reads ${withUnit(value, step.unit)}.`),
      h("p", { class: "q" }, "One tap records it. It never disappears: a planner accepts it, or you correct it.")))],
    see: h("div", { class: "scroll" },
      h("label", { class: "f wide" }, h("span", {}, "A word, if you like, before the tap"), h("input", { id: "word", maxlength: 200, autocomplete: "off", "data-k": "word" })),
      h("div", { class: "kinds", role: "group", "aria-label": "Kind" }, KINDS.map(kind => { const t = tap(kind); return h("button", { type: "button", class: "btn", "data-k": kind, onclick: t.on }, kind); })),
      camera(desk, step, photosOf(desk, number) > 0 ? `${count(photosOf(desk, number), "photograph")} waiting to be sent: take one more` : "Take a photograph of it", picture => desk.photograph(step, picture), "btn cam"),
      !step.holdPoint && h("button", { type: "button", class: "btn cam", "data-k": "na", onclick: (/** @type {Event} */ e) => {
        const note = word();
        if (!note) { desk.message = { is: "refused", title: "Say why it does not apply", sentence: "Type the reason in the field, then tap again." }; desk.paint(); document.getElementById("word")?.focus(); return; }
        if (desk.takes(e)) void desk.record(step, { pass: null, bolt: null, piece: null }, { outcome: "notApplicable", note });
      } }, "The step does not apply to this pump")),
    done: null,
    more: [close(desk), { label: "Pause here", on: () => desk.set({ sheet: { is: "pause" } }) }],
  };
}

/** @param {Desk} desk @param {number} step */
const photosOf = (desk, step) => desk.unsent.filter(r => r.kind === "photograph" && r.step === step).length;

const REASONS = ["Waiting for a part", "Waiting for a permit", "Called to another job", "End of shift", "Not as specified, a planner decides"];

/** @param {Desk} desk @returns {Screen} */
export function pauseSheet(desk) {
  const tap = (/** @type {string} */ reason) => keep(desk, reason, () => desk.pause(reason));
  return {
    say: [h("section", { class: "bsay" }, h("h1", { tabindex: -1 }, "Pause: why?"), h("p", {}, "One tap pauses the order. Everything recorded stays; it opens again where you leave it."))],
    see: h("div", { class: "scroll" }, h("div", { class: "nm one" }, REASONS.map(r => h("button", { type: "button", class: "btn", "data-k": r, onclick: tap(r).on }, r))),
      h("form", { class: "line3", onsubmit: (/** @type {Event} */ e) => { e.preventDefault(); const text = String(new FormData(/** @type {any} */ (e.target)).get("reason") ?? "").trim(); if (text) void desk.pause(text); } },
        h("label", { class: "f" }, h("span", {}, "Another reason"), h("input", { name: "reason", maxlength: 200, autocomplete: "off" })), h("button", { class: "btn" }, "Pause"))),
    done: null, more: [close(desk)],
  };
}

/**
 * The second person: who, their pin, and where the step is measured their own reading, before they see the first.
 * @param {Desk} desk @returns {Screen}
 */
export function secondSheet(desk) {
  const release = desk.look.sheet.release;
  const first = desk.look.first;
  const step = stepOf(desk, release ?? first?.step);
  if (desk.second.step !== step.step) desk.second = { name: "", pin: "", known: false, step: step.step };
  const second = desk.second;
  if (!second.known) return whoAndPin(desk, step, release != null);
  return ownReading(desk, step, first);
}

/** @param {Desk} desk @param {Step} step @param {boolean} release @returns {Screen} */
function whoAndPin(desk, step, release) {
  const second = desk.second;
  const measured = !release && desk.look.first?.body.value != null;
  const people = desk.people.filter(p => release ? /technician|planner/.test(p.role) : p.name !== desk.me);
  const type = (/** @type {string} */ pin) => { second.pin = pin; desk.paint(); };
  const ready = second.name !== "" && second.pin.length >= 4;
  const go = async () => {
    if (release) {
      const ok = await desk.now(desk.path(step, "release"), { person: second.name, pin: second.pin }, () => { second.pin = ""; });
      if (ok) close(desk).on();
    } else if (measured) { second.known = true; desk.set({ typed: "" }); }
    else await sendWitnessed(desk, step, undefined);
  };
  return {
    now: step.step,
    say: say(desk, step, release ? "Who releases this hold point?" : "Second person: look at it now", [
      h("p", {}, release ? "Whoever releases it says with their PIN that the work before it is right." : step.text),
    ]),
    see: h("div", { class: "wholist" },
      h("div", { class: "nm one", role: "group", "aria-label": "Person" }, people.map(p => h("button", {
        type: "button", class: "btn", "data-k": `person ${p.name}`, "aria-pressed": second.name === p.name ? "true" : "false",
        onclick: () => { second.name = p.name; second.pin = ""; desk.paint(); },
      }, p.name, p.role && h("small", {}, p.role)))),
      h("label", { class: "f wide" }, h("span", {}, people.length > 0 ? "Somebody else, by name" : "Their name"), h("input", {
        "data-k": "name", autocomplete: "off", value: people.some(p => p.name === second.name) ? "" : second.name,
        oninput: (/** @type {any} */ e) => { second.name = e.target.value.trim(); },
      })),
      !release && h("p", { class: "q" }, `${desk.me} did it and cannot witness it.`)),
    act: h("div", { class: "pad" }, pinSquares(second.name || "Second person", second.pin), keys({ typed: second.pin, type, point: false, max: 8 })),
    typing: { typed: second.pin, type, point: false, max: 8 },
    done: keep(desk, desk.busy ? "Asking the server" : release ? "Release with this PIN" : measured ? "Now your own reading" : `Witness step ${step.step}`, go, !ready),
    more: [close(desk), { label: "Pause here", on: () => desk.set({ sheet: { is: "pause" } }) }],
  };
}

/** @param {Desk} desk @param {Step} step @param {any} first @returns {Screen} */
function ownReading(desk, step, first) {
  const typed = desk.look.typed;
  const value = valueOf(typed);
  const none = { low: null, high: null };
  const type = (/** @type {string} */ t) => desk.set({ typed: t });
  return {
    now: step.step,
    say: say(desk, step, `${desk.second.name}: take your own reading`, [h("p", {}, `The first reading is kept and not shown until yours is given. Measure${first.slot.bolt ? ` bolt ${first.slot.bolt}` : ""} yourself and type what you read.`)]),
    act: h("div", { class: "pad" }, reading({ label: "Your reading", typed, unit: step.unit, limits: none, out: false }), keys({ typed, type })),
    typing: { typed, type },
    done: keep(desk, desk.busy ? "Asking the server" : value == null ? "Type your reading" : `Witness with ${withUnit(value, step.unit)}`, () => sendWitnessed(desk, step, value), value == null),
    more: [close(desk)],
  };
}

/** @param {Desk} desk @param {Step} step @param {number|null|undefined} value */
async function sendWitnessed(desk, step, value) {
  const { body } = desk.look.first;
  const second = desk.second;
  const from = { ...desk.look };
  const ok = await desk.now(desk.path(step, "results"), { ...body, witness: { person: second.name, pin: second.pin, ...(value == null ? {} : { value }) } }, () => { second.known = false; second.pin = ""; });
  if (!ok) return;
  const now = stepOf(desk, step.step);
  if (recorded(now)) desk.second = { name: "", pin: "", known: false, step: 0 };
  const given = standing(now).at(-1);
  desk.after(step, from);
  if (given?.value != null && given.witnessValue != null)
    desk.message = { is: "told", title: "Both readings are kept", sentence: `${given.person} read ${withUnit(given.value, given.unit)}, ${given.witness} read ${withUnit(given.witnessValue, given.unit)}.` };
  desk.paint();
}

/** @param {Desk} desk @returns {Screen} */
export function adapterSheet(desk) {
  const step = stepOf(desk, desk.look.sheet.step);
  const now = desk.look.sheet.adapter ?? desk.adapterFor(step);
  const needs = now.position === "inLine" || now.position === "reversed";
  const put = (/** @type {any} */ patch) => { desk.look.sheet = { ...desk.look.sheet, adapter: { ...(desk.look.sheet.adapter ?? now), ...patch } }; };
  const field = (/** @type {"wrench"|"length"} */ name, /** @type {string} */ label) => h("label", { class: "f" }, h("span", {}, label),
    h("input", { inputmode: "decimal", "data-k": name, autocomplete: "off", value: now[name] || "", oninput: (/** @type {any} */ e) => put({ [name]: Number(e.target.value.replace(",", ".")) || 0 }) }));
  const use = () => {
    const tool = String(/** @type {any} */ (document.querySelector("[data-k=tool]"))?.value ?? "").trim();
    const chosen = desk.look.sheet.adapter ?? now;
    if (adapterFactor(chosen) == null) {
      desk.message = { is: "refused", title: "These lengths cannot be", sentence: "Measure both in mm; a reversed adapter is shorter than the wrench." };
      return desk.paint();
    }
    desk.message = null;
    desk.set({ adapter: chosen.position === "none" ? null : { ...chosen, step: step.step }, tool: tool && tool !== step.tool ? { step: step.step, tool } : null, sheet: null, typed: "" });
  };
  return {
    say: [h("section", { class: "bsay" }, h("h1", { tabindex: -1 }, step.kind === "torque" ? "Wrench and adapter" : "Which tool?"),
      h("p", {}, "The tool must be on record and in calibration; the server looks it up.", step.kind === "torque" && " An adapter makes the wrench longer or shorter, so that it must be set to another figure than the torque at the bolt."))],
    see: h("div", { class: "scroll" }, h("label", { class: "f wide" }, h("span", {}, step.kind === "torque" ? "Wrench, its number" : "Tool, its number"),
      h("input", { "data-k": "tool", maxlength: 60, autocomplete: "off", value: desk.toolFor(step) ?? step.tool ?? "" })),
    step.kind === "torque" && h("div", { class: "nm", role: "group", "aria-label": "How the adapter sits" }, [["none", "No adapter"], ["rightAngle", "At 90°"], ["inLine", "In line"], ["reversed", "Reversed"]].map(([k, label]) =>
      h("button", { type: "button", class: "btn", "data-k": k, "aria-pressed": now.position === k ? "true" : "false", onclick: () => { put({ position: k }); desk.set({}); } }, label))),
    needs && h("div", { class: "line3" }, field("wrench", "Wrench, handle to square, mm (L)"), field("length", "Adapter, square to bolt, mm (E)"))),
    done: keep(desk, "Use this", use),
    more: [close(desk)],
  };
}

/** All steps: what is kept, what is due, what waits for what. @param {Desk} desk @param {number|null} now @returns {Screen} */
export function stepsSheet(desk, now) {
  const order = desk.seen;
  return {
    now,
    say: [h("section", { class: "bsay" }, h("h1", { tabindex: -1 }, `Steps of ${order.number}`), h("p", { class: "q" }, "Kept steps can be looked at and corrected; open ones can be done when nothing keeps them back."))],
    see: h("ol", { class: "rows scroll" }, inOrder(order).map(s => {
      const why = recorded(s) ? null : keptBack(order, s);
      const mark = deviates(s) ? "failed" : recorded(s) ? "passed" : s.step === now ? "underway" : "open";
      return h("li", {}, h("button", {
        type: "button", "data-k": `step ${s.step}`, disabled: why != null || order.state !== "underway" && !recorded(s), "aria-current": s.step === now ? "step" : null,
        onclick: () => desk.set(s.results.length > 0 && recorded(s) ? { review: s.step, sheet: null } : { chosen: s.step, review: null, correct: null, sheet: null }),
      }, mk(mark), h("b", { class: "num" }, s.step), h("span", {}, s.text, (why || deviates(s)) && h("small", {}, why ?? (s.acceptedBy ? "" : "not as specified, not accepted yet"))),
      s.holdPoint && h("span", { class: "m hold" }, released(s) ? "released" : "hold point")));
    })),
    done: null, more: [close(desk, now ? `Back to step ${now}` : "Back")],
  };
}

/** One recorded step: what stands, what was there before, and a way to correct it. @param {Desk} desk @param {Step} step @returns {Screen} */
export function reviewScreen(desk, step) {
  const stand = standing(step);
  const place = desk.place;
  const now = place.kind === "step" ? place.step.step : null;
  const may = desk.seen.state === "underway" && desk.seen.paused == null;
  const earlier = inOrder(desk.seen).filter(s => s.step < step.step && s.results.length > 0).at(-1);
  const others = step.results.filter(r => !stand.some(s => s.id === r.id));
  const line = (/** @type {any} */ r, stands = true) => h("li", {}, mk(r.outcome === "notAsSpecified" ? "failed" : "passed"), h("div", { class: stands ? null : "old" },
    h("b", {}, [r.pass && step.passes !== 1 && `pass ${r.pass}`, r.bolt && `bolt ${r.bolt}`, r.piece && `piece ${r.piece}`].filter(Boolean).join(", ") || null,
      r.bolt || r.piece ? ": " : "", r.value != null ? withUnit(r.value, r.unit) : wordOf(r.decision ?? r.outcome)),
    h("small", {}, [`${clock(r.recordedAt, Date.now())} by ${r.person === desk.me ? "you" : r.person}`, r.outcome === "notAsSpecified" && "not as specified", r.note, r.tool && `tool ${r.tool}`,
      r.witness && `seen by ${r.witness}${r.witnessValue != null ? `, who read ${withUnit(r.witnessValue, r.unit)}` : ""}`, r.waiting && "waiting to be sent", !stands && "replaced by a later result"].filter(Boolean).join(" · "))),
  stands && may && h("button", { type: "button", class: "btn", "data-k": `correct ${r.id}`, "aria-label": `Correct ${r.bolt ? `bolt ${r.bolt}` : r.piece ? `piece ${r.piece}` : `step ${step.step}`}`, onclick: () => desk.set({ correct: { step: step.step, slot: slotOf(step, r) }, review: null, typed: "" }) }, "Correct"));
  return {
    now,
    say: [h("section", { class: "bstep" }, h("p", { class: "bno" }, step.step), h("div", {}, h("h1", { tabindex: -1 }, step.text),
      h("p", { class: "q" }, recorded(step) ? "Recorded." : "Partly recorded.", step.acceptedBy && ` Accepted by ${step.acceptedBy}: ${step.acceptReason}.`, step.releasedBy && ` Released by ${step.releasedBy}.`)))],
    see: h("ul", { class: "rows scroll" }, stand.map(r => line(r)), others.map(r => line(r, false))),
    done: keep(desk, now ? `Go on with step ${now}` : "Go on", () => desk.back()),
    more: [earlier && { label: `Back to step ${earlier.step}`, on: () => desk.set({ review: earlier.step }) }, { label: "Pause here", on: () => desk.set({ sheet: { is: "pause" } }) }].filter(x => !!x),
  };
}

/** @param {Step} step @param {any} r */
const slotOf = (step, r) => ({ pass: step.kind === "torque" ? r.pass ?? 1 : null, bolt: step.kind === "torque" ? r.bolt ?? 1 : null, piece: step.kind === "carryOver" ? r.piece ?? 1 : null });

/** Everything that waits or was refused, whoever tapped it. @param {Desk} desk @returns {Screen} */
export function waitingSheet(desk) {
  const others = desk.waiting.filter(r => r.user !== desk.me && !r.refused);
  const mine = desk.waiting.filter(r => r.user === desk.me && !r.refused);
  const here = encodeURIComponent(location.pathname);
  return {
    say: [h("section", { class: "bsay" }, h("h1", { tabindex: -1 }, desk.waiting.length === 0 ? "Everything is sent" : "Kept on this tablet"),
      desk.sender.line === "none" && h("p", {}, `No answer from the server since ${clock(desk.sender.lostSince ?? Date.now(), Date.now())}. Results stay here and are sent by themselves, in order, when it answers.`),
      desk.sender.line === "signIn" && h("p", {}, "You are not signed in any more. Nothing is lost: ", h("a", { class: "btn go", href: `/sign-in?returnUrl=${here}` }, "Sign in to send them")),
      !isSecureContext && h("p", { class: "q" }, "This tablet reaches the plant over plain http: results are kept, but the page itself cannot be loaded again while there is no network. Https changes that."))],
    see: h("ul", { class: "rows scroll" },
      desk.waiting.filter(r => r.refused).map(r => h("li", { class: "ref" }, mk("failed"), h("div", {}, h("b", {}, `${r.order}: ${r.says}`),
        h("small", {}, `${clock(r.at, Date.now())} by ${r.user}. ${r.aside ? "Set aside. " : ""}The server refused it: ${r.refused?.sentence}`)),
      h("button", { type: "button", class: "btn", "data-k": `again ${r.key}`, onclick: () => desk.sendAgain(r) }, "Send again"),
      !r.aside && h("button", { type: "button", class: "btn", "data-k": `aside ${r.key}`, onclick: () => desk.setAside(r) }, "Set aside"))),
      mine.map(r => h("li", {}, mk("waiting"), h("div", {}, h("b", {}, `${r.order}: ${r.says}`), h("small", {}, `${clock(r.at, Date.now())}, waits to be sent`)))),
      others.map(r => h("li", {}, mk("waiting"), h("div", {}, h("b", {}, `${r.order}: ${r.says}`), h("small", {}, `${clock(r.at, Date.now())} by ${r.user}: it goes when ${r.user} signs in on this tablet`))))),
    done: null, more: [close(desk), { label: "Try to send now", on: () => void desk.sender.now().then(() => desk.reread()) }],
  };
}

/** Who else worked on it. @param {Desk} desk @returns {Screen} */
export function whoSheet(desk) {
  const add = (/** @type {string} */ person) => {
    const form = desk.look.finish;
    desk.set({ sheet: null, finish: form.hours.some((/** @type {any} */ x) => x.person === person) ? form : { ...form, hours: [...form.hours, { person, hours: "" }] } });
  };
  return {
    say: [h("section", { class: "bsay" }, h("h1", { tabindex: -1 }, "Who else worked on it?"))],
    see: h("div", { class: "scroll" }, h("div", { class: "nm" }, desk.people.filter(p => p.name !== desk.me).map(p => h("button", { type: "button", class: "btn", "data-k": p.name, onclick: () => add(p.name) }, p.name, p.role && h("small", {}, p.role)))),
      h("form", { class: "line3", onsubmit: (/** @type {Event} */ e) => { e.preventDefault(); const name = String(new FormData(/** @type {any} */ (e.target)).get("name") ?? "").trim(); if (name) add(name); } },
        h("label", { class: "f" }, h("span", {}, "Somebody else, by name"), h("input", { name: "name", maxlength: 100, autocomplete: "off" })), h("button", { class: "btn" }, "Add"))),
    done: null, more: [{ label: "Back", on: () => desk.set({ sheet: null }) }],
  };
}
