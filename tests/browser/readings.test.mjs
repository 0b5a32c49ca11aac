// The guides to the readings, and past cuts as readings.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { box, entries, go, pick, saved, settled, type, unfold } from "./steps.mjs";
import { axe, openApp, screenshots, TOGETHER, VIEWPORTS } from "./support.mjs";

/** The guides, by the name of what they guide to. */
const GUIDES = [
  "Pull at the cutter tip",
  "Pull at the spindle nose",
  "Pull on the head",
  "Pull on the part",
  "Play at the spindle nose",
  "Runout",
  "Shake of the quill",
  "Tap test",
  "What past cuts showed",
];

describe("the guides", TOGETHER, () => {
  test("each opens by keyboard and shows, says and warns how", async (t) => {
    const page = await openApp(t, { hash: "#/readings" });
    for (const name of GUIDES) {
      await section(page, name).locator(".folded > summary").press("Enter");
      const guide = section(page, name).locator(".guide");
      const steps = guide.getByRole("heading", { name: "Step by step" });
      assert.equal(await steps.isVisible(), false, `${name} is folded away`);
      await guide.locator("summary").press("Enter");
      await steps.waitFor();
      for (const drawing of await guide.locator("[role=img]").all()) {
        assert.match(await drawing.getAttribute("aria-label"), /\w+ \w+ \w+/, name);
        const { width } = await drawing.locator("svg").boundingBox();
        assert.ok(width >= 200, `the drawing of ${name} is large`);
      }
      assert.ok((await guide.locator("[role=img]").count()) >= 2, name);
      await guide.getByText("Caution.").waitFor();
      assert.match(await guide.innerText(), /About \d+(–\d+)? min for each reading/, name);
      assert.ok((await guide.locator("[data-usual]").count()) > 0, name);
    }
    await axe(page);
    await screenshots(page, "readings-guides");
  });

  test("what is usual follows the machine, the pull and the units", async (t) => {
    const page = await openApp(t, { hash: "#/machine" });
    const tip = (pull) => usual(page, "readings.tip.x", pull);
    const on = async (machine) => {
      await go(page, "machine");
      await pick(page, "What kind of machine is it?", machine);
      await go(page, "readings");
      await opened(page, "Pull at the cutter tip");
      await section(page, "Pull at the cutter tip").getByText(machine).first().waitFor();
      return tip("at 100 N");
    };
    const light = await on("Benchtop drill press turned mill");
    const stout = await on("Small knee mill");
    assert.equal(light.unit, "µm");
    assert.ok(stout.low < light.low && stout.high < light.high, `${stout.text} against ${light.text}`);

    await type(page, "Pull at the cutter tip", "200 N");
    const pulled = await tip("at 200 N");
    // Bearings stiffen under load, so a little less than twice; and figures are rounded.
    const ratio = pulled.high / stout.high;
    assert.ok(ratio > 1.6 && ratio < 2.15, `${pulled.text} against ${stout.text}`);

    await page.getByRole("group", { name: "Units" }).getByRole("radio", { name: "Inch" }).press("Space");
    const inch = await tip("at 45 lbf");
    assert.equal(inch.unit, "thou");
    // A thousandth of an inch is 25.4 µm.
    assert.ok(Math.abs((25.4 * inch.high) / pulled.high - 1) < 0.05, `${inch.text} against ${pulled.text}`);
  });

  test("on paper every guide is unfolded", async (t) => {
    const page = await openApp(t, { hash: "#/readings" });
    const steps = page.locator(".guide ol");
    assert.equal(await steps.count(), GUIDES.length);
    for (const list of await steps.all()) assert.equal(await list.isVisible(), false);
    await page.emulateMedia({ media: "print" });
    for (const list of await steps.all()) assert.ok(await list.isVisible());
  });
});

