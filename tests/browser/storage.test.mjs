// Nothing typed is lost: what the browser keeps, and what it does when it
// can't.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { arrived, barText, box, card, go, pick, saved, settled, type } from "./steps.mjs";
import { openApp, TOGETHER } from "./support.mjs";

const WRONG = ["What goes wrong?", "I can feel play"];

const status = (page) => page.locator("#save-status");

const says = (page, words) => status(page).getByText(words).waitFor();

describe("what the browser keeps", TOGETHER, () => {
  test("what is entered is kept as it is entered", async (t) => {
    const page = await openApp(t);
    await pick(page, ...WRONG);
    await type(page, "Finish you want", "63 µin");
    await saved(page);
    await page.reload();
    assert.ok(await card(page, ...WRONG).isChecked());
    assert.equal(await box(page, "Finish you want").inputValue(), "63 µin");

    // Half a number, and the page is gone before anything else happens.
    await box(page, "How far off size").pressSequentially("0.0");
    await page.reload();
    assert.match(await box(page, "How far off size").inputValue(), /^0\.0/);

    const later = await page.context().newPage();
    await later.goto(page.url());
    await later.getByRole("textbox").first().waitFor();
    assert.equal(await box(later, "Finish you want").inputValue(), "63 µin", "on the next visit");
  });

  test("two tabs don't overwrite each other", async (t) => {
    const page = await openApp(t, { before: (page) => page.context().addInitScript(deafUntilChanged) });
    await pick(page, ...WRONG);
    await saved(page);
    const other = await page.context().newPage();
    await other.goto(page.url());
    assert.ok(await card(other, ...WRONG).isChecked());

    // Both change it before either hears of the other.
    const change = (tab, id) =>
      tab.evaluate((id) => {
        window.changed = true;
        document.getElementById(id).click();
      }, id);
    await Promise.all([change(other, "troubles-chatter"), change(page, "troubles-off_size")]);
    const late = await Promise.race([page, other].map(async (tab) => {
      await says(tab, "Not saved: changed in another tab");
      return tab;
    }));
    await late.getByRole("button", { name: "Keep mine as a copy" }).click();
    await saved(late);
    const kept = await stored(page);
    const troubles = Object.values(kept).map((record) => record.scenario.choices.troubles.toSorted());
    assert.deepEqual(troubles.toSorted(), [["chatter", "play"], ["off_size", "play"]]);
  });

  test("a damaged entry is kept aside word for word, and said", async (t) => {
    const page = await openApp(t);
    await page.evaluate(() => {
      localStorage.setItem("spindlewise:v1:scenario:broken", '{"saved":1,"scen');
      localStorage.setItem("spindlewise:v1:scenario:newer", '{"saved":2,"scenario":{"schema":9}}');
    });
    await page.reload();
    await go(page, "scenarios");
    const unread = page.locator("#unread");
    await unread.getByText(/garbled at line 1/).waitFor();
    await unread.getByText(/newer Spindlewise/).waitFor();
    const aside = (id) => page.evaluate((id) => localStorage.getItem(`spindlewise:v1:aside:${id}`), id);
    assert.equal(await aside("broken"), '{"saved":1,"scen');

    const broken = unread.getByRole("listitem").filter({ hasText: "“broken”" });
    await broken.getByRole("button", { name: "Discard it" }).click();
    await broken.waitFor({ state: "detached" });
    assert.equal(await aside("broken"), null);
    assert.equal(await aside("newer"), '{"saved":2,"scenario":{"schema":9}}');
  });

  test("a browser that blocks storage still gives answers, and says that nothing is kept", async (t) => {
    const before = (page) =>
      page.addInitScript(() => {
        const get = () => {
          throw new DOMException("blocked", "SecurityError");
        };
        Object.defineProperty(window, "localStorage", { get });
        Object.defineProperty(window, "sessionStorage", { get });
      });
    const page = await openApp(t, { before });
    await says(page, "Not saved: this browser refuses storage");
    await pick(page, ...WRONG);
    await type(page, "Finish you want", "0.4 µm");
    assert.match(await barText(page), /of 100/);
    await go(page, "scenarios");
    await page.getByRole("button", { name: "Load the demo" }).click();
    await arrived(page, "trouble");
    await go(page, "scenarios");
    assert.equal(await page.locator("#saved").getByRole("listitem").count(), 2, "this visit's own are there");
    await says(page, "Not saved");
  });

  test("a full store is said, and loses nothing that was kept before", async (t) => {
    const page = await openApp(t);
    await type(page, "Finish you want", "0.8 µm");
    await saved(page);
    await page.evaluate(fillStore);
    await type(page, "Finish you want", "0.8 µm or whatever comes out");
    await says(page, "Not saved: this browser’s storage is full");

    await page.reload();
    await settled(page);
    assert.equal(await box(page, "Finish you want").inputValue(), "0.8 µm", "what was kept is still to be seen");

    await page.evaluate(() => localStorage.removeItem("somebody else's"));
    await type(page, "Finish you want", "1.6 µm");
    await saved(page);
  });
});

/** Runs in the page ahead of everything: nothing is heard of other tabs before this one has changed something. */
function deafUntilChanged() {
  addEventListener("storage", (event) => window.changed || event.stopImmediatePropagation());
}

/** Runs in the page: takes all the room that the browser grants. */
function fillStore() {
  let text = "";
  for (let size = 2 ** 23; size >= 1; size /= 2) {
    try {
      const longer = text + "x".repeat(size);
      localStorage.setItem("somebody else's", longer);
      text = longer;
    } catch {
      // Too much; half of it may fit.
    }
  }
}

/** Every stored scenario by its key. */
function stored(page) {
  return page.evaluate(() => {
    const records = Object.entries(localStorage).filter(([key]) => key.startsWith("spindlewise:v1:scenario:"));
    return Object.fromEntries(records.map(([key, text]) => [key, JSON.parse(text)]));
  });
}
