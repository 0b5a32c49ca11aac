// Once it has been opened the app starts without a network, and a new version
// is not held up by the stored one.

import assert from "node:assert/strict";
import { createServer } from "node:http";
import { test } from "node:test";
import { APP_URL, openApp } from "./support.mjs";

/** A server in front of the real one that can be switched off. */
async function switchableServer(t, change = (body) => body) {
  const server = createServer(async (request, response) => {
    const answer = await fetch(new URL(request.url, APP_URL));
    const body = Buffer.from(await answer.arrayBuffer());
    const type = answer.headers.get("content-type");
    response.writeHead(answer.status, { "content-type": type, "cache-control": "no-cache" });
    response.end(type.startsWith("text/html") ? change(body) : body);
  });
  await new Promise((listening) => server.listen(0, "127.0.0.1", listening));
  const url = new URL(APP_URL);
  url.port = server.address().port;
  const off = () => {
    server.close();
    server.closeAllConnections();
  };
  t.after(off);
  return { url: url.href, off };
}

const workerReady = (page) => page.waitForFunction(() => navigator.serviceWorker.controller !== null);

const shellGone = (page) => page.locator("#shell").waitFor({ state: "detached" });

test("the app starts again when the server is gone", async (t) => {
  const server = await switchableServer(t);
  const page = await openApp(t, { url: server.url });
  await workerReady(page);
  server.off();
  await assert.rejects(fetch(server.url), "the server should be gone");
  await page.reload();
  await shellGone(page);
  await page.getByRole("heading", { level: 1 }).waitFor();
});

test("a new version is shown as soon as the server has it", async (t) => {
  let version = "first";
  const marked = (body) => body.toString().replace("<html ", `<html data-version="${version}" `);
  const server = await switchableServer(t, marked);
  const page = await openApp(t, { url: server.url });
  await workerReady(page);
  version = "second";
  await page.reload();
  await shellGone(page);
  const shown = await page.evaluate(() => ({
    version: document.documentElement.dataset.version,
    throughWorker: performance.getEntriesByType("navigation")[0].workerStart > 0,
  }));
  assert.deepEqual(shown, { version: "second", throughWorker: true });
});
