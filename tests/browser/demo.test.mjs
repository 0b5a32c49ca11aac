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
  const example = assess("--example");
  const { path } = await exportOpen(page);
  assert.deepEqual(JSON.parse(readFileSync(path, "utf8")), JSON.parse(example), "the demo of the same version");
  await go(page, "answer");
  await sameAnswer(page, JSON.parse(assess("-", example)));
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
