// Keeps the app working without a network. Written by the build, which fills
// in the two constants; see src/tasks/finish.rs.
"use strict";

const CACHE = "__CACHE__";
const FILES = __FILES__;

// Longer than any answer from a healthy server; a workshop's weak signal
// should not keep anybody waiting for a page that is here already.
const PATIENCE_MS = 3000;

self.addEventListener("install", (event) => {
  event.waitUntil(store().then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(forgetOlderVersions().then(() => self.clients.claim()));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(self.registration.scope)) return;
  event.respondWith(request.mode === "navigate" ? page(request) : file(request));
});

// All or nothing: addAll fails as a whole when one file can't be had.
async function store() {
  const cache = await caches.open(CACHE);
  await cache.addAll(FILES.map((name) => new Request(name, { cache: "reload" })));
}

// Other apps of the same site keep their caches.
async function forgetOlderVersions() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith("spindlewise-") && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
}

// The page from the network, so that a new version is seen at once; its other
// files have names of their own in each version, so the stored ones are right.
async function page(request) {
  const network = fetch(request).then(
    (answer) => (answer.ok ? answer : undefined),
    () => undefined,
  );
  const pause = new Promise((over) => setTimeout(over, PATIENCE_MS));
  return (
    (await Promise.race([network, pause])) ??
    (await stored(request)) ??
    (await stored("index.html")) ??
    (await network) ??
    Response.error()
  );
}

async function file(request) {
  return (await stored(request)) ?? fetch(request);
}

async function stored(request) {
  const cache = await caches.open(CACHE);
  return cache.match(request, { ignoreSearch: true });
}
