// The demo: its answer is the engine's, and what every page looks like with it.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { assess, sameAnswer } from "./assessed.mjs";
import { exportOpen, go, loadDemo, PAGES, settled } from "./steps.mjs";
import { openApp, screenshots } from "./support.mjs";

test("the answer to the demo is the one the native program gives", async (t) => {
  const page = await openApp(t);
  await loadDemo(page);
  const example = await assess("--example");
  const { path } = await exportOpen(page);
  assert.deepEqual(JSON.parse(readFileSync(path, "utf8")), JSON.parse(example), "the demo of the same version");
  await go(page, "answer");
  await sameAnswer(page, JSON.parse(await assess("-", example)));
});

test("every figure of the answer opens where it comes from", async (t) => {
  const page = await openApp(t);
  await loadDemo(page);
  await go(page, "answer");
  await settled(page);
  // What the user typed and what the clock says have no derivation.
  const plain = await page.evaluate(() => {
    const cells = [...document.querySelectorAll(".answer :is(.compare, .now) tbody td, .answer dl.facts dd, .effect li")];
    const own = (cell) => cell.closest("[aria-labelledby=told]") ?? cell.previousElementSibling?.textContent.includes("clock");
    return cells.filter((cell) => !own(cell) && !cell.querySelector("button.sourced")).map((cell) => cell.textContent);
  });
  assert.deepEqual(plain, []);
  for (const details of await page.locator(".answer details").all()) {
    await details.evaluate((element) => (element.open = true));
  }
  const figures = page.locator(".answer button.sourced");
  const count = await figures.count();
  assert.ok(count > 100, `${count} figures`);
  const seen = new Set();
  for (let at = 0; at < count; at += 7) {
    await figures.nth(at).click();
    const dialog = page.getByRole("dialog");
    const [title, body] = [await dialog.getByRole("heading").first().innerText(), await dialog.innerText()];
    for (const part of ["Formula", "Source"]) {
      assert.ok(body.includes(part), `${part} of “${title}”`);
    }
    seen.add(title);
    await page.keyboard.press("Escape");
    await dialog.waitFor({ state: "hidden" });
  }
  assert.ok(seen.size > 8, [...seen].join("; "));
});

test("pictures of every page", async (t) => {
  const page = await openApp(t);
  await loadDemo(page);
  for (const [slug] of PAGES) {
    await go(page, slug);
    await settled(page);
    await screenshots(page, `demo-${slug}`);
  }
});
