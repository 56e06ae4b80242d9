// @ts-check
// Sends what waits, oldest first, one tab at a time, with the key of the tap until the server has answered. A refusal parks
// the record where everybody sees it; it stops nothing behind it.
import { send, signedIn } from "./server.js";
import { sameTime } from "./order.js";

/** Used where the browser has no locks (plain http): one sender within this page. @type {Promise<void>|null} */
let busy = null;

/** @param {() => Promise<void>} work @param {boolean} wait for the sender at work, and then send what is left */
async function alone(work, wait) {
  if (navigator.locks)
    return navigator.locks.request("kitorders-sender", { ifAvailable: !wait }, async lock => { if (lock) await work(); });
  while (busy) {
    if (!wait) return;
    await busy.catch(() => {});
  }
  busy = work().finally(() => { busy = null; });
  await busy;
}

export class Sender {
  /**
   * @param {import("./outbox.js").Outbox} outbox
   * @param {() => void} tell   something about the line or the queue has changed
   */
  constructor(outbox, tell) {
    this.outbox = outbox;
    this.tell = tell;
    /** "good", "none", "signIn": what the last try found */
    this.line = "good";
    /** @type {number|null} since when no answer came */
    this.lostSince = null;
    /** @type {string|null} who the server says is signed in */
    this.user = null;
    this.delay = 1000;
    /** @type {ReturnType<typeof setTimeout>|undefined} */
    this.timer = undefined;
  }

  start() {
    addEventListener("online", () => this.now());
    document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") this.now(); });
    return this.now();
  }

  now() {
    this.delay = 1000;
    return this.#round();
  }

  /** As now, but what is on its way is waited for. */
  sendWhatWaits() {
    this.delay = 1000;
    return this.#round(true);
  }

  async #round(wait = false) {
    clearTimeout(this.timer);
    try {
      await alone(() => this.#sendAll(), wait);
    } finally {
      const left = (await this.outbox.all()).some(r => !r.refused);
      // A result made while this round ended, or one that another tab is about to send.
      if (left || this.line !== "good") {
        clearTimeout(this.timer);
        this.timer = setTimeout(() => this.#round(), this.delay * (0.8 + Math.random() * 0.4));
        this.delay = Math.min(this.delay * 2, 20_000);
      }
    }
  }

  /** @param {"good"|"none"|"signIn"} line */
  heard(line) {
    if (line === "none" && this.line !== "none") this.lostSince = Date.now();
    if (line !== "none") this.lostSince = null;
    this.line = line;
    this.tell();
  }

  async #sendAll() {
    const waiting = (await this.outbox.all()).filter(r => !r.refused);
    if (waiting.length === 0 && this.line === "good" && this.user) return;
    const user = await signedIn();
    if (user === undefined) return this.heard("none");
    this.user = user;
    if (user === null) return this.heard("signIn");
    this.heard("good");
    for (const record of waiting.filter(r => r.user === user)) {
      if (!await this.#sendOne(record)) return;
      this.delay = 1000;
    }
  }

  /** @param {import("./outbox.js").Waiting} record @returns {Promise<boolean>} whether to go on with the next one */
  async #sendOne(record) {
    await this.#name(record);
    const answered = await send(record);
    if (answered.is === "lost") { this.heard("none"); return false; }
    if (answered.is === "signIn") { this.heard("signIn"); return false; }
    if (answered.is === "refused") {
      await this.outbox.put({ ...record, refused: { code: answered.code, sentence: answered.sentence, at: new Date().toISOString() } });
      this.tell();
      return true;
    }
    if (answered.answer?.number) await this.outbox.keep(answered.answer, Date.now());
    await this.outbox.remove(record);
    this.heard("good");
    return true;
  }

  /**
   * A correction of what had no number yet finds it by the time of its tap. It is named once and kept so: every try of a key
   * carries the same words.
   * @param {import("./outbox.js").Waiting} record
   */
  async #name(record) {
    if (!record.correctsAt) return;
    const kept = await this.outbox.order(record.order);
    const found = kept?.order.steps.find(s => s.step === record.step)?.results.find(r => sameTime(r.recordedAt, /** @type {string} */ (record.correctsAt)));
    if (found) record.body = { ...record.body, corrects: found.id };
    delete record.correctsAt;
    await this.outbox.put(record);
  }
}
