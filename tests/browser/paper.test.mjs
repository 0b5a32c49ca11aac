// What is printed can be worked from: every reading by its name, all that was
// told, and nothing that only a screen can do.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { go, loadDemo, pick, settled } from "./steps.mjs";
import { openApp, TOGETHER } from "./support.mjs";

describe("on paper", TOGETHER, () => {
  test("the answer names the readings to take and what it rests on", async (t) => {
    const page = await openApp(t);
    await loadDemo(page);
    await go(page, "holding");
    await pick(page, "How is the part held?", "In a vise, nothing else");
    await go(page, "answer");
    await settled(page);
    await page.emulateMedia({ media: "print" });
    const readings = page.locator(".next-readings > li");
    assert.ok((await readings.count()) > 0);
    for (const reading of await readings.all()) {
      assert.ok(await reading.getByRole("link").isVisible(), await reading.innerText());
    }
    const told = page.locator("[aria-labelledby=told]");
    assert.match(await told.innerText(), /How is the part held\?\s+In a vise, nothing else/);
    assert.match(await told.innerText(), /Cutter diameter\s+\d/);
  });

  test("no page prints what only a screen can do", async (t) => {
    const page = await openApp(t);
    await page.emulateMedia({ media: "print" });
    for (const slug of ["readings", "answer"]) {
      await go(page, slug);
      await settled(page);
      for (const name of ["Back and next", "Steps"]) {
        assert.equal(await page.locator(`nav[aria-label="${name}"]`).isVisible(), false, `${slug}: ${name}`);
      }
    }
  });
});
