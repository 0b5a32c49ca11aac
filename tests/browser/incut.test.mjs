// The cut from close by: directions, speeds, the surface before and after, the
// sound, and what play does.

import assert from "node:assert/strict";
import { test } from "node:test";
import { box, go, loadDemo, settled, type } from "./steps.mjs";
import { openApp, screenshots } from "./support.mjs";

async function inTheCut(t, options) {
  const page = await openApp(t, options);
  await loadDemo(page);
  await go(page, "in-the-cut");
  await settled(page);
  return page;
}

test("one sentence says why the bad direction is bad, and each direction says why", async (t) => {
  const page = await inTheCut(t);
  assert.match(await page.locator("#direction-sentence").innerText(), /^Feeding along [XY], .*\d of 100 machines.*\.$/s);
  const warning = await page.locator("#direction-warning").innerText();
  assert.match(warning, /^Keep from feeding along X( or Y)?, climb: .*(pulls the table|chatter).*\.$/s);

  const courses = page.locator(".course");
  const titles = await courses.locator("h3").allInnerTexts();
  assert.deepEqual(titles.toSorted(), ["Along X, climb", "Along X, conventional", "Along Y, climb", "Along Y, conventional"]);
  assert.equal(await page.locator(".course-present h3").innerText(), "Along Y, conventional");
  for (const course of await courses.all()) {
    await course.getByText("Why", { exact: false }).first().click();
    assert.match(await course.locator(".inside").innerText(), /shakes (left to right|to and from you).*\./s);
  }
  // The picture has both ways of each axis.
  assert.equal(await page.locator(".compass-label").count(), 8);
  assert.equal(await page.locator(".compass-present").count(), 1);
});

test("directions follow the way that is picked", async (t) => {
  const page = await inTheCut(t);
  const before = await page.locator("#direction-sentence").innerText();
  await go(page, "holding");
  await page.getByRole("radio", { name: /^Climb/ }).press("Space");
  await go(page, "in-the-cut");
  await settled(page);
  assert.match(await page.locator(".course-present h3").innerText(), /climb$/);
  assert.notEqual(await page.locator("#direction-sentence").innerText(), before);
});

test("the chart of speeds grows, can be stopped and goes on", async (t) => {
  const page = await openApp(t);
  await loadDemo(page);
  await go(page, "in-the-cut");
  await settled(page);
  const progress = page.locator(".exact progress");
  await page.getByRole("button", { name: "Work the middle machine out exactly" }).click();
  await progress.waitFor();
  const section = page.locator("section[aria-labelledby=speed]");
  const drawn = () => page.locator(".speed-exact").getAttribute("d");
  await section.getByRole("button", { name: "Stop" }).click();
  const halted = (await drawn()).length;
  await section.getByText("The exact curve was stopped.").waitFor();
  await section.getByRole("button", { name: "Go on" }).click();
  await progress.waitFor({ state: "detached" });
  const whole = await drawn();
  assert.ok(whole.length > halted, `${whole.length} against ${halted}`);
  assert.match(await page.locator("#exact-limit").innerText(), /At 1100 rpm it chatters from [\d.]+ mm/);
  assert.match(await page.locator("#speed-better").innerText(), /speed/);
  assert.match(await section.innerText(), /Slower, at \d+ rpm/);

  // Depths below a tenth of an inch are in thou, others in inches, and so is the zero
  // beside them.
  await page.getByRole("group", { name: "Units" }).getByRole("radio", { name: "Inch" }).press("Space");
  const labels = page.locator(".speed-chart .axis-y");
  await labels.filter({ hasText: /thou|in/ }).first().waitFor();
  const units = (await labels.allTextContents()).map((label) => label.replace(/^[\d.]+\s/, ""));
  assert.ok(units.length === 3 && new Set(units).size === 1, units.join());
});

test("belt steps are what the drive has", async (t) => {
  const page = await openApp(t);
  await loadDemo(page);
  await go(page, "machine");
  await page.locator("details", { has: page.locator("#machine-steps") }).locator("summary").click();
  await type(page, "Speeds of the belt steps or gears", "620, 1100; 1750 rpm");
  await page.getByText("3 speeds: 620 rpm, 1100 rpm, 1750 rpm").waitFor();
  await go(page, "in-the-cut");
  await settled(page);
  assert.equal(await page.locator(".speed-bar").count(), 3);
  await page.evaluate(() => (location.hash = "#/machine/machine.steps"));
  await page.locator("#machine-steps:focus").waitFor();
  await type(page, "Speeds of the belt steps or gears", "620, fast");
  const steps = box(page, "Speeds of the belt steps or gears");
  await page.locator("#machine-steps[aria-invalid=true]").waitFor();
  assert.equal(await steps.inputValue(), "620, fast", "what was typed stays");
});

