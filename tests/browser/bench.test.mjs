// How long an answer takes in the browser. Printed, never judged: that depends
// on the machine. What is judged is that each change brings a new answer.

import assert from "node:assert/strict";
import { test } from "node:test";
import { shownAnswer } from "./assessed.mjs";
import { go, loadDemo, settled, type } from "./steps.mjs";
import { openApp } from "./support.mjs";

const CHANGES = 10;

test("a new answer after each change", async (t) => {
  const page = await openApp(t);
  await loadDemo(page);
  await page.evaluate(() => performance.clearMeasures());
  const walls = [];
  for (let change = 1; change <= CHANGES; change += 1) {
    await go(page, "work");
    await type(page, "Depth of cut", `${(0.3 + change / 20).toFixed(2)} mm`);
    await settled(page);
    await go(page, "answer");
    walls.push((await shownAnswer(page)).figures["now.wall"].mid);
  }
  assert.equal(new Set(walls).size, CHANGES, `one answer for each depth: ${walls.join(", ")}`);
  const times = (name) => page.evaluate((name) => performance.getEntriesByName(name, "measure").map(({ duration }) => duration), name);
  t.diagnostic(`from the last key to the first answer: ${summary(await times("first answer"))}`);
  t.diagnostic(`from the last key to the answer of all machines, with the pause for typing: ${summary(await times("answer"))}`);
});

function summary(times) {
  const sorted = times.toSorted((one, other) => one - other);
  const middle = sorted.length / 2;
  const median = (sorted[Math.ceil(middle) - 1] + sorted[Math.floor(middle)]) / 2;
  return `median ${median.toFixed(0)} ms, longest ${sorted.at(-1).toFixed(0)} ms`;
}
