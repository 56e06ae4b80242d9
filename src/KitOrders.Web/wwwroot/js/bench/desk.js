// @ts-check
// One order on one tablet: what the server last said, what waits here, where the person stands; and the few things that can
// be done with it. Screens read it and call it; it knows no element of the page.
import { overlay, standingFor, recorded } from "./order.js";
import { place, lastRecorded } from "./place.js";
import { newKey } from "./outbox.js";
import { get, send } from "./server.js";
import { count } from "./figures.js";

/**
 * @typedef {{pass: number|null, bolt: number|null, piece: number|null}} Slot
 * @typedef {object} Look                   what the person is looking at, kept over a reload but for pins
 * @property {number|null} chosen           a step gone to by hand
 * @property {number|null} review           a recorded step looked at again
 * @property {{step: number, slot: Slot}|null} correct
 * @property {string} slot                  the place that "typed" belongs to
 * @property {string} typed
 * @property {string|null} choice           reuse or replace
 * @property {any} first                    the first person's result, until the second has given theirs
 * @property {(import("./torque.js").Adapter & {step: number})|null} adapter
 * @property {{step: number, tool: string}|null} tool
 * @property {any} sheet                    what lies over the step: {is: "nas" | "pause" | …}
 * @property {any} finish                   hours, downtime and strokes given so far
 * @property {{kind: string, reference: string}[]} permits   to be recorded with the start
 */

/** @returns {Look} */
const fresh = () => ({ chosen: null, review: null, correct: null, slot: "", typed: "", choice: null, first: null, adapter: null, tool: null, sheet: null, finish: null, permits: [] });

/** A second tap of the same finger must not fall on what the first one brought up. */
const SETTLE = 600;

/** After this long away, or after somebody else, one looks at the last step again before going on. */
const AWAY = 5 * 60_000;

export class Desk {
  /** @param {{number: string, me: string, people: {name: string, role: string}[], outbox: import("./outbox.js").Outbox, sender: import("./sender.js").Sender, paint: () => void}} of */
  constructor({ number, me, people, outbox, sender, paint }) {
    this.number = number; this.me = me; this.people = people; this.outbox = outbox; this.sender = sender; this.paint = paint;
    /** @type {import("./order.js").Order|null} */
    this.order = null;
    /** @type {number|null} when the server said it; null while it has just been said */
    this.asOf = null;
    /** @type {import("./outbox.js").Waiting[]} */
    this.waiting = [];
    this.turn = 0;
    this.taken = 0;
    this.look = fresh();
    /** never kept: pins, and what is going on right now */
    this.second = { name: "", pin: "", known: false, step: 0 };
    /** @type {{is: "refused"|"told", title: string, sentence: string}|null} */
    this.message = null;
    this.busy = false;
    this.settled = 0;
    /** the last thing recorded before this person came (back) */
    this.cameBack = /** @type {ReturnType<typeof lastRecorded>} */ (null);
    this.mustLook = false;
    this.missing = "";
    /** @type {{asked: string, key: string, body: any}|undefined} what was asked and not answered yet */
    this.asking = undefined;
  }

  get mine() { return this.waiting.filter(r => r.order === this.number); }
  get unsent() { return this.mine.filter(r => !r.refused); }
  get refused() { return this.waiting.filter(r => r.refused && !r.aside); }

  /** The order with what waits laid over it. @returns {import("./order.js").Order} */
  get seen() { return overlay(/** @type {any} */ (this.order), this.unsent); }

  get place() { return place(this.seen, this.look.chosen); }

  async load() {
    const { waiting, kept } = await this.outbox.both(this.number);
    this.waiting = waiting;
    this.look = { ...fresh(), ...(await this.outbox.draft(this.number))?.look };
    if (kept) { this.order = kept.order; this.asOf = kept.asOf; }
    if (kept) this.comeBack();
    this.paint();
    await this.refresh();
    if (!kept && this.order) this.comeBack();
    this.paint();
  }

  /** Reads the order anew. */
  async refresh() {
    const answered = await get(`/api/orders/${encodeURIComponent(this.number)}`);
    if (answered.is === "done") {
      this.order = await this.outbox.keep(answered.answer, Date.now());
      this.asOf = null;
      this.missing = "";
    }
    if (answered.is === "refused" && !this.order) this.missing = answered.sentence;
    if (answered.is === "signIn") this.sender.heard("signIn");
    if (answered.is === "lost") this.sender.heard("none");
    await this.reread();
  }

  /** Takes up what the outbox and the other tabs have changed. */
  async reread() {
    await this.takeUp();
    this.paint();
  }

