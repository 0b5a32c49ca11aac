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
  const [deciding, waiting, walls] = [[], [], []];
  for (let change = 1; change <= CHANGES; change += 1) {
    await go(page, "work");
    await type(page, "Depth of cut", `${(0.3 + change / 20).toFixed(2)} mm`);
    const start = performance.now();
    await settled(page);
    waiting.push(performance.now() - start);
    await go(page, "answer");
    deciding.push(await timeItTook(page));
    walls.push((await shownAnswer(page)).figures["now.wall"].mid);
  }
  assert.equal(new Set(walls).size, CHANGES, `one answer for each depth: ${walls.join(", ")}`);
  t.diagnostic(`one decision, as the page says: ${summary(deciding)}`);
  t.diagnostic(`from the last key to the answer, with the pause for typing: ${summary(waiting)}`);
});

/** What the answer page says under "Time it took", in ms. */
async function timeItTook(page) {
  const text = await page.getByText("Time it took").locator("xpath=following-sibling::dd").innerText();
  const [, number] = text.match(/^(\S+)\sms$/) ?? assert.fail(`no time: ${text}`);
  return Number(number);
}

function summary(times) {
  const sorted = times.toSorted((one, other) => one - other);
  const middle = sorted.length / 2;
  const median = (sorted[Math.ceil(middle) - 1] + sorted[Math.floor(middle)]) / 2;
  return `median ${median.toFixed(0)} ms, longest ${sorted.at(-1).toFixed(0)} ms`;
}
