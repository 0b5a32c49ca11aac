// Once it has been opened the app starts without a network; a new version waits
// until it is wanted, and takes nothing away that was typed.

import assert from "node:assert/strict";
import { createServer } from "node:http";
import { describe, test } from "node:test";
import { box, go, saved, type } from "./steps.mjs";
import { APP_URL, openApp, screenshots, TOGETHER } from "./support.mjs";

/** A server in front of the real one that can be switched off, and whose files can be changed. */
async function switchableServer(t) {
  const state = { change: (name, body) => body };
  const server = createServer(async (request, response) => {
    const answer = await fetch(new URL(request.url, APP_URL));
    const body = Buffer.from(await answer.arrayBuffer());
    const name = request.url.split("/").at(-1);
    const missing = state.missing?.test(name);
    const type = missing ? "text/html" : answer.headers.get("content-type");
    response.writeHead(answer.status, { "content-type": type, "cache-control": "no-cache" });
    response.end(missing ? "<p>Not here</p>" : state.change(name, body));
  });
  await new Promise((listening) => server.listen(0, "127.0.0.1", listening));
  const url = new URL(APP_URL);
  url.port = server.address().port;
  const off = () => {
    server.close();
    server.closeAllConnections();
  };
  t.after(off);
  return Object.assign(state, { url: url.href, off });
}

/** What a build of other files changes: the page, and the worker that keeps it. */
const version = (mark) => (name, body) => {
  if (name === "" || name === "index.html") return body.toString().replace("<html ", `<html data-version="${mark}" `);
  if (name === "service-worker.js") return body.toString().replace(/"spindlewise-\w+"/, `"spindlewise-${mark}"`);
  return body;
};

const shownVersion = (page) => page.evaluate(() => document.documentElement.dataset.version);

const offer = (page) => page.getByRole("status").filter({ hasText: "A new version of Spindlewise is ready" });

const workerReady = (page) => page.waitForFunction(() => navigator.serviceWorker.controller !== null);

const shellGone = (page) => page.locator("#shell").waitFor({ state: "detached" });

/** Lets the browser look for a new version, as it does when the page is looked at again. */
const lookForNewer = (page) => page.evaluate(async () => void (await navigator.serviceWorker.ready).update());

describe("without a network", TOGETHER, () => {
  test("the app starts again when the server is gone", async (t) => {
    const server = await switchableServer(t);
    const page = await openApp(t, { url: server.url });
    await workerReady(page);
    server.off();
    await assert.rejects(fetch(server.url), "the server should be gone");
    await page.reload();
    await shellGone(page);
    await page.getByRole("heading", { level: 1 }).waitFor();
    const cold = await page.context().newPage();
    await page.close();
    await cold.goto(`${server.url}#/work`);
    await cold.getByRole("heading", { level: 1, name: "The work" }).waitFor();
  });

  test("a new version waits until it is wanted, and what was typed stays", async (t) => {
    const server = await switchableServer(t);
    server.change = version("first");
    const page = await openApp(t, { url: server.url });
    await workerReady(page);
    server.change = version("second");
    await lookForNewer(page);
    await offer(page).waitFor();
    await screenshots(page, "new-version");
    // A field that has not been left yet, and is saved by nobody.
    await box(page, "Finish you want").pressSequentially("63 µ");
    assert.equal(await shownVersion(page), "first");
    await Promise.all([page.waitForEvent("load"), offer(page).getByRole("button", { name: "Reload" }).click()]);
    await shellGone(page);
    assert.equal(await shownVersion(page), "second");
    assert.equal(await box(page, "Finish you want").inputValue(), "63 µ");
    assert.equal(await offer(page).count(), 0);
  });

  test("a new version doesn't take what can't be saved", async (t) => {
    const server = await switchableServer(t);
    server.change = version("first");
    const before = (page) =>
      page.addInitScript(() => {
        const refuse = () => {
          throw new DOMException("full", "QuotaExceededError");
        };
        Storage.prototype.setItem = refuse;
      });
    const page = await openApp(t, { url: server.url, before });
    await workerReady(page);
    await type(page, "Finish you want", "63 µin");
    server.change = version("second");
    await lookForNewer(page);
    await offer(page).getByText("export it to a file first").waitFor();
    assert.equal(await offer(page).getByRole("button").count(), 0);
    assert.equal(await box(page, "Finish you want").inputValue(), "63 µin");
  });

  test("a version that is not whole is not kept", async (t) => {
    const server = await switchableServer(t);
    const page = await openApp(t, { url: server.url });
    await workerReady(page);
    await type(page, "Finish you want", "63 µin");
    await saved(page);
    // A host that answers for a missing file with a page that says so.
    server.change = version("broken");
    server.missing = /\.wasm$/;
    const outcome = await page.evaluate(async () => {
      const kept = await navigator.serviceWorker.ready;
      const found = new Promise((over) => (kept.onupdatefound = () => over(kept.installing)));
      await kept.update();
      const newer = await found;
      while (newer.state === "installing") await new Promise((over) => (newer.onstatechange = over));
      return newer.state;
    });
    assert.equal(outcome, "redundant");
    await page.reload();
    await shellGone(page);
    assert.equal(await shownVersion(page), undefined, "the old one goes on");
    await go(page, "trouble");
    assert.equal(await box(page, "Finish you want").inputValue(), "63 µin");
  });
});