  /**
   * What waits and what is kept are taken up together: between the two a result would be in neither, the person would be shown
   * the place before it, and what they type there would be gone.
   */
  async takeUp() {
    const turn = ++this.turn;
    const { waiting, kept } = await this.outbox.both(this.number);
    if (turn < this.taken) return;
    this.taken = turn;
    this.waiting = waiting;
    if (kept && (!this.order || kept.order.version >= this.order.version)) this.order = kept.order;
  }

  /** Somebody opens the order, or looks at it again after a while: say where it was left. */
  comeBack() {
    const order = this.seen;
    this.cameBack = order.state === "underway" ? lastRecorded(order) : null;
    if (!this.cameBack) return;
    const away = Date.now() - Date.parse(this.cameBack.result.recordedAt);
    this.mustLook = this.cameBack.result.person !== this.me || away > AWAY;
  }

  /** @param {Partial<Look>} change */
  set(change) {
    Object.assign(this.look, change);
    this.outbox.setDraft(/** @type {any} */ ({ id: this.number, look: this.look })).catch(() => {});
    this.paint();
  }

  /** Leaves whatever lies over the step. */
  back() { this.message = null; this.set({ sheet: null, review: null, correct: null, typed: "", choice: null, first: null }); }

  /** Takes a tap unless it is the second one of a double tap. @param {Event|null} event */
  takes(event) {
    if (this.busy || Date.now() < this.settled || (event instanceof UIEvent && event.detail > 1)) return false;
    this.settled = Date.now() + SETTLE;
    return true;
  }

  /**
   * Records a result: on the disk first, then on the screen, then on its way.
   * @param {import("./order.js").Step} step @param {Slot} slot @param {any} given
   */
  async record(step, slot, given) {
    const old = this.look.correct ? standingFor(this.seen.steps.find(s => s.step === step.step) ?? step, slot) : undefined;
    const body = this.body(step, slot, given, old);
    const from = { ...this.look };
    if (step.witnessed) return this.set({ first: { step: step.step, slot, body, correctsAt: old?.waiting ? old.recordedAt : undefined }, sheet: { is: "second" }, typed: "" });
    const kept = await this.queue({
      kind: "result", method: "POST", step: step.step, path: this.path(step, "results"), body,
      correctsAt: old?.waiting ? old.recordedAt : undefined, says: says(step, body),
    });
    if (kept) this.after(step, from);
  }

  /** @param {import("./order.js").Step} step @param {Slot} slot @param {any} given @param {import("./order.js").Result|undefined} old */
  body(step, slot, given, old) {
    const body = {
      outcome: "asSpecified", pass: slot.pass, bolt: slot.bolt, piece: slot.piece, ...given,
      recordedAt: new Date().toISOString(), corrects: old && !old.waiting ? old.id : null,
    };
    if (body.value != null) body.unit = step.unit;
    return Object.fromEntries(Object.entries(body).filter(([, v]) => v !== null && v !== undefined));
  }

  /** The tool in hand where it is another than the step names. @param {import("./order.js").Step} step */
  toolFor(step) { return this.look.tool?.step === step.step ? this.look.tool.tool : undefined; }

  /** @param {import("./order.js").Step} step @returns {import("./torque.js").Adapter} */
  adapterFor(step) { return this.look.adapter?.step === step.step ? this.look.adapter : { position: "none", wrench: 0, length: 0 }; }

  /**
   * After a result the step is left only when it is whole. The next place may be on the screen already, by the answer to an
   * earlier result: then what is being typed, or was opened, there stays.
   * @param {import("./order.js").Step} step @param {Look} from what was looked at when the result was recorded
   */
  after(step, from) {
    const now = this.seen.steps.find(s => s.step === step.step);
    const look = this.look;
    const still = (/** @type {keyof Look} */ what) => look[what] === from[what];
    this.cameBack = null;
    this.mustLook = false;
    this.message = null;
    this.set({
      ...still("slot") && { typed: "", choice: null },
      ...still("sheet") && { sheet: null },
      ...still("first") && { first: null },
      ...still("correct") && { correct: null },
      ...still("correct") && still("review") && { review: from.correct ? step.step : null },
      ...still("chosen") && now && recorded(now) && { chosen: null },
    });
  }

  /** @param {import("./order.js").Step} step @param {string} what */
  path(step, what) { return `/api/orders/${encodeURIComponent(this.number)}/steps/${step.step}/${what}`; }

