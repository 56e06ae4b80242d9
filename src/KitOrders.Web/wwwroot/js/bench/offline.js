// @ts-check
// Lets the pages of the bench open without network: the service worker keeps what this page was made of.

/** @param {string[]} [pages] other pages to keep as well */
export async function keepForOffline(pages = []) {
  if (!("serviceWorker" in navigator)) return;
  try {
    await navigator.serviceWorker.register("/sw.js");
    const ready = await navigator.serviceWorker.ready;
    const parts = performance.getEntriesByType("resource").map(e => e.name)
      .filter(name => { const url = new URL(name); return url.origin === location.origin && /\.(js|css|woff2|svg)$/.test(url.pathname); });
    ready.active?.postMessage({ keep: [location.href, ...parts, ...pages.map(p => new URL(p, location.origin).href)] });
  } catch (error) {
    console.warn("The page cannot be kept for work without network.", error);
  }
}
