// @ts-check
// Lets the pages of the bench open without network: the service worker keeps what this page was made of.

let watching = false;

/** @param {string[]} [pages] other pages to keep as well */
export async function keepForOffline(pages = []) {
  if (!("serviceWorker" in navigator)) return;
  try {
    await navigator.serviceWorker.register("/sw.js");
    const ready = await navigator.serviceWorker.ready;
    const keep = (/** @type {string[]} */ addresses) => ready.active?.postMessage({ keep: addresses });
    keep([location.href, ...pages.map(p => new URL(p, location.origin).href)]);
    if (watching) return;
    watching = true;
    // What was fetched so far and what comes later, such as the letters: until the worker is in charge it does not see them itself.
    new PerformanceObserver(seen => keep(seen.getEntries().map(e => e.name).filter(isPart))).observe({ type: "resource", buffered: true });
  } catch (error) {
    console.warn("The page cannot be kept for work without network.", error);
  }
}

/** @param {string} name */
function isPart(name) {
  const url = new URL(name);
  return url.origin === location.origin && /\.(js|css|woff2|svg)$/.test(url.pathname);
}
