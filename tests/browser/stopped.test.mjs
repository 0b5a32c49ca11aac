// When the program can't start, or stops by a fault of its own, a plain page
// says so, and everything stored can be had from it.

import assert from "node:assert/strict";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";
import { arrived, box, download, go, saved, type } from "./steps.mjs";
import { APP_URL, axe, FROM_DISK, openApp, screenshots, SERVED_ONLY, TOGETHER } from "./support.mjs";

const FAULTS = /panicked|unreachable|document is broken|ERR_FAILED|404|Failed to load|magic|CompileError/;

const button = (page, name) => page.getByRole("button", { name, exact: true });

const stopped = (page, heading) => page.getByRole("heading", { level: 1, name: heading }).waitFor();

/** What the file holds that the page hands out. */
async function rescued(page) {
  const { path, name } = await download(page, () => button(page, "Save everything stored as a file").click());
  assert.equal(name, "everything.spindlewise.json");
  return { path, content: JSON.parse(readFileSync(path, "utf8")) };
}

/** The program meets what it never expects: for once the document makes no element. */
const breakProgram = (page) =>
  page.evaluate(() => {
    for (const [owner, name] of [[Document, "createElement"], [Document, "createElementNS"], [Node, "cloneNode"]]) {
      const make = owner.prototype[name];
      owner.prototype[name] = function () {
        owner.prototype[name] = make;
        throw new Error("the document is broken");
      };
    }
    location.hash = "#/machine";
  });

describe("a program that has stopped", TOGETHER, () => {
  test("says so, loses nothing, and hands everything out", async (t) => {
    const page = await openApp(t, { mayLog: FAULTS });
    await type(page, "Finish you want", "63 µin");
    await saved(page);
    await box(page, "How far off size").pressSequentially("0.0");
    await breakProgram(page);
    await stopped(page, "Spindlewise has stopped");
    await page.getByText("What was saved before is intact").waitFor();
    await axe(page);
    await screenshots(page, "stopped");
    const { path, content } = await rescued(page);
    const records = Object.entries(content.stored).filter(([key]) => key.includes(":scenario:"));
    assert.deepEqual(records.map(([, text]) => JSON.parse(text).scenario.entries["want.finish"]), ["63 µin"]);
    assert.equal(content.typed["want-tolerance"], "0.0", "what stood in the boxes last");

    await button(page, "Reload").click();
    await arrived(page, "machine");
    await go(page, "trouble");
    assert.equal(await box(page, "Finish you want").inputValue(), "63 µin");

    const other = await openApp(t);
    await go(other, "scenarios");
    await other.getByLabel("Import from a file").setInputFiles(path);
    await button(other, "Take over what is ticked").click();
    await go(other, "trouble");
    assert.equal(await box(other, "Finish you want").inputValue(), "63 µin", "on another device");
  });

  const broken = {
    "is missing": [(route) => route.fulfill({ status: 404, body: "" }), /could not be fetched/],
    "can't be reached": [(route) => route.abort(), /could not be fetched/],
    "is damaged": [(route) => route.fulfill({ contentType: "application/wasm", body: "\0asm damaged" }), /damaged, or this browser is too old/],
    "is another page": [(route) => route.fulfill({ contentType: "text/html", body: "<p>Not here</p>" }), /damaged, or this browser is too old/],
  };
  for (const [name, [answer, words]] of Object.entries(broken)) {
    test(`or whose file ${name} says so`, SERVED_ONLY, async (t) => {
      const page = await openApp(t, { mayLog: FAULTS });
      await type(page, "Finish you want", "63 µin");
      await saved(page);
      // Past what the service worker keeps.
      const context = page.context();
      await page.evaluate(async () => {
        for (const registration of await navigator.serviceWorker.getRegistrations()) await registration.unregister();
        for (const name of await caches.keys()) await caches.delete(name);
      });
      await page.route("**/*.wasm", answer);
      await page.reload();
      await stopped(page, "Spindlewise could not start");
      await page.getByRole("paragraph").filter({ hasText: words }).waitFor();
      const { content } = await rescued(page);
      assert.ok(JSON.stringify(content.stored).includes("63 µin"));
      await page.unroute("**/*.wasm");
      await button(page, "Reload").click();
      await page.getByRole("heading", { level: 1, name: "What brings you here?" }).waitFor();
      assert.equal(await box(page, "Finish you want").inputValue(), "63 µin");
      assert.equal(context.pages().length, 1);
    });
  }

  const spoilt = {
    "was cut off within the program": [(file, middle) => file.slice(0, middle), /A part of it is missing/],
    "was cut off near its end": [(file) => file.slice(0, -2000), /A part of it is missing/],
    "is damaged": [(file, middle) => file.slice(0, middle) + "A".repeat(99) + file.slice(middle + 99), /damaged, or this browser is too old/],
  };
  for (const [name, [spoil, words]] of Object.entries(spoilt)) {
    test(`or whose one file ${name} says so`, { skip: !FROM_DISK && "a served app is in many files" }, async (t) => {
      const folder = mkdtempSync(join(tmpdir(), "spindlewise-"));
      t.after(() => rmSync(folder, { recursive: true }));
      const copy = join(folder, "spindlewise.html");
      const file = readFileSync(fileURLToPath(APP_URL), "utf8");
      const begin = file.indexOf('<script id="program"');
      const middle = Math.floor((begin + file.indexOf("</script>", begin)) / 2);
      writeFileSync(copy, spoil(file, middle));
      const page = await openApp(t, { url: pathToFileURL(copy).href, mayLog: FAULTS, ready: false });
      await stopped(page, "Spindlewise could not start");
      await page.getByRole("paragraph").filter({ hasText: words }).waitFor();
      await rescued(page);

      writeFileSync(copy, file);
      await button(page, "Reload").click();
      await page.getByRole("heading", { level: 1, name: "What brings you here?" }).waitFor();
    });
  }

  test("or finds a browser without WebAssembly says so", async (t) => {
    const before = (page) => page.addInitScript(() => delete window.WebAssembly);
    const page = await openApp(t, { before, ready: false });
    await stopped(page, "Spindlewise could not start");
    await page.getByRole("paragraph").filter({ hasText: "This browser can’t run WebAssembly" }).waitFor();
    await screenshots(page, "not-started");
    assert.ok(page.url().startsWith(APP_URL));
  });
});
