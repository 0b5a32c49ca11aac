// How long until the page can be worked with, on a processor slowed four
// times. Printed, never judged: that depends on the machine. What is judged is
// that it answers to a finger as soon as it is there.

import assert from "node:assert/strict";
import { test } from "node:test";
import { APP_URL, openApp } from "./support.mjs";

const SLOWER = 4;

const TIMES = 5;

/** Runs in the page ahead of everything: notes when the app and its first answer are there. */
function noteTimes() {
  window.noted = {};
  const seen = { there: "main h1[tabindex]", answered: ".verdict-bar:not(.verdict-bar-busy)" };
  new MutationObserver(() => {
    for (const [name, selector] of Object.entries(seen)) {
      if (!window.noted[name] && document.querySelector(selector)) window.noted[name] = performance.now();
    }
  }).observe(document, { subtree: true, childList: true, attributes: true });
}

async function slowly(page) {
  const control = await page.context().newCDPSession(page);
  await control.send("Emulation.setCPUThrottlingRate", { rate: SLOWER });
}

/** Starts the app in `page`; says after how many ms what was there. */
async function started(page) {
  await page.waitForFunction(() => window.noted.there && window.noted.answered);
  const noted = await page.evaluate(() => window.noted);
  const choice = page.locator("#troubles-chatter");
  await choice.press("Space");
  assert.ok(await choice.isChecked());
  await choice.press("Space");
  return noted;
}

test(`until it can be worked with, ${SLOWER} times slower`, async (t) => {
  const first = [];
  const again = [];
  for (let time = 0; time < TIMES; time += 1) {
    const before = async (page) => {
      await page.addInitScript(noteTimes);
      await slowly(page);
    };
    const page = await openApp(t, { before });
    first.push(await started(page));
    await page.waitForTimeout(500);
    await page.goto("about:blank");
    await page.goto(APP_URL);
    again.push(await started(page));
    await page.context().close();
  }
  t.diagnostic(`for the first time: ${summary(first)}`);
  t.diagnostic(`again: ${summary(again)}`);
});

function summary(all) {
  const median = (name) => all.map((noted) => noted[name]).toSorted((one, other) => one - other)[(TIMES - 1) / 2].toFixed(0);
  return `there after ${median("there")} ms, its first answer after ${median("answered")} ms (medians of ${TIMES})`;
}