  /** @param {Partial<import("./outbox.js").Waiting>} record @returns {Promise<boolean>} whether it is on the disk */
  async queue(record) {
    this.busy = true;
    let kept = false;
    try {
      await this.outbox.add(/** @type {any} */ ({ key: newKey(), user: this.me, order: this.number, step: null, at: new Date().toISOString(), ...record }));
      kept = true;
      await this.takeUp();
    } catch {
      if (!kept) this.message = { is: "refused", title: "This was not kept", sentence: "The tablet's storage did not take it; it may be full. Nothing was recorded. Free some space and tap again." };
    } finally {
      this.busy = false;
    }
    if (kept) void this.sender.now();
    else this.paint();
    return kept;
  }

  /** @param {string} reason */
  async pause(reason) {
    if (await this.queue({ kind: "pause", method: "POST", path: this.orderPath("pause"), body: { reason }, says: `Pause: ${reason}` })) this.back();
  }

  async resume() {
    if (!await this.queue({ kind: "resume", method: "POST", path: this.orderPath("resume"), body: {}, says: "Go on with the work" })) return;
    this.comeBack();
    this.back();
  }

  /** @param {import("./order.js").Step} step @param {Blob} picture @returns {Promise<boolean>} whether it is on the disk */
  async photograph(step, picture) {
    const kept = await this.queue({ kind: "photograph", method: "PUT", step: step.step, path: this.path(step, "photograph"), body: null, picture, says: `Step ${step.step}: photograph` });
    this.paint();
    return kept;
  }

  /** @param {string} verb */
  orderPath(verb) { return `/api/orders/${encodeURIComponent(this.number)}/${verb}`; }

  /**
   * What a second person's pin or the server's own checks belong to is not queued: it happens now or not at all. Everything
   * that waits goes first. The key stays the same until an answer comes, so a lost answer cannot make it happen twice.
   * @param {string} path @param {any} body @param {(refused: {code: string, sentence: string}) => void} [refused]
   * @returns {Promise<boolean>}
   */
  async now(path, body, refused) {
    this.busy = true;
    this.message = null;
    this.paint();
    try {
      await this.sender.sendWhatWaits();
      await this.reread();
      if (this.unsent.length > 0) {
        this.message = { is: "refused", title: "Not yet", sentence: `${count(this.unsent.length, "result")} must reach the server before this, and there is no network. They are kept; try again when the line is back.` };
        return false;
      }
      const asked = JSON.stringify({ path, body: { ...body, recordedAt: undefined } });
      if (this.asking?.asked !== asked) this.asking = { asked, key: newKey(), body };
      const answered = await send({ method: "POST", path, key: this.asking.key, body: this.asking.body });
      if (answered.is === "done") {
        this.asking = undefined;
        if (answered.answer?.number) this.order = await this.outbox.keep(answered.answer, Date.now());
        this.sender.heard("good");
        return true;
      }
      if (answered.is === "refused") {
        this.asking = undefined;
        this.message = { is: "refused", title: "The server did not take it", sentence: answered.sentence };
        refused?.(answered);
        await this.refresh();
      } else if (answered.is === "signIn") {
        this.sender.heard("signIn");
        this.message = { is: "refused", title: "You are not signed in", sentence: "Sign in again, then repeat this. What you recorded is kept on this tablet." };
      } else {
        this.sender.heard("none");
        this.message = { is: "refused", title: "No answer", sentence: "This needs the server, and no answer came. Try again: it cannot happen twice." };
      }
      return false;
    } finally {
      this.busy = false;
      this.paint();
    }
  }

  /** @param {import("./outbox.js").Waiting} record */
  async sendAgain(record) {
    await this.outbox.put({ ...record, refused: undefined, aside: undefined });
    await this.reread();
    void this.sender.now();
  }

  /** @param {import("./outbox.js").Waiting} record */
  async setAside(record) {
    await this.outbox.put({ ...record, aside: true });
    await this.reread();
  }
}

/** A record in words. @param {import("./order.js").Step} step @param {any} body */
export function says(step, body) {
  const where = [body.pass && `pass ${body.pass}`, body.bolt && `bolt ${body.bolt}`, body.piece && `piece ${body.piece}`].filter(Boolean).join(", ");
  const what = body.outcome === "notAsSpecified" ? `not as specified${body.note ? `: ${body.note}` : ""}`
    : body.outcome === "notApplicable" ? "does not apply" : body.decision ?? (body.value != null ? `${body.value} ${body.unit ?? ""}`.trim() : "as specified");
  return `Step ${step.step}${where ? `, ${where}` : ""}: ${what}`;
}
