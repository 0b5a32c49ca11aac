// Test cuts: how many it takes, what they show, and that the answer's prediction
// stands beside what came out.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { box, go, loadDemo, pick, saved, settled, type } from "./steps.mjs";
import { axe, openApp, screenshots, TOGETHER } from "./support.mjs";

const WAS = "Ra of each cut as it was";
const NOW = "Ra of each cut as it is now";

async function testCuts(t) {
  const page = await openApp(t);
  await loadDemo(page);
  await go(page, "test-cuts");
  await settled(page);
  return page;
}

const verdict = (page) => page.locator("#trial-verdict").innerText();
const section = (page, id) => page.locator(`section#${id}`);

describe("test cuts", TOGETHER, () => {
  test("six cuts of either kind show a real difference, beside what was foretold", async (t) => {
    const page = await testCuts(t);
    assert.match(await section(page, "difference").innerText(), /0 cuts as it was and 0 as it is now/);
    assert.match(await section(page, "taken").innerText(), /Judged like that, no number of cuts/);
    await pick(page, "How did you judge that finish?", "With a roughness gauge");
    assert.match(await section(page, "taken").innerText(), /1\d cuts of each kind[^]*show a change of 20\s%/);
    await page.getByRole("combobox", { name: "What was changed" }).selectOption({ label: "Shorten the stick-out" });

    // Made up; compared by scipy 1.17.1 (tests/reference_trial.rs): 0.831, 0.756 to 0.912.
    await type(page, WAS, "3.4 3.1 3.8 3.3 3.6 3.5");
    await type(page, NOW, "2.9, 3.0, 2.6, 3.2, 2.8, 2.7 µm");
    assert.match(await page.locator("#trial-finish-was-echo").innerText(), /^6 cuts: 3.4 µm, 3.1 µm/);
    assert.equal(await verdict(page), "A real difference: better");
    const shown = await section(page, "difference").innerText();
    assert.match(shown, /comes out [789]–2[56]\s% smoother[^]*holds the truth 19 times out of 20/);
    assert.match(shown, /chance alone would show as much on\s+fewer than 1 of 100/);
    assert.match(shown, /Whatever else changed between the two rounds is in this too/);
    assert.match(shown, /Foretold, and come out[^]*came out [789]–2[56]\s% smoother[^]*foretold [^]*(The two agree|do not agree)/);
    assert.equal(await page.locator("section#difference svg.dots").count(), 2);

    await page.locator("section#difference .sourced").first().click();
    await page.getByRole("dialog").getByRole("heading", { name: "Now against before" }).waitFor();
    await page.keyboard.press("Escape");

    // The cuts as it was are a reading.
    await page.getByRole("button", { name: "Take it over to the readings" }).press("Enter");
    await page.getByText("It is there.").waitFor();
    await saved(page);
    await axe(page);
    await screenshots(page, "test-cuts");
    await go(page, "readings");
    assert.match(await box(page, "Finish a past cut left, Ra").inputValue(), /^3\.4\d? ± 0\.\d+ µm$/);
  });

  test("what scatters more than it changed can't be told, and how many cuts would settle it", async (t) => {
    const page = await testCuts(t);
    await pick(page, "How did you judge that finish?", "With a roughness gauge");
    await type(page, WAS, "3.2 2.8 3.9 3.1");
    await type(page, NOW, "2.7 3.4 3.0 3.3");
    assert.equal(await verdict(page), "Can’t tell yet");
    assert.match(await section(page, "difference").innerText(), /show a change from \d+\s% on[^]*About \d+ of each kind would likely settle it/);
    // A neighbour is missing.
    await pick(page, "In which turn were the cuts taken?", "Turn and turn about");
    await type(page, NOW, "2.7 3.4 3.0");
    assert.match(await section(page, "difference").innerText(), /write down as many of either/);
    // What can't be read is said beside the box and stays.
    await type(page, NOW, "2.7 3.4 smooth");
    assert.match(await page.locator("#trial-finish-now-error").innerText(), /smooth/);
    assert.equal(await box(page, NOW).inputValue(), "2.7 3.4 smooth");
  });

  test("pairs side by side, and where chatter begins", async (t) => {
    const page = await testCuts(t);
    await pick(page, "What do you hold against each other?", "Two cuts side by side");
    await page.getByText("In this order").click();
    assert.equal(await section(page, "taken").locator("ol li").count(), 6);
    await type(page, "Pairs in which the cut as it is now looked better", "7");
    await type(page, "Pairs in which the cut as it was looked better", "1");
    assert.equal(await verdict(page), "Can’t tell yet");
    // Exact: 18 of 256.
    assert.match(await section(page, "difference").innerText(), /as much on\s+7 of 100/);
    await type(page, "Pairs in which the cut as it was looked better", "0");
    assert.equal(await verdict(page), "A real difference: better");
    await pick(page, "What do you hold against each other?", "Where chatter begins");
    await type(page, "Deepest quiet cut as it was", "0.8 0.9 0.85");
    await type(page, "Deepest quiet cut as it is now", "1.3 1.5 1.4");
    assert.equal(await verdict(page), "A real difference: better");
    assert.match(await section(page, "difference").innerText(), /\s% deeper/);
    await axe(page);
    // The answer asks nothing of them.
    await go(page, "answer");
    await settled(page);
  });
});
