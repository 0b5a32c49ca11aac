// Several scenarios side by side, and files out and in.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { describe, test } from "node:test";
import { arrived, barText, box, download, exportOpen, go, loadDemo, type } from "./steps.mjs";
import { APP_URL, axe, FROM_DISK, openApp, screenshots, SERVED_ONLY, TOGETHER, withArguments } from "./support.mjs";

// The app under a name that other devices could know too.
const NAME = "mill.test";
withArguments(`--host-resolver-rules=MAP ${NAME} 127.0.0.1`);
const NAMED_URL = APP_URL.replace("127.0.0.1", NAME);

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

const takeOver = (page) => button(page, "Take over what is ticked").click();

/** What the bar says, which the page Scenarios is without. */
async function said(page) {
  await go(page, "trouble");
  return barText(page);
}

/** Makes a link of the open scenario. */
async function makeLink(page) {
  await go(page, "scenarios");
  await button(page, "Make a link of the open one").click();
  return page.getByLabel("Link", { exact: true }).inputValue();
}

const manyEntries = (count) => Object.fromEntries(Array.from({ length: count }, (_, at) => [at, ""]));

describe("several scenarios", TOGETHER, () => {
  test("new, duplicate, rename, delete and undo", async (t) => {
    const page = await openApp(t);
    await type(page, "Finish you want", "0.4 µm");
    await go(page, "scenarios");
    assert.deepEqual(await namesWhen(page, 1), ["My mill"]);

    await button(page, "New scenario").click();
    const name = page.getByLabel("New name for “My mill 2”");
    await page.waitForFunction(() => document.activeElement.value === "My mill 2");
    assert.ok(await name.evaluate((name) => name === document.activeElement), "it is named at once");
    await page.keyboard.press("Enter");
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

  test("the longest name there is can be copied and read again", async (t) => {
    const page = await openApp(t);
    await type(page, "Finish you want", "0.4 µm");
    await go(page, "scenarios");
    await button(page, "Rename “My mill”").click();
    const name = "x".repeat(1000);
    await page.keyboard.insertText(`${name}y`);
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name, exact: true }).waitFor();
    for (const copies of [2, 3]) {
      await button(page, `Duplicate “${name}”`).click();
      await namesWhen(page, copies);
    }
    await page.reload();
    const names = await namesWhen(page, 3);
    assert.ok(names.includes(name) && new Set(names).size === 3 && names.every(({ length }) => length <= 1000), names.join());
    assert.equal(await page.locator("#unread").count(), 0, "all of it is read");
  });

  test("an exported file comes back as it went", async (t) => {
    const page = await openApp(t);
    await loadDemo(page);
    const before = await said(page);
    const { path, name } = await exportOpen(page);
    await news(page, `goes to your downloads as ${name}`);
    await button(page, "Delete “Bracket on the bench drill (demo)”").click();
    await page.getByText("Nothing saved yet").waitFor();
    await page.getByLabel("Import from a file").setInputFiles(path);
    await takeOver(page);
    await news(page, /was taken over and is open now/);
    assert.equal(await said(page), before);
    await go(page, "scenarios");
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
      ["deep", "[".repeat(100_000), /garbled at line 1/],
      ["large", JSON.stringify({ ...scenario, schema: 0 }).replace(":0", ":1e999"), /garbled at line 1/],
      ["million", JSON.stringify({ ...scenario, choices: { means: Array(1_000_000).fill("press") } }), /no more than/],
      ["entries", JSON.stringify({ ...scenario, entries: manyEntries(20_000) }), /20000 entries; no more than 1000/],
      ["backup", '{"backup":1,"stored":[]}', /doesn’t belong/],
    ];
    await importFile(page, "good.json", JSON.stringify({ ...scenario, entries: { "want.finish": "6.3 µm" } }));
    await page.getByText("One number typed. Not here yet.").waitFor();
    for (const [name, text, message] of faults) {
      await importFile(page, `${name}.json`, text);
      const refused = `${name}\\.json was not taken over, and nothing here was changed`;
      await news(page, new RegExp(`${refused}.*${message.source}`));
      assert.equal(await button(page, "Take over what is ticked").count(), 0, "what a file before offered");
    }
    assert.deepEqual(await page.evaluate(() => ({ ...localStorage })), before);
  });

  test("markup in a file is shown as text and never run", async (t) => {
    const markup = '<img src=x onerror="document.title=1"><script>document.title=1</script>';
    const page = await openApp(t);
    await go(page, "scenarios");
    // The one file has scripts of its own.
    const foreign = () => page.locator("img, body script").count();
    const own = await foreign();
    const entries = { "cutter.diameter": markup, "no.such.field": markup };
    const scenario = { schema: 1, name: markup, units: "metric", choices: {}, entries };
    await importFile(page, `${markup}.json`, JSON.stringify(scenario));
    await page.getByRole("checkbox", { name: markup }).waitFor();
    await takeOver(page);
    await page.getByRole("heading", { level: 3, name: markup }).waitFor();
    await page.getByRole("banner").getByText(markup).waitFor();
    await go(page, "work");
    assert.equal(await box(page, "Cutter diameter").inputValue(), markup);
    await go(page, "answer");
    await page.locator(".answer-for").getByText(markup).waitFor();
    assert.equal(await page.title(), "Answer – Spindlewise");
    assert.equal(await foreign(), own);
  });

  test("everything goes into one file and comes back beside what is there", async (t) => {
    const page = await openApp(t);
    await loadDemo(page);
    await page.evaluate(() => localStorage.setItem("spindlewise:v1:scenario:broken", '{"saved":1,"scen'));
    await page.reload();
    await go(page, "scenarios");
    const { path, name } = await download(page, () => button(page, "Export everything to a file").click());
    assert.equal(name, "everything.spindlewise.json");
    const { stored } = JSON.parse(readFileSync(path, "utf8"));
    assert.equal(stored["spindlewise:v1:aside:broken"], '{"saved":1,"scen');

    // On the same device nothing is to be taken over; on another, all of it.
    const offer = page.getByRole("region", { name: /^\d+ scenarios in/ });
    await page.getByLabel("Import from a file").setInputFiles(path);
    await offer.getByText("The very same is here already.").first().waitFor();
    await offer.getByText(/aside:broken” can’t be read/).waitFor();
    assert.equal(await offer.getByRole("checkbox", { checked: true }).count(), 0);
    await screenshots(page, "offer");
    await axe(page);
    await button(page, "Leave it").click();

    const other = await openApp(t);
    await go(other, "scenarios");
    await other.getByLabel("Import from a file").setInputFiles(path);
    await other.getByText("Not here yet.").first().waitFor();
    await takeOver(other);
    await news(other, /taken over/);
    assert.ok((await namesOf(other)).includes("Bracket on the bench drill (demo)"));
  });

  test("another of the same name comes beside the one that is there", async (t) => {
    const page = await openApp(t);
    await type(page, "Finish you want", "0.4 µm");
    await go(page, "scenarios");
    const entries = { "want.finish": "6.3 µm" };
    await importFile(page, "mine.json", JSON.stringify({ schema: 1, name: "My mill", units: "metric", choices: {}, entries }));
    await page.getByText("Another of this name is here").waitFor();
    await takeOver(page);
    assert.deepEqual(await namesWhen(page, 2), ["My mill", "My mill 2"]);
    await button(page, "Open “My mill”").click();
    await arrived(page, "trouble");
    assert.equal(await box(page, "Finish you want").inputValue(), "0.4 µm", "what was here is as it was");
  });

  test("a link brings a scenario along, once and only when it is wanted", SERVED_ONLY, async (t) => {
    const page = await openApp(t, { url: NAMED_URL });
    await loadDemo(page);
    const before = await said(page);
    const address = await makeLink(page);
    assert.ok(address.startsWith(`${NAMED_URL}#/open/`) && address.length < 1500, address);
    await qrCodeIsWhole(page);
    await screenshots(page, "share");
    await axe(page);

    const other = await openApp(t, { url: address });
    await other.getByRole("region", { name: "One scenario in the link" }).waitFor();
    await other.waitForURL((url) => !url.href.includes("open/"));
    await screenshots(other, "brought");
    await takeOver(other);
    await news(other, /was taken over and is open now/);
    assert.equal(await said(other), before);
    await go(other, "scenarios");
    await other.reload();
    await other.getByRole("heading", { level: 1, name: "Scenarios" }).waitFor();
    assert.equal(await button(other, "Take over what is ticked").count(), 0);

    // In a page that is open already.
    await other.evaluate(() => (location.hash = "#/open/Zm9v!"));
    await news(other, /The link was not taken over.*cut off or changed/);
  });

  test("a link that means nothing elsewhere says so, has no picture to scan, and can be copied all the same", async (t) => {
    const page = await openApp(t);
    await loadDemo(page);
    const address = await makeLink(page);
    assert.ok(address.startsWith(`${APP_URL}#/open/`), address);
    await news(page, FROM_DISK ? /opened from disk.*on this device only/ : /served to this device only.*on this device only/);
    assert.equal(await page.getByRole("img", { name: "The link as a QR code" }).count(), 0);
    await button(page, "Copy the link").click();
    await news(page, /Copied|picked out for you to copy/);
    const picked = await page.getByLabel("Link", { exact: true }).evaluate((box) => box.value.slice(box.selectionStart, box.selectionEnd));
    assert.equal(picked, address);
    await screenshots(page, "share-here");
    await axe(page);
  });

  test("what can't be saved is not put away for another", async (t) => {
    const before = (page) =>
      page.addInitScript(() => {
        const keep = Storage.prototype.setItem;
        Storage.prototype.setItem = function (key, value) {
          if (window.full) throw new DOMException("full", "QuotaExceededError");
          keep.call(this, key, value);
        };
      });
    const page = await openApp(t, { before });
    await loadDemo(page);
    await page.evaluate(() => (window.full = true));
    await type(page, "Finish you want", "63 µin");
    await go(page, "scenarios");
    await button(page, "New scenario").click();
    await page.getByRole("alert").getByText("The open scenario is not saved, so no other was opened").waitFor();
    const { path } = await exportOpen(page);
    assert.equal(JSON.parse(readFileSync(path, "utf8")).entries["want.finish"], "63 µin");
    await page.evaluate(() => (window.full = false));
    await button(page, "New scenario").click();
    await page.waitForFunction(() => document.activeElement.value === "My mill");
    await page.keyboard.type("Round column");
    await page.keyboard.press("Enter");
    await arrived(page, "trouble");
    await go(page, "scenarios");
    assert.deepEqual((await namesOf(page)).toSorted(), ["Bracket on the bench drill (demo)", "Round column"]);
  });
});

