// @ts-check
// At the bench today: the orders in the order to do them, with what to bring. Every order shown is kept on the tablet, and
// so is its page, so that it opens without network.
import { Outbox } from "./outbox.js";
import { Sender } from "./sender.js";
import { get } from "./server.js";
import { h, show } from "./dom.js";
import { inOrder, overlay, recorded, released } from "./order.js";
import { place } from "./place.js";
import { bring } from "./bring.js";
import { lineWords } from "./layout.js";
import { clock, count, day, figure } from "./figures.js";
import { keepForOffline } from "./offline.js";

/** @typedef {import("./order.js").Order} Order */

/** How many orders are kept with their steps; more than a shift can do. */
const KEPT = 12;

const root = /** @type {HTMLElement} */ (document.getElementById("today"));
const me = root.dataset.person ?? "";

/** Work begun first, then what is staged; each by score, then the day needed, then the one opened first, then its number. @param {Order[]} orders */
export const inTheOrderToDo = orders => [...orders].sort((a, b) => rank(a) - rank(b) || b.score - a.score || a.neededBy.localeCompare(b.neededBy)
  || (a.openedAt ?? "").localeCompare(b.openedAt ?? "") || a.number.localeCompare(b.number));

/** @param {Order} o */
const rank = o => o.state !== "underway" ? 1 : o.paused == null ? 0 : 2;

/** @param {Outbox} outbox @returns {Promise<{orders: Order[], asOf: number|null, line: "good"|"none"|"signIn", refused?: string}>} */
async function read(outbox) {
  /** @type {Order[]} */
  const items = [];
  for (const state of ["underway", "staged"]) {
    const answered = await get(`/api/orders?state=${state}&pageSize=50`);
    if (answered.is !== "done") {
      const kept = (await outbox.orders()).filter(k => ["underway", "staged"].includes(k.order.state));
      return { orders: kept.map(k => k.order), asOf: kept.length > 0 ? Math.min(...kept.map(k => k.asOf)) : null, line: answered.is === "signIn" ? "signIn" : answered.is === "refused" ? "good" : "none", refused: answered.is === "refused" ? answered.sentence : undefined };
    }
    items.push(...answered.answer.items);
  }
  const orders = inTheOrderToDo(items).slice(0, KEPT);
  const first = orders.map(o => o.number);
  for (const old of await outbox.orders()) if (!first.includes(old.number) && !(await outbox.all()).some(r => r.order === old.number)) await outbox.forget(old.number);
  return { orders: await Promise.all(orders.map(o => outbox.keep(o, Date.now()))), asOf: null, line: "good" };
}

/** @param {Order} order @param {boolean} first */
function row(order, first) {
  const at = place(order);
  const done = order.steps.filter(recorded).length;
  const where = order.paused ? `paused: ${order.paused}`
    : at.kind === "step" ? `step ${at.step.step} of ${order.steps.length}` : at.kind === "hold" ? `hold point after step ${at.step.step}`
    : at.kind === "finish" ? "every step kept: finish it" : at.kind === "stuck" ? `step ${at.step.step} waits for a planner` : order.stagedPlace ? `at ${order.stagedPlace}` : "ready to start";
  const holds = inOrder(order).filter(s => s.holdPoint && !released(s)).length;
  return h("li", { class: "job" },
    h("a", { class: first ? "btn go open-it" : "btn open-it", href: `/bench/${encodeURIComponent(order.number)}` },
      h("b", {}, order.number), h("span", {}, order.state === "staged" ? "Start" : order.paused ? "Look" : "Go on")),
    h("div", {}, h("h2", {}, `${order.pump}: ${order.jobDescription || order.job}`),
      h("p", {}, h("span", { class: `m ${order.state}` }, order.state === "staged" ? "Staged" : "Underway"), " ", where),
      h("p", { class: "q" }, `${order.model}, serial ${order.serial} · score ${order.score} · needed by ${day(order.neededBy)} · ${count(order.steps.length, "step")}${done > 0 ? `, ${done} kept` : ""}${holds > 0 ? `, ${count(holds, "hold point")} ahead` : ""}${order.estimatedHours != null ? ` · about ${figure(order.estimatedHours)} h` : ""}`)),
    h("details", { open: first }, h("summary", {}, "What to bring"), bring(order)));
}

async function begin() {
  const outbox = await Outbox.open();
  const state = { waiting: await outbox.all(), me, asOf: /** @type {number|null} */ (null), refused: /** @type {any[]} */ ([]), sender: new Sender(outbox, () => void again()) };
  const again = async () => { state.waiting = await outbox.all(); state.refused = state.waiting.filter(r => r.refused && !r.aside); line(); };
  const line = () => document.getElementById("line")?.replaceChildren(...lineWords(state).filter(Boolean));
  await again();
  await state.sender.start();
  const got = await read(outbox);
  state.asOf = got.asOf;
  if (got.line !== "good") state.sender.heard(got.line);
  const orders = inTheOrderToDo(got.orders.map(o => overlay(o, state.waiting.filter(r => r.order === o.number && !r.refused))));
  line();
  root.setAttribute("aria-busy", "false");
  if (orders.length > 0) show(root, [h("ol", { class: "jobs" }, orders.map((o, i) => row(o, i === 0)))]);
  else show(root, [h("div", { class: "emp" }, h("h2", {}, got.refused ? "The orders cannot be read" : got.line === "good" ? "Nothing is staged" : "Nothing is kept on this tablet yet"),
    h("p", { class: "e1" }, got.refused ? got.refused : got.line === "good" ? "No kit is complete and staged, and no order is underway. The storeroom stages a kit when every line of it is picked."
      : got.line === "signIn" ? "You are not signed in, and no order was opened here before." : `There is no network since ${clock(state.sender.lostSince ?? Date.now(), Date.now())}, and no order was opened here before.`),
    got.line === "signIn" && h("p", {}, h("a", { class: "btn go", href: "/sign-in?returnUrl=%2Fbench" }, "Sign in")),
    got.line === "good" && h("p", {}, h("a", { href: "/orders" }, "See all orders")))]);
  void keepForOffline(orders.map(o => `/bench/${encodeURIComponent(o.number)}`));
}

begin().catch(error => {
  console.error(error);
  root.setAttribute("aria-busy", "false");
  show(root, [h("p", { class: "e1" }, "This browser gives the page no storage, so that nothing recorded here would be safe. Leave private browsing, or take another tablet.")]);
});
