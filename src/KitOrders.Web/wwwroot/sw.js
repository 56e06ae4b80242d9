// Keeps the pages of the bench, so that an opened order opens again without network. It never touches the API: orders and
// results are kept by the page itself.
const KEPT = "kitorders-bench-1";
const PATIENCE = 4000;

const isBench = url => /^\/bench(\/|$)/.test(url.pathname);
const isPart = url => /\.(js|css|woff2|svg)$/.test(url.pathname);
// Names that carry a fingerprint never change what they hold.
const isFixed = url => /\.[a-z0-9]{10}\.(js|css|woff2|svg)$/.test(url.pathname);
const isWhole = response => response.ok && response.type === "basic" && !response.redirected;

self.addEventListener("install", event => event.waitUntil(self.skipWaiting()));

self.addEventListener("activate", event => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith("kitorders-bench-") && name !== KEPT) await caches.delete(name);
  await self.clients.claim();
})()));

self.addEventListener("message", event => {
  if (!Array.isArray(event.data?.keep)) return;
  event.waitUntil((async () => {
    const cache = await caches.open(KEPT);
    await Promise.all(event.data.keep.map(address => keep(cache, address)));
  })());
});

async function keep(cache, address) {
  const url = new URL(address);
  if (url.origin !== self.location.origin || !(isBench(url) || isPart(url))) return;
  if (isFixed(url) && await cache.match(address)) return;
  try {
    const response = await fetch(address, { credentials: "same-origin", redirect: "manual" });
    if (isWhole(response)) await cache.put(address, response);
  } catch {
    // No network just now; what was kept before stays.
  }
}

async function networkFirst(request) {
  const cache = await caches.open(KEPT);
  const kept = cache.match(request, { ignoreSearch: true, ignoreVary: true });
  const asked = fetch(request).then(response => {
    if (isWhole(response)) void cache.put(request, response.clone());
    return response;
  });
  asked.catch(() => {});
  try {
    const response = await Promise.race([asked, kept.then(have => new Promise((_, late) => { if (have) setTimeout(() => late(new Error("late")), PATIENCE); }))]);
    return response.status >= 500 ? await kept ?? response : response;
  } catch (error) {
    return await kept ?? (request.mode === "navigate" ? neverOpened() : Promise.reject(error));
  }
}

const neverOpened = () => new Response(
  `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>No network · KitOrders</title>
   <body><h1>No network</h1><p>This page was never opened on this tablet, so it is not kept here. Results recorded on other orders are safe. <a href="/bench">Today at the bench</a></p></body></html>`,
  { status: 503, headers: { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": "default-src 'none'" } });

self.addEventListener("fetch", event => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (event.request.mode === "navigate" ? isBench(url) : isPart(url)) {
    event.respondWith(isFixed(url)
      ? caches.match(event.request).then(kept => kept ?? networkFirst(event.request))
      : networkFirst(event.request));
  }
});
