// Several scenarios side by side, and files out and in.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { arrived, barText, box, exportOpen, go, loadDemo, type } from "./steps.mjs";
import { openApp, TOGETHER } from "./support.mjs";

const button = (page, name) => page.getByRole("button", { name, exact: true });

/** The names once there are so many. */
async function namesWhen(page, count) {
  await page.locator(`#saved ul:not(:has(li:nth-child(${count + 1}))) li:nth-child(${count}) h3`).waitFor();
  return (await page.locator("#saved h3").allInnerTexts()).toSorted();
}

const news = (page, words) => page.getByRole("status").getByText(words).waitFor();

function importFile(page, name, text) {
  const file = { name, mimeType: "application/json", buffer: Buffer.from(text) };
  return page.getByLabel("Import from a file").setInputFiles(file);
}

describe("several scenarios", TOGETHER, () => {
  test("new, duplicate, rename, delete and undo", async (t) => {
    const page = await openApp(t);
    await type(page, "Finish you want", "0.4 µm");
    await go(page, "scenarios");
    assert.deepEqual(await namesWhen(page, 1), ["My mill"]);

    await button(page, "New scenario").click();
    await arrived(page, "trouble");
    assert.equal(await box(page, "Finish you want").inputValue(), "", "a new one is empty");
    await go(page, "scenarios");
    assert.deepEqual(await namesWhen(page, 2), ["My mill", "My mill 2"]);

    await button(page, "Duplicate “My mill”").click();
    assert.deepEqual(await namesWhen(page, 3), ["My mill", "My mill (copy)", "My mill 2"]);

    await button(page, "Rename “My mill (copy)”").click();
    // The old name is picked out, so that typing takes its place.
    await page.keyboard.type("Round column");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Round column" }).waitFor();
    await page.getByRole("banner").getByRole("link", { name: "Round column" }).waitFor();
    assert.deepEqual(await namesWhen(page, 3), ["My mill", "My mill 2", "Round column"]);

    await button(page, "Delete “Round column”").click();
    assert.deepEqual(await namesWhen(page, 2), ["My mill", "My mill 2"]);
    await button(page, "Undo").click();
    await page.reload();
    assert.deepEqual(await namesWhen(page, 3), ["My mill", "My mill 2", "Round column"]);

    await button(page, "Open “Round column”").click();
    await arrived(page, "trouble");
    assert.equal(await box(page, "Finish you want").inputValue(), "0.4 µm", "the copy has what was copied");
  });

  test("an exported file comes back as it went", async (t) => {
    const page = await openApp(t);
    await loadDemo(page);
    const said = await barText(page);
    const { path, name } = await exportOpen(page);
    await news(page, `goes to your downloads as ${name}`);
    await button(page, "Delete “Bracket on the bench drill (demo)”").click();
    await page.getByText("Nothing saved yet").waitFor();
    await page.getByLabel("Import from a file").setInputFiles(path);
    await news(page, /was read from .* and is open now/);
    assert.equal(await barText(page), said);
    await page.reload();
    assert.deepEqual(await namesWhen(page, 1), ["Bracket on the bench drill (demo)"]);
  });

  test("a file that is no scenario changes nothing, and is said to be none", async (t) => {
    const page = await openApp(t);
    await loadDemo(page);
    await go(page, "scenarios");
    const before = await page.evaluate(() => ({ ...localStorage }));
    const scenario = { schema: 1, name: "x", units: "metric", choices: {}, entries: {} };
    const faults = [
      ["cut off", '{"schema":', /garbled at line 1/],
      ["empty", "", /garbled at line 1/],
      ["other", '{"a":1}', /not a Spindlewise scenario/],
      ["newer", JSON.stringify({ ...scenario, schema: 99 }), /newer Spindlewise/],
      ["foreign", JSON.stringify({ ...scenario, choices: { archetype: "spaceship" } }), /spaceship/],
      ["extra", JSON.stringify({ ...scenario, owner: "me" }), /owner/],
    ];
    for (const [name, text, message] of faults) {
      await importFile(page, `${name}.json`, text);
      const refused = `${name}\\.json was not taken over, and nothing here was changed`;
      await news(page, new RegExp(`${refused}.*${message.source}`));
    }
    assert.deepEqual(await page.evaluate(() => ({ ...localStorage })), before);
  });

  test("markup in a file is shown as text and never run", async (t) => {
    const markup = '<img src=x onerror="document.title=1"><script>document.title=1</script>';
    const page = await openApp(t);
    await go(page, "scenarios");
    const entries = { "cutter.diameter": markup, "no.such.field": markup };
    const scenario = { schema: 1, name: markup, units: "metric", choices: {}, entries };
    await importFile(page, `${markup}.json`, JSON.stringify(scenario));
    await page.getByRole("heading", { level: 3, name: markup }).waitFor();
    await page.getByRole("banner").getByText(markup).waitFor();
    await go(page, "work");
    assert.equal(await box(page, "Cutter diameter").inputValue(), markup);
    await go(page, "answer");
    await page.locator(".answer-for").getByText(markup).waitFor();
    assert.equal(await page.title(), "Answer – Spindlewise");
    assert.equal(await page.locator("img, body script").count(), 0);
  });
});
