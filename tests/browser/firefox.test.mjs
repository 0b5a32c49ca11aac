// The way from the demo to the answer, the weighing and the cut in a real
// Firefox: served, or the one file opened from disk without a network.
//
// Playwright drives only a Firefox of its own making; this one is driven over
// WebDriver BiDi, which every Firefox speaks.

import assert from "node:assert/strict";
import { createServer } from "node:http";
import { after, test } from "node:test";
import puppeteer from "puppeteer-core";
import { APP_URL, FROM_DISK } from "./support.mjs";

const FIREFOX = process.env.FIREFOX;

const WITH_FIREFOX = { skip: !FIREFOX && "no Firefox on this machine" };

/** Longer than anything takes on a slow machine that is busy. */
const PATIENCE_MS = 120_000;

/** A port on which nobody answers: no name is looked up and nothing is reached. */
const NO_NETWORK = {
  "network.proxy.type": 1,
  "network.proxy.http": "127.0.0.1",
  "network.proxy.http_port": 9,
  "network.proxy.ssl": "127.0.0.1",
  "network.proxy.ssl_port": 9,
  "network.proxy.allow_hijacking_localhost": true,
};

let browser;

after(async () => (await browser)?.close());

function launch() {
  return puppeteer.launch({
    browser: "firefox",
    executablePath: FIREFOX,
    headless: true,
    timeout: PATIENCE_MS,
    extraPrefsFirefox: FROM_DISK ? NO_NETWORK : {},
  });
}

/**
 * Opens the app and watches it. When the test ends it fails if the page logged
 * an error, threw one, broke its own security policy, or asked for anything
 * from elsewhere.
 */
async function openApp(t, url = APP_URL) {
  browser ??= launch();
  const context = await (await browser).createBrowserContext();
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE_MS);
  await page.setViewport({ width: 1200, height: 900 });
  const faults = watch(page, url);
  t.after(async () => {
    await context.close();
    assert.deepEqual(faults, [], "the page has to stay free of faults");
  });
  await page.goto(url);
  await started(page);
  return page;
}

function watch(page, home) {
  const faults = [];
  page.on("console", (message) => {
    if (message.type() === "error") faults.push(`console: ${message.text()}`);
  });
  // What the security policy refuses is told here too.
  page.on("pageerror", (error) => faults.push(`error: ${error}`));
  page.on("request", (request) => {
    const url = new URL(request.url());
    const own = FROM_DISK ? url.href.startsWith(home) : url.origin === new URL(home).origin;
    if (!own && !["data:", "blob:"].includes(url.protocol)) faults.push(`request to another origin: ${url}`);
  });
  return faults;
}

const started = (page) => page.waitForFunction(() => !document.getElementById("shell"));

const text = (page, selector) => page.$eval(selector, (element) => element.innerText);

/** Waits until the page has this heading, and the keyboard with it: it goes there with the next frame. */
async function arrived(page, heading) {
  await page.waitForFunction((heading) => document.querySelector("h1")?.textContent === heading, {}, heading);
  await page.evaluate(() => new Promise(requestAnimationFrame));
}

async function go(page, slug, heading) {
  await page.evaluate((hash) => void (location.hash = hash), `#/${slug}`);
  await arrived(page, heading);
}

const press = (page, name) => page.locator(`button ::-p-text(${name})`).click();

/** Waits until what is shown belongs to what is entered. */
const settled = (page) =>
  page.waitForFunction(() => !document.querySelector("#shell, .verdict-bar-busy, .answer[aria-busy=true], .waiting, .exact progress, .study-bar"));

async function barText(page) {
  await settled(page);
  return text(page, "aside [role=status]");
}

/** Types a number in place of what is there and leaves the box. */
async function type(page, id, typed) {
  await page.focus(`#${id}`);
  await page.$eval(`#${id}`, (box) => box.select());
  await page.keyboard.press("Delete");
  await page.keyboard.type(typed);
  await page.keyboard.press("Tab");
}

/** Waits until a box holds this. */
const holds = (page, id, text) =>
  page.waitForFunction((id, text) => document.getElementById(id)?.value === text, {}, id, text);

async function loadDemo(page) {
  await go(page, "scenarios", "Scenarios");
  await press(page, "Load the demo");
  await arrived(page, "What brings you here?");
  return barText(page);
}

/** How many pictures on the page show something: lines with a size, or a canvas that isn't blank. */
const drawn = (page) =>
  page.evaluate(() => {
    const isLine = (mark) => {
      const { width, height } = mark.getBoundingClientRect();
      return width > 20 || height > 20;
    };
    const isPainted = (canvas) => {
      const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
      return new Set(new Uint32Array(data.buffer)).size > 2;
    };
    const lines = [...document.querySelectorAll("main svg")].filter((svg) => [...svg.querySelectorAll("path, rect, line, circle")].some(isLine));
    return { lines: lines.length, painted: [...document.querySelectorAll("main canvas")].filter(isPainted).length };
  });

test("Firefox goes the way from the demo to the cut, and keeps what is entered", WITH_FIREFOX, async (t) => {
  const page = await openApp(t);
  const before = await loadDemo(page);
  assert.match(before, /\d+ of 100/);

  await go(page, "work", "The work");
  await type(page, "cut-axial_depth", "2.5 mm");
  await holds(page, "cut-axial_depth", "2.5 mm");
  assert.notEqual(await barText(page), before, "the answer follows what is entered");

  await go(page, "answer", "The answer");
  await settled(page);
  assert.match(await text(page, "#verdict"), /\w.*\.$/);
  assert.ok((await drawn(page)).lines > 0, "finish as dots");

  await go(page, "weighing", "Weighing it");
  await page.waitForFunction(() => [...document.querySelectorAll("h2")].some((heading) => heading.textContent === "Which remedies together"));
  assert.match(await text(page, "#best-together"), /\d+ of 100/);
  assert.ok((await drawn(page)).lines > 0, "the stairs");

  await go(page, "in-the-cut", "In the cut");
  await settled(page);
  const { lines, painted } = await drawn(page);
  assert.ok(lines >= 2 && painted >= 1, `${lines} charts, ${painted} surfaces`);
  const curve = await page.$eval(".speed-middle", (path) => path.getAttribute("d"));
  assert.ok(curve.split("L").length > 50, "the chart of speeds");

  await page.waitForFunction(() => document.querySelector("#save-status").innerText.trim() === "Saved");
  await go(page, "work", "The work");
  await page.reload();
  await started(page);
  await arrived(page, "The work");
  // A reload loses nothing.
  await holds(page, "cut-axial_depth", "2.5 mm");
});

const SERVED = { skip: WITH_FIREFOX.skip || (FROM_DISK && "a page opened from disk has no server") };

test("Firefox starts again when the server is gone", SERVED, async (t) => {
  const server = createServer(async (request, response) => {
    const answer = await fetch(new URL(request.url, APP_URL));
    response.writeHead(answer.status, { "content-type": answer.headers.get("content-type") });
    response.end(Buffer.from(await answer.arrayBuffer()));
  });
  await new Promise((listening) => server.listen(0, "127.0.0.1", listening));
  const off = () => {
    server.close();
    server.closeAllConnections();
  };
  t.after(off);
  const url = new URL(APP_URL);
  url.port = server.address().port;
  const page = await openApp(t, url.href);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  off();
  await assert.rejects(fetch(url), "the server should be gone");
  const cold = await page.browserContext().newPage();
  await page.close();
  await cold.goto(`${url}#/work`);
  await started(cold);
  await arrived(cold, "The work");
});
