// Keeps the app working without a network. Written by the build, which fills
// in the two constants; see src/tasks/finish.rs.
"use strict";

const CACHE = "__CACHE__";
const FILES = __FILES__;

const ADDRESSES = new Set(FILES.map((name) => new URL(name, self.registration.scope).href));

self.addEventListener("install", (event) => event.waitUntil(store()));

self.addEventListener("activate", (event) => {
  event.waitUntil(forgetOlderVersions().then(() => self.clients.claim()));
});

// A new version waits until no page of the old one is open, or until one asks
// for it: the files of two versions are never mixed, and no page is changed
// under somebody's hands.
self.addEventListener("message", ({ data }) => {
  if (data === "take over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const [address] = request.url.split(/[?#]/);
  if (request.method === "GET" && ADDRESSES.has(address)) event.respondWith(file(request));
});

// All or nothing, and nothing but what was built: some servers answer for a
// missing file with a page that says so.
async function store() {
  const cache = await caches.open(CACHE);
  await Promise.all(
    FILES.map(async (name) => {
      const answer = await fetch(name, { cache: "reload" });
      const page = answer.headers.get("content-type")?.startsWith("text/html") ?? false;
      if (!answer.ok || page !== /(^|\/|\.html)$/.test(name)) throw new Error(`no ${name} to keep`);
      await cache.put(name, answer);
    }),
  );
}

// Other apps of the same site keep their caches.
async function forgetOlderVersions() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith("spindlewise-") && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
}

async function file(request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(request, { ignoreSearch: true })) ?? fetch(request);
}
