// Keeps the page's own files, so that it opens without a connection. What is asked for under /api is never kept here.
declare const VERSION: string, FILES: string[];
const me = self as unknown as ServiceWorkerGlobalScope;
const cacheName = `leat-${VERSION}`;
me.addEventListener("install", (e) => e.waitUntil((async () => {
  const cache = await caches.open(cacheName);
  await cache.addAll(FILES.map((f) => new Request(f, { cache: "reload" })));
  await me.skipWaiting();
})()));
me.addEventListener("activate", (e) => e.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith("leat-") && name !== cacheName) await caches.delete(name);
  await me.clients.claim();
})()));
me.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== location.origin || !FILES.includes(url.pathname)) return;
  e.respondWith((async () => (await caches.match(url.pathname, { cacheName })) ?? fetch(e.request))());
});
