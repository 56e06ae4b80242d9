// @ts-check
// What this tablet keeps: results that wait to be sent, the orders as last seen, and where somebody stopped. A result is on
// the disk before it is on the screen; it leaves only when the server has answered it or a person has set it aside.

/**
 * @typedef {object} Waiting
 * @property {number} [seq]        order of the taps on this tablet
 * @property {string} key          the Idempotency-Key of the tap, the same at every try
 * @property {string} user         who tapped; only they can send it
 * @property {string} order
 * @property {number|null} step
 * @property {"result"|"pause"|"resume"|"photograph"} kind
 * @property {"POST"|"PUT"} method
 * @property {string} path
 * @property {any} body            JSON, or null with a picture
 * @property {Blob} [picture]
 * @property {string} [correctsAt] time of the result it corrects, where that had no number yet
 * @property {string} says         what it is, in words, for the list
 * @property {string} at
 * @property {{code: string, sentence: string, at: string}} [refused]
 * @property {boolean} [aside]     refused, and a person has put it aside; it is still kept
 */

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
const done = request => new Promise((yes, no) => { request.onsuccess = () => yes(request.result); request.onerror = () => no(request.error); });

/** @returns {Promise<IDBDatabase>} */
function open() {
  const request = indexedDB.open("kitorders-bench", 1);
  request.onupgradeneeded = () => {
    request.result.createObjectStore("outbox", { keyPath: "seq", autoIncrement: true });
    request.result.createObjectStore("orders", { keyPath: "number" });
    request.result.createObjectStore("drafts", { keyPath: "id" });
  };
  return done(request);
}

export class Outbox {
  /** @param {IDBDatabase} db */
  constructor(db) {
    this.db = db;
    this.channel = "BroadcastChannel" in globalThis ? new BroadcastChannel("kitorders-bench") : null;
  }

  static async open() { return new Outbox(await open()); }

  /** @param {string} name @param {(store: IDBObjectStore) => IDBRequest} does */
  async #write(name, does) {
    const transaction = this.db.transaction(name, "readwrite", { durability: "strict" });
    const request = does(transaction.objectStore(name));
    await new Promise((yes, no) => {
      transaction.oncomplete = yes;
      transaction.onerror = transaction.onabort = () => no(transaction.error);
    });
    return request.result;
  }

  /** @param {string} name @param {(store: IDBObjectStore) => IDBRequest} does */
  #read(name, does) { return done(does(this.db.transaction(name).objectStore(name))); }

  /** Tells the other tabs. */
  changed() { this.channel?.postMessage("changed"); }

  /** @param {Waiting} record */
  async add(record) {
    record.seq = await this.#write("outbox", s => s.add(record));
    this.changed();
  }

  /** @returns {Promise<Waiting[]>} all, oldest first */
  all() { return this.#read("outbox", s => s.getAll()); }

  /**
   * What waits and the order as kept, of one moment: a result that has left the one is in the other.
   * @param {string} number @returns {Promise<{waiting: Waiting[], kept: {number: string, order: import("./order.js").Order, asOf: number}|undefined}>}
   */
  async both(number) {
    const transaction = this.db.transaction(["outbox", "orders"]);
    const [waiting, kept] = await Promise.all([done(transaction.objectStore("outbox").getAll()), done(transaction.objectStore("orders").get(number))]);
    return { waiting, kept };
  }

  /** @param {Waiting} record */
  async put(record) { await this.#write("outbox", s => s.put(record)); this.changed(); }

  /** @param {Waiting} record */
  async remove(record) { await this.#write("outbox", s => s.delete(/** @type {number} */ (record.seq))); this.changed(); }

  /** @param {string} number @returns {Promise<{number: string, order: import("./order.js").Order, asOf: number}|undefined>} */
  order(number) { return this.#read("orders", s => s.get(number)); }

  /** @returns {Promise<{number: string, order: import("./order.js").Order, asOf: number}[]>} */
  orders() { return this.#read("orders", s => s.getAll()); }

  /** Keeps the order as just answered, unless a newer answer is kept already. @param {import("./order.js").Order} order @param {number} asOf */
  async keep(order, asOf) {
    const kept = await this.order(order.number);
    if (kept && kept.order.version > order.version) return kept.order;
    await this.#write("orders", s => s.put({ number: order.number, order, asOf }));
    this.changed();
    return order;
  }

  /** @param {string} number */
  forget(number) { return this.#write("orders", s => s.delete(number)); }

  /** @param {string} id */
  draft(id) { return this.#read("drafts", s => s.get(id)); }

  /** @param {{id: string}} draft */
  setDraft(draft) { return this.#write("drafts", s => s.put(draft)); }
}

/** A name for one tap. Plain http has no randomUUID. */
export function newKey() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = b[6] & 0x0f | 0x40;
  b[8] = b[8] & 0x3f | 0x80;
  const hex = [...b].map(x => x.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
}
