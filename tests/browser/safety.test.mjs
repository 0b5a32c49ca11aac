// A drill press that holds its chuck by the taper alone: the danger comes before
// everything, has a way out, and nothing on any page sends one into the cut.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { arrived, barText, card, go, pick, settled, type } from "./steps.mjs";
import { axe, openApp, screenshots, TOGETHER, VIEWPORTS } from "./support.mjs";

/** A bare taper, a drill chuck, worn bearings and a heavy cut in steel. */
async function drillPress(t, options) {
  const page = await openApp(t, options);
  await go(page, "machine");
  await pick(page, "What kind of machine is it?", "Benchtop drill press turned mill");
  await pick(page, "How are the bearings, as far as you can tell?", "Worn");
  await pick(page, "What keeps the holder in the spindle?", "Only the taper’s own grip");
  await go(page, "work");
  await pick(page, "What holds the cutter?", "Drill chuck");
  await type(page, "Cutter diameter", "12 mm");
  await type(page, "Depth of cut, along the spindle", "2 mm");
  await type(page, "Width of cut, across the feed", "1 mm");
  return page;
}

describe("a bare taper", TOGETHER, () => {
  test("the first step is to look, and what was found leads on", async (t) => {
    const page = await drillPress(t);
    await go(page, "answer");
    await settled(page);
    assert.match(await page.getByRole("heading", { level: 2 }).first().innerText(), /^Don’t mill in this spindle/);
    const first = page.getByRole("region", { name: /Do this first/ });
    assert.match(await first.innerText(), /bored right through[^]*fit a drawbar[^]*only drill with it/);
    assert.equal(await page.getByText("This step is for safety").count(), 0);
    assert.match(await page.locator("#quiet-to").innerText(), /This cut is 2\smm deep; .* quiet to about 0?\.\d+/);
    await axe(page);

    await first.getByRole("link", { name: "Say whether it is bored through" }).click();
    await arrived(page, "machine");
    const question = "Is the spindle bored right through?";
    assert.ok(await card(page, question, "I don’t know").isChecked());
    await pick(page, question, "Yes, right through");
    assert.match(await barText(page), /^Fit a drawbar/);
    await go(page, "answer");
    await settled(page);
    assert.match(await first.innerText(), /Fit a drawbar/);
    await page.getByText("This step is for safety").waitFor();

    await go(page, "machine");
    await pick(page, question, "No, or not all the way");
    await go(page, "answer");
    await settled(page);
    assert.match(await first.innerText(), /Don’t side-mill in this spindle[^]*another spindle/);
  });

  test("no page sends one into the cut, or argues against what makes it safer", async (t) => {
    const page = await drillPress(t);
    await go(page, "answer");
    await settled(page);
    const grave = page.getByRole("region", { name: "Before you take this cut" });
    assert.match(await grave.innerText(), /taper[^]*slip in its grip[^]*drill chuck/);
    const refused = await page.locator(".not-to-buy").innerText();
    assert.doesNotMatch(refused, /stop, parallels|collet chuck|drawbar/);
    const clamp = page.locator("[data-remedy=stop_and_clamp]");
    assert.match(await clamp.innerText(), /For safety/);
    assert.doesNotMatch(await clamp.textContent(), /regret/);
    assert.doesNotMatch(await page.locator(".next-readings").innerText(), /chattered|quiet|past cut/);

    await go(page, "weighing");
    const afterwards = page.getByRole("region", { name: "Afterwards" });
    assert.match(await afterwards.innerText(), /Test cuts wait/);
    assert.doesNotMatch(await afterwards.innerText(), /take the same cut/);
    await settled(page);
    await go(page, "in-the-cut");
    await settled(page);
    assert.match(await grave.innerText(), /taper[^]*drill chuck/);
    await axe(page);
  });

  test("the bar of a phone says it whole, and what the count is of", async (t) => {
    const page = await drillPress(t, { viewport: VIEWPORTS.phone });
    assert.match(await barText(page), /^Don’t mill: the holder can drop out\s+\d+ of 100\s+reach your goal$/);
    const clipped = await page.locator(".verdict-bar-short").evaluate((words) => words.scrollHeight - words.clientHeight);
    assert.ok(clipped <= 1, `${clipped} px of it are cut off`);
  });
});

test("readings that can't all be right are said before the answer, by name", async (t) => {
  const page = await openApp(t);
  await go(page, "readings");
  await type(page, "Movement at the tip, pulled left to right", "0.1 mm");
  await type(page, "Movement of the nose, pulled left to right", "0.3 mm");
  await go(page, "answer");
  await settled(page);
  const box = page.locator("#disagree");
  assert.match(await box.innerText(), /don’t fit each other[^]*Take again: /);
  await axe(page);
  await box.getByRole("link").first().click();
  await arrived(page, "readings");
});

test("a cutter that is likely to snap is told in the answer, on the bar and beside the cut", async (t) => {
  const page = await openApp(t, { viewport: VIEWPORTS.phone });
  await go(page, "machine");
  await pick(page, "What kind of machine is it?", "Small knee mill");
  await go(page, "holding");
  await pick(page, "How is the part held?", "Screwed to a plate");
  await go(page, "work");
  await pick(page, "What is the cutter made of?", "Carbide");
  await pick(page, "What kind of cut?", "Slot");
  await type(page, "Cutter diameter", "3 mm");
  await type(page, "Depth of cut, along the spindle", "4 mm");
  await type(page, "Feed per tooth", "30 µm");
  assert.match(await barText(page), /^Take a lighter cut/);
  await page.getByRole("status").getByText("The cutter may snap in this cut").waitFor();
  await go(page, "answer");
  await settled(page);
  assert.match(await page.locator("#verdict").innerText(), /loads the cutter beyond what such a cutter bears/);
  const grave = page.getByRole("region", { name: "Before you take this cut" });
  assert.match(await grave.innerText(), /may snap[^]*eye protection/);
  await axe(page);
  await screenshots(page, "snaps");
});

test("a cut deeper than it begins above the jaws is told beside the figures", async (t) => {
  const page = await openApp(t);
  await go(page, "work");
  await type(page, "Depth of cut, along the spindle", "12 mm");
  await go(page, "holding");
  const told = page.getByRole("status").getByText("the cutter would mill into them");
  assert.equal(await told.count(), 0);
  await type(page, "Height of the cut above the grip", "8 mm");
  assert.match(await told.innerText(), /12\smm deep[^]*8\smm above the jaws/);
  await axe(page);
  await screenshots(page, "into-the-grip");
  await go(page, "answer");
  await settled(page);
  const grave = page.getByRole("region", { name: "Before you take this cut" });
  assert.match(await grave.innerText(), /mill into the jaws or the clamps/);
});