const namesOf = (page) => page.locator("#saved h3").allInnerTexts();

/** What ISO/IEC 18004 asks of every such picture: its size, its three corners, the lines between them. */
async function qrCodeIsWhole(page) {
  const picture = page.getByRole("img", { name: "The link as a QR code" });
  const [path, view] = await picture.evaluate((svg) => [svg.firstElementChild.getAttribute("d"), svg.getAttribute("viewBox")]);
  const [left, , width] = view.split(" ").map(Number);
  const side = width + 2 * left;
  assert.equal((side - 17) % 4, 0, `${side} modules`);
  assert.equal(left, -4, "the quiet zone");
  const dark = new Set([...path.matchAll(/M(\d+) (\d+)/g)].map(([, x, y]) => `${x} ${y}`));
  for (const [x0, y0] of [[0, 0], [side - 7, 0], [0, side - 7]]) {
    for (let x = 0; x < 7; x += 1) {
      for (let y = 0; y < 7; y += 1) {
        const ring = Math.max(Math.abs(x - 3), Math.abs(y - 3));
        assert.equal(dark.has(`${x0 + x} ${y0 + y}`), ring !== 2, `finder at ${x0} ${y0}`);
      }
    }
  }
  for (let i = 8; i < side - 8; i += 1) assert.equal(dark.has(`${i} 6`), i % 2 === 0, `timing at ${i}`);
}
