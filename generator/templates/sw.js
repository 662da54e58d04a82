"use strict";

// One store for all versions: a file's key holds what is in it. So what was fetched before the line broke stays.
const HOME = self.registration.scope, STORE = `bondwright ${HOME}`, AT_ONCE = 4;
const keyOf = path => new URL(`${path}?kept=${FILES[path]}`, HOME).href;

async function fill() {
  const store = await caches.open(STORE);
  const there = new Set((await store.keys()).map(request => request.url));
  const missing = Object.keys(FILES).filter(path => !there.has(keyOf(path)));
  async function fetchSome() {
    for (let path; (path = missing.shift()) !== undefined;) {
      const answer = await fetch(new URL(path.replace(/(^|\/)index\.html$/, "$1"), HOME), { cache: "no-cache" });
      if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
      // A browser takes no answer that was led elsewhere for a page.
      await store.put(keyOf(path), answer.redirected ? new Response(await answer.blob(), { headers: answer.headers }) : answer);
    }
  }
  await Promise.all(Array.from({ length: AT_ONCE }, fetchSome));
  await self.skipWaiting();
}

async function sweep() {
  const store = await caches.open(STORE), wanted = new Set(Object.keys(FILES).map(keyOf));
  for (const request of await store.keys()) if (!wanted.has(request.url)) await store.delete(request);
  await self.clients.claim();
}

function pathOf(url) {
  const path = url.split(/[?#]/)[0].slice(HOME.length);
  return [path, `${path}index.html`, `${path}/index.html`].find(one => Object.hasOwn(FILES, one));
}

self.addEventListener("install", event => event.waitUntil(fill()));
self.addEventListener("activate", event => event.waitUntil(sweep()));
self.addEventListener("fetch", event => {
  const { request } = event, path = request.url.startsWith(HOME) ? pathOf(request.url) : undefined;
  if (request.method !== "GET" || path === undefined) return;
  event.respondWith(caches.open(STORE).then(store => store.match(keyOf(path))).then(found => found ?? fetch(request)));
});
