// @ts-check
// One call to the product's API. Every write carries the key of its tap, so that a lost answer can be asked for again.

const PATIENCE = 15_000;

/**
 * @typedef {{is: "done", answer: any}
 *   | {is: "refused", status: number, code: string, sentence: string}
 *   | {is: "signIn"}
 *   | {is: "lost"}} Answered    lost: no answer came, or one that says nothing about the command; ask again with the same key
 */

/** @type {{token: string, user: string}|null} */
let csrf = null;

/** @param {string} path @param {RequestInit} [init] */
const call = (path, init = {}) => fetch(path, {
  ...init, credentials: "same-origin", cache: "no-store", redirect: "manual", signal: AbortSignal.timeout?.(PATIENCE),
});

/** Who is signed in, as the server sees it now; null when nobody is, undefined when it did not answer. @returns {Promise<string|null|undefined>} */
export async function signedIn() {
  try {
    const response = await call("/api/csrf");
    if (response.status === 401 || response.type === "opaqueredirect") return null;
    if (!response.ok) return undefined;
    const { token, name } = await response.json();
    csrf = { token, user: name };
    return name;
  } catch {
    return undefined;
  }
}

/** @param {string} path @returns {Promise<Answered>} */
export async function get(path) {
  try {
    return await read(await call(path, { headers: { Accept: "application/json" } }));
  } catch {
    return { is: "lost" };
  }
}

/**
 * @param {{method: string, path: string, key: string, body: any, picture?: Blob}} command
 * @returns {Promise<Answered>}
 */
export async function send(command, again = true) {
  if (!csrf) {
    const user = await signedIn();
    if (user === null) return { is: "signIn" };
    if (!csrf) return { is: "lost" };
  }
  try {
    const response = await call(command.path, {
      method: command.method,
      headers: {
        Accept: "application/json",
        "Content-Type": command.picture ? command.picture.type : "application/json",
        "Idempotency-Key": command.key,
        "X-CSRF-TOKEN": csrf.token,
      },
      body: command.picture ?? JSON.stringify(command.body),
    });
    const answered = await read(response);
    // The token is bound to the sign-in; after another sign-in it is fetched anew, once.
    if (answered.is === "refused" && answered.status === 400 && again) {
      csrf = null;
      return send(command, false);
    }
    if (answered.is === "signIn") csrf = null;
    return answered;
  } catch {
    return { is: "lost" };
  }
}

/** @param {Response} response @returns {Promise<Answered>} */
async function read(response) {
  if (response.status === 401 || response.type === "opaqueredirect") return { is: "signIn" };
  if (response.ok) return { is: "done", answer: response.status === 204 ? null : await response.json() };
  if (response.status >= 500 || [408, 425, 429].includes(response.status)) return { is: "lost" };
  const problem = await response.json().catch(() => ({}));
  // Somebody else held the same rows; nothing was decided.
  if (response.status === 409 && ["busy", "changed-meanwhile"].includes(problem.code)) return { is: "lost" };
  return {
    is: "refused",
    status: response.status,
    code: problem.code ?? `http-${response.status}`,
    sentence: problem.detail ?? problem.title ?? `The server refused it with ${response.status} and gave no reason.`,
  };
}