describe("the folded readings", TOGETHER, () => {
  test("the page names two to begin with, of two groups, and leads to them", async (t) => {
    const page = await openApp(t, { hash: "#/readings", viewport: VIEWPORTS.phone });
    await settled(page);
    const box = page.getByRole("region", { name: "Start with these two" });
    const links = box.getByRole("link");
    assert.equal(await links.count(), 2);
    const groups = new Set();
    for (const link of await links.all()) {
      const id = (await link.getAttribute("href")).split("/").at(-1).replaceAll(".", "-");
      assert.equal(await page.locator(`#${id}`).isVisible(), false, `${id} is folded away`);
      await link.click();
      await page.locator(`#${id}:focus`).waitFor();
      groups.add(await page.locator(`.group:has(#${id}) h2`).innerText());
    }
    assert.equal(groups.size, 2, [...groups].join());
    // Pressed again, though the address is the same: it leads there again.
    const again = links.last();
    await again.click();
    await page.locator("input:focus").waitFor();
    await axe(page);
  });

  test("what is typed shows where it is folded away", async (t) => {
    const page = await openApp(t, { hash: "#/readings" });
    const summary = section(page, "Runout").locator(".folded > summary");
    const says = (words) => summary.getByText(words).waitFor();
    await says("Not taken");
    await type(page, "Runout", "12 thou");
    await says("12 thou");
    await type(page, "Runout", "about ten");
    await says("about ten (can’t be used)");
    await page.reload();
    await says("about ten (can’t be used)");
  });

  test("a box that was never filled has nothing to step from", async (t) => {
    const page = await openApp(t, { hash: "#/readings/readings.tip.x" });
    const more = page.getByRole("button", { name: "More: Movement at the tip, pulled left to right" });
    await page.locator("#readings-tip-x:focus").waitFor();
    assert.equal(await more.isVisible(), false);
    await page.keyboard.type("160");
    await more.waitFor();
  });
});

describe("past cuts", TOGETHER, () => {
  test("a cut that chattered has to be deeper than one that stayed quiet", async (t) => {
    const page = await openApp(t, { hash: "#/readings", viewport: VIEWPORTS.phone });
    await type(page, "Deepest cut that stayed quiet", "0.8 mm");
    await type(page, "Shallowest cut that chattered", "0.5 mm");
    const chattered = box(page, "Shallowest cut that chattered");
    const error = page.locator("#readings-chatter-depth-error");
    await error.filter({ hasText: /has to be deeper than the deepest cut that stayed quiet, 0.8\smm/ }).waitFor();
    assert.equal(await chattered.getAttribute("aria-invalid"), "true");
    assert.equal(await chattered.inputValue(), "0.5 mm", "it is kept");
    assert.ok((await chattered.getAttribute("aria-describedby")).includes("readings-chatter-depth-error"));
    await settled(page);
    await axe(page);

    await type(page, "Shallowest cut that chattered", "1/16 in");
    await chattered.and(page.locator(":not([aria-invalid])")).waitFor();
    assert.equal(await error.innerText(), "");
  });

  test("they are kept, and the answer names them", async (t) => {
    const page = await openApp(t, { hash: "#/readings" });
    await type(page, "Finish a past cut left", "125 µin");
    await type(page, "Deepest cut that stayed quiet", "0.3 mm");
    await type(page, "Shallowest cut that chattered", "0.6 mm");
    await pick(page, "How did you judge that finish?", "Against a specimen, by eye");
    await saved(page);
    await page.reload();
    await page.locator("#readings-past-finish").waitFor({ state: "attached" });
    const kept = await entries(page);
    assert.equal(kept["readings-past-finish"], "125 µin");
    assert.equal(kept["readings-quiet-depth"], "0.3 mm");
    assert.equal(kept["judged-specimen"], true);
    await go(page, "answer");
    await settled(page);
    // Folded away only where nothing is wrong with them.
    await unfold(page.locator(".checked").first());
    const names = await page.locator(".checked h3").allInnerTexts();
    assert.deepEqual(names, ["Finish of a past cut", "Deepest cut that stayed quiet", "Shallowest cut that chattered"]);
    // The grade of 125 µin is that of 3.2 µm.
    assert.match(await page.locator(".checked").first().innerText(), /You read\s+3\.2\sµm/);
  });
});

const section = (page, name) =>
  page.locator("section.group").filter({ has: page.getByRole("heading", { level: 2, name, exact: true }) });

async function opened(page, name) {
  for (const fold of [".folded", ".guide"]) {
    const closed = section(page, name).locator(`${fold}:not([open]) > summary`);
    await closed.press("Enter");
    await closed.waitFor({ state: "detached" });
  }
}

/** What is usual for a reading at such a pull, as written: "130–220 µm". */
async function usual(page, key, pull) {
  const name = page.locator(`[data-usual="${key}"] dt`).filter({ hasText: new RegExp(`, ${pull}$`) });
  await name.waitFor();
  const text = await page.locator(`[data-usual="${key}"] strong`).innerText();
  const [, low, high, unit] = text.match(/^([\d.]+)–([\d.]+)\s(\S+)$/) ?? assert.fail(text);
  return { text, unit, low: Number(low), high: Number(high) };
}