test("the surface is drawn before and after, in the same light", async (t) => {
  const page = await inTheCut(t);
  const pictures = page.locator("canvas.relief");
  assert.equal(await pictures.count(), 2);
  const paint = () =>
    pictures.evaluateAll((all) =>
      all.map((canvas) => {
        const { data } = canvas.getContext("2d").getImageData(0, 0, canvas.width, canvas.height);
        const grey = data.filter((_, at) => at % 4 === 1);
        const mean = grey.reduce((sum, value) => sum + value, 0) / grey.length;
        const spread = Math.sqrt(grey.reduce((sum, value) => sum + (value - mean) ** 2, 0) / grey.length);
        return { mean, spread, sum: grey.reduce((sum, value, at) => (sum * 31 + value + at) % 1e9, 7) };
      }),
    );
  const [now, then] = await paint();
  for (const one of [now, then]) {
    assert.ok(one.mean > 40 && one.mean < 220 && one.spread > 8, JSON.stringify(one));
  }
  assert.notEqual(now.sum, then.sum);
  const change = page.locator(".surface-change");
  assert.match(await change.innerText(), /^The surface .*Ra [\d.]+ µm as it is, [\d.]+ µm with the remedy/);

  const choice = page.getByLabel("The remedy to look at");
  const others = await choice.locator("option").allInnerTexts();
  assert.ok(others.length > 5);
  await choice.selectOption({ index: others.length - 1 });
  await settled(page);
  await page.getByText(`With “${others.at(-1)}”`).first().waitFor();
  const [same, other] = await paint();
  assert.equal(same.mean > 40, true);
  assert.notEqual(other.sum, then.sum);
  assert.equal(await page.locator(".trace").count(), 4 + 1, "two cuts both ways; a load with play and without");
});

test("it can be listened to, not loud, and stops", async (t) => {
  const page = await openApp(t, {
    before: (page) =>
      page.addInitScript(() => {
        window.heard = [];
        const start = AudioBufferSourceNode.prototype.start;
        AudioBufferSourceNode.prototype.start = function (...when) {
          const samples = this.buffer.getChannelData(0);
          window.heard.push({ seconds: this.buffer.duration, loudest: samples.reduce((most, v) => Math.max(most, Math.abs(v)), 0) });
          return start.apply(this, when);
        };
        const connect = AudioNode.prototype.connect;
        AudioNode.prototype.connect = function (to, ...more) {
          if (this instanceof GainNode && to instanceof AudioDestinationNode) window.gain = this.gain;
          return connect.call(this, to, ...more);
        };
      }),
  });
  await loadDemo(page);
  await go(page, "in-the-cut");
  await settled(page);
  assert.deepEqual(await page.evaluate(() => window.heard), [], "silent until asked");
  const now = page.getByRole("button", { name: "Hear it as it is" });
  await now.click();
  assert.equal(await now.getAttribute("aria-pressed"), "true");
  const [first] = await page.evaluate(() => window.heard);
  assert.ok(first.seconds >= 3.9 && first.loudest > 0.05 && first.loudest <= 1, JSON.stringify(first));
  const volume = page.getByLabel("Volume");
  await volume.fill("100");
  assert.ok((await page.evaluate(() => window.gain.value)) <= 0.25, "never loud");
  // Anew, as it stops by itself after four seconds.
  await now.click();
  await page.getByRole("button", { name: "Stop the sound" }).click();
  assert.equal(await now.getAttribute("aria-pressed"), "false");
});

test("play stays seated under a load that keeps its direction", async (t) => {
  const page = await inTheCut(t);
  const section = page.locator("section[aria-labelledby=play]");
  await section.getByText("The same as a table").click();
  const travels = async (load) => {
    const row = section.getByRole("row", { name: load });
    await row.waitFor();
    return row.locator("td").allInnerTexts();
  };
  const [, , , seated] = await travels("A load that keeps its direction");
  assert.equal(seated, "nothing");
  const turning = await travels("A load that turns");
  for (const travel of turning.slice(1)) {
    assert.match(travel, /^[1-9][\d.]*\sµm$/);
  }
  const [, , springs, play] = turning.map(Number.parseFloat);
  assert.ok(play < springs, "what springs do is not called play");
});

test("pictures, and how long they take", async (t) => {
  const page = await inTheCut(t);
  await screenshots(page, "in-the-cut");
  const times = await page.evaluate(() => {
    const sums = {};
    for (const { name, duration } of performance.getEntriesByType("measure")) {
      sums[name] = (sums[name] ?? 0) + duration;
    }
    return sums;
  });
  for (const [name, time] of Object.entries(times)) {
    t.diagnostic(`${name}: ${time.toFixed(0)} ms`);
  }
  const names = ["answer", "cut in time", "directions", "first answer", "machines", "play", "speeds"];
  assert.deepEqual(Object.keys(times).sort(), names);
});
