// @ts-check
// Puts a screen on the page: head, strip, what is said, what is seen, the pad, the one large action, the rest.
import { h, mk, show } from "./dom.js";
import { strip } from "./drawings.js";
import { clock, count } from "./figures.js";
import { press } from "./pad.js";
import { stepScreen } from "./screens.js";
import { endedScreen, finishScreen, holdScreen, lookScreen, notYetScreen, pausedScreen, startScreen, stuckScreen } from "./stops.js";
import { adapterSheet, nasSheet, pauseSheet, reviewScreen, secondSheet, stepsSheet, waitingSheet, whoSheet } from "./sheets.js";

/** @typedef {import("./desk.js").Desk} Desk @typedef {import("./screens.js").Screen} Screen */

/** @param {Desk} desk @returns {Screen} */
function screenOf(desk) {
  const place = desk.place;
  const now = place.kind === "step" ? place.step.step : place.kind === "hold" || place.kind === "stuck" ? place.step.step : null;
  const by = { nas: nasSheet, pause: pauseSheet, second: secondSheet, adapter: adapterSheet, waiting: waitingSheet, who: whoSheet, steps: (/** @type {Desk} */ d) => stepsSheet(d, now) };
  const sheet = by[/** @type {keyof typeof by} */ (desk.look.sheet?.is)];
  if (sheet && (desk.look.sheet.is !== "second" || desk.look.first || desk.look.sheet.release)) return sheet(desk);
  if (place.kind === "start") return startScreen(desk);
  if (place.kind === "notYet") return notYetScreen(desk);
  if (place.kind === "paused") return pausedScreen(desk);
  const again = desk.look.review == null ? null : desk.seen.steps.find(s => s.step === desk.look.review);
  if (again) return reviewScreen(desk, again);
  if (place.kind === "ended") return endedScreen(desk);
  const correct = desk.look.correct && desk.seen.steps.find(s => s.step === desk.look.correct?.step);
  if (correct) return stepScreen(desk, correct, /** @type {any} */ (desk.look.correct).slot);
  if (desk.mustLook && desk.cameBack) return lookScreen(desk, place.kind === "step" || place.kind === "hold" ? place.step : null);
  if (place.kind === "step") return stepScreen(desk, place.step, place.slot);
  if (place.kind === "hold") return holdScreen(desk, place.step);
  if (place.kind === "stuck") return stuckScreen(desk, place.step);
  return finishScreen(desk);
}

const STATES = { draft: "Draft", open: "Open", staged: "Staged", underway: "Underway", finished: "Finished", closed: "Closed", cancelled: "Cancelled" };

/** @param {Desk} desk */
function head(desk) {
  const order = desk.seen;
  return h("header", { class: "bt" },
    h("div", {}, h("a", { class: "home", href: "/bench", "aria-label": "Today's orders" }, mk("to")), h("b", {}, order.number), h("b", {}, order.pump),
      h("span", { class: `m ${order.state}` }, order.paused ? "Paused" : STATES[/** @type {keyof typeof STATES} */ (order.state)] ?? order.state)),
    h("button", { type: "button", class: "bs", "data-k": "bs", onclick: () => desk.set({ sheet: { ...desk.look.sheet, is: "waiting" } }) }, lineWords(desk)));
}

/** What waits, and whether anybody hears us. @param {{waiting: any[], refused: any[], me: string, asOf?: number|null, sender: import("./sender.js").Sender}} desk */
export function lineWords(desk) {
  const waits = desk.waiting.filter(r => !r.refused).length;
  const { line, lostSince } = desk.sender;
  const first = desk.refused.length > 0 ? h("span", { class: "m failed" }, h("b", {}, `${count(desk.refused.length, "result")} refused: look`))
    : waits > 0 ? h("span", { class: "m waiting" }, h("b", {}, `${figureOf(waits)} waiting to send`)) : h("span", { class: "m passed" }, h("b", {}, "all sent"));
  const second = line === "signIn" ? "sign in to send; results are kept here"
    : line === "none" ? `no network since ${clock(lostSince ?? Date.now(), Date.now())}; results are kept here`
    : desk.asOf ? `as of ${clock(desk.asOf, Date.now())}` : waits > 0 ? "sending" : desk.me;
  return [first, h("span", {}, second)];
}

