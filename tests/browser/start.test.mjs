// The app starts, says what it is, and stays on this machine.

import assert from "node:assert/strict";
import { test } from "node:test";
import { axe, openApp, screenshots, SERVED_ONLY, VIEWPORTS } from "./support.mjs";

test("the app starts and takes the place of the loading shell", async (t) => {
  const page = await openApp(t);
  assert.match(await page.title(), /Spindlewise/);
  await page.getByRole("heading", { level: 1 }).waitFor();
  await axe(page);
  await screenshots(page, "start");
});

test("the start page fits a phone without scrolling sideways", async (t) => {
  const page = await openApp(t, { viewport: VIEWPORTS.phone });
  const { content, window } = await page.evaluate(() => ({
    content: document.documentElement.scrollWidth,
    window: document.documentElement.clientWidth,
  }));
  assert.ok(content <= window, `the page is ${content} px wide in a window of ${window} px`);
});

test("the shell painted before the app starts is accessible", SERVED_ONLY, async (t) => {
  // The app's code never arrives, so the shell stays.
  const before = (page) => page.route("**/*.wasm", () => {});
  const page = await openApp(t, { before, ready: false });
  await page.getByText("Spindlewise is loading").waitFor();
  await axe(page);
});

test("without JavaScript the page says what it needs", async (t) => {
  const page = await openApp(t, { javaScriptEnabled: false, ready: false });
  const text = await page.locator("#shell").innerText();
  assert.match(text, /needs JavaScript and WebAssembly/);
});