/** @param {number} n */
const figureOf = n => n.toLocaleString("en");

/** @param {Desk} desk @param {Element} root @param {Element} status */
export function paint(desk, root, status) {
  if (!desk.order) {
    root.className = "bench one";
    return show(root, [h("header", { class: "bt" }, h("div", {}, h("a", { class: "home", href: "/bench", "aria-label": "Today's orders" }, mk("to")), h("b", {}, desk.number)), h("div", { class: "bs" }, lineWords(desk))),
      h("div", { class: "say" }, h("section", { class: "bsay" }, h("h1", { tabindex: -1 }, desk.missing ? "This order cannot be shown" : desk.sender.line === "none" ? "No network, and this order was never opened here" : desk.sender.line === "signIn" ? "Sign in to open this order" : "Opening the order"),
        h("p", {}, desk.missing || (desk.sender.line === "none" ? "Once opened on this tablet, an order works without network. It opens by itself when the server answers." : "")),
        desk.sender.line === "signIn" && h("a", { class: "btn go", href: `/sign-in?returnUrl=${encodeURIComponent(location.pathname)}` }, "Sign in")))]);
  }
  const screen = screenOf(desk);
  root.className = `bench ${screen.see && screen.act ? "two" : screen.see ? "wide" : screen.act ? "padded" : "one"}`;
  /** @type {any} */ (root).screen = screen;
  const message = desk.message && h("div", { class: desk.message.is === "refused" ? "res nob" : "res", role: "alert" }, mk(desk.message.is === "refused" ? "failed" : "passed"), h("p", {}, h("b", {}, desk.message.title), desk.message.sentence));
  const more = screen.more ?? [];
  show(root, [head(desk), desk.seen.steps.length > 0 && strip(desk.seen, screen.now ?? null, () => desk.set({ sheet: { ...desk.look.sheet, is: "steps" } })),
    h("div", { class: "say" }, message, screen.say),
    screen.see && h("div", { class: "see" }, screen.see),
    screen.act && h("div", { class: "act" }, screen.act),
    (screen.done || screen.doneNode) && h("div", { class: "dn" }, screen.doneNode ?? h("button", { type: "button", class: "btn go done", "data-k": "done", disabled: screen.done?.off, onclick: screen.done?.on }, screen.done?.label)),
    more.length > 0 && h("div", { class: `b3 n${more.length}` }, more.map(m => h("button", { type: "button", class: m.due ? "btn nas-due" : "btn", "data-k": m.label, onclick: m.on }, m.label)))]);
  const words = lineWords(desk).map(e => e.textContent).join(", ");
  if (status.textContent !== words) status.textContent = words;
}

/** Figures, point, Backspace and Enter drive the pad from a keyboard. @param {Element} root */
export function listen(root) {
  document.addEventListener("keydown", event => {
    const screen = /** @type {Screen|undefined} */ (/** @type {any} */ (root).screen);
    const at = event.target instanceof HTMLElement ? event.target : null;
    if (!screen?.typing || event.ctrlKey || event.metaKey || event.altKey || at?.matches("input, textarea, select")) return;
    const key = { Backspace: "back", Delete: "clear", ",": ".", "-": "minus" }[event.key] ?? event.key;
    if (/^(\d|\.|back|clear|minus)$/.test(key)) {
      event.preventDefault();
      screen.typing.type(press(screen.typing.typed, key, screen.typing));
    }
    if (event.key === "Enter" && !at?.matches("button, a, label") && !event.repeat && screen.done && !screen.done.off) screen.done.on?.(event);
  });
}
