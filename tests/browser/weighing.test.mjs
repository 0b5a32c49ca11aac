// Weighing it: the study runs, shows how far it is and can be given up; sets of
// remedies are looked at by tap and by keys; what is settled about a remedy is
// reckoned with.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { arrived, go, loadDemo, settled } from "./steps.mjs";
import { axe, openApp, screenshots, TOGETHER, VIEWPORTS } from "./support.mjs";

/** A browser that makes no workers. */
const WITHOUT_WORKERS = () => {
  window.Worker = class {
    constructor() {
      throw new DOMException("refused", "SecurityError");
    }
  };
};

async function weighing(t, options) {
  const page = await openApp(t, options);
  await loadDemo(page);
  await go(page, "weighing");
  return page;
}

/** Waits until the study is done. */
async function found(page) {
  await page.getByRole("heading", { name: "Which remedies together" }).waitFor();
}

const bestTogether = (page) => page.locator("#best-together").innerText();

describe("weighing", TOGETHER, () => {
  test("the study says what to do together, why, and what it hangs on", async (t) => {
    const page = await weighing(t);
    await found(page);
    assert.match(await bestTogether(page), /best buy[^]*That takes the goal from \d+ to \d+ of 100/);
    assert.match(await page.locator("#why-said").innerText(), /worth most to you is “.+”[^]*Next comes[^]*On \d+ of 100 machines like yours it is the best buy/);
    assert.match(await page.locator("#break-even-said").innerText(), /best buy/);
    // What seems better is set beside it.
    assert.match(await page.locator("#rival").innerText(), /worth less to you all the same[^]*deep in one pass[^]*What is left for you/);
    assert.match(await page.locator("section[aria-labelledby=favour]").innerText(), /At the 400 taken here, as you named none/);
    const ranges = await page.locator("#favour-ranges li").allInnerTexts();
    assert.match(ranges[0], /^(Up to about|Whatever)/);
    assert.equal(await page.locator(".drivers").count(), 3);
    assert.match(await page.locator(".drivers").first().innerText(), /\d+\s%[^]* of the uncertainty about the finish/);
    await page.getByRole("heading", { name: "Afterwards" }).waitFor();

    // Each figure opens its derivation.
    await page.locator(".weighing-note .sourced").first().click();
    await page.getByRole("dialog").getByRole("heading", { name: "Sets tried" }).waitFor();
    await page.keyboard.press("Escape");

    const times = await page.evaluate(() => performance.getEntriesByName("study", "measure").map(({ duration }) => duration));
    assert.equal(times.length, 1);
    t.diagnostic(`the study took ${times[0].toFixed(0)} ms`);
    await screenshots(page, "weighing");
  });

  test("it is not begun anew when the page is opened again, but when the case is another", async (t) => {
    const page = await weighing(t);
    await found(page);
    const runs = () => page.evaluate(() => performance.getEntriesByName("study", "measure").length);
    await go(page, "answer");
    await go(page, "weighing");
    await found(page);
    assert.equal(await runs(), 1);
    await go(page, "work");
    await page.getByRole("textbox", { name: "Depth of cut" }).fill("0.5 mm");
    await go(page, "weighing");
    await page.locator(".study-bar").waitFor();
    await found(page);
    assert.equal(await runs(), 2);
  });

  test("it can be given up and taken up again", async (t) => {
    const page = await weighing(t);
    const progress = page.locator(".study-bar");
    await progress.waitFor();
    await page.getByRole("button", { name: "Cancel" }).press("Enter");
    await page.getByText("You stopped it before it was done.").waitFor();
    await page.waitForTimeout(300);
    assert.equal(await progress.count(), 0);
    assert.equal(await page.getByRole("heading", { name: "Which remedies together" }).count(), 0);
    assert.equal(await page.locator("button:focus").innerText(), "Work it out again", "the keyboard stays where it was");
    await page.keyboard.press("Enter");
    await progress.waitFor();
    await found(page);
  });

  test("steps are chosen by keys and by tap", async (t) => {
    const page = await weighing(t, { viewport: VIEWPORTS.phone });
    await found(page);
    const slider = page.getByRole("slider");
    const chosen = () => page.locator(".stair").getAttribute("data-bundle");
    await slider.press("Home");
    const first = await chosen();
    assert.match(await slider.getAttribute("aria-valuetext"), /^free of charge: .* reach the goal$/);
    await slider.press("ArrowRight");
    const second = await chosen();
    assert.notEqual(second, first);
    await page.getByRole("button", { name: "The step before" }).click();
    assert.equal(await chosen(), first);
    await page.locator(".stairs-dot, .stairs-dot-faint").nth(1).click();
    assert.equal(await chosen(), second);

    await page.getByRole("button", { name: "By hours" }).click();
    await page.getByRole("button", { name: "Finish you can count on" }).click();
    await slider.press("End");
    assert.match(await slider.getAttribute("aria-valuetext"), /^time .*: .*µm Ra or finer$/);
  });

  for (const scheme of ["light", "dark"]) {
    test(`it is accessible in ${scheme} colours`, async (t) => {
      const page = await weighing(t, { colorScheme: scheme, viewport: VIEWPORTS.phone });
      await axe(page);
      await found(page);
      await page.locator("main details").evaluateAll((details) => details.forEach((one) => (one.open = true)));
      await axe(page);
    });
  }

  test("without a worker the findings are the same", async (t) => {
    const [beside, onPage] = await Promise.all([weighing(t), weighing(t, { before: (page) => page.addInitScript(WITHOUT_WORKERS) })]);
    await Promise.all([found(beside), found(onPage)]);
    assert.equal(onPage.workers().length, 0);
    for (const part of ["#best-together", "#why-said", "#break-even-said", "#favour-ranges"]) {
      assert.equal(await onPage.locator(part).innerText(), await beside.locator(part).innerText(), part);
    }
  });
});

test("what several free steps bring together is said on the answer page", TOGETHER, async (t) => {
  const page = await openApp(t, { viewport: VIEWPORTS.phone });
  await loadDemo(page);
  await go(page, "work");
  await page.getByRole("textbox", { name: "Depth of cut" }).fill("1.2 mm");
  await go(page, "answer");
  await settled(page);
  const free = page.locator(".free-set");
  await free.waitFor();
  const said = await free.innerText();
  const [, together] = /(\d+) of 100/.exec(said);
  const [, alone] = /(\d+) of 100/.exec(await page.locator(".opening-number").innerText());
  assert.ok(Number(together) > Number(alone), `${together} against ${alone}`);
  assert.ok((await free.locator("li").count()) > 1);
  await axe(page);
  await free.getByRole("link").click();
  await found(page);
});

describe("what is settled about a remedy", TOGETHER, () => {
  /** The answer to the demo, the rest of the remedies unfolded. */
  async function answered(t, options) {
    const page = await openApp(t, options);
    await loadDemo(page);
    await go(page, "answer");
    await settled(page);
    return page;
  }

  const remedy = (page, standing) => page.locator(`.remedy[data-standing=${standing}]`);

  test("what is done is reckoned with, and has a way back", async (t) => {
    const page = await answered(t);
    const first = remedy(page, "first");
    const [id, title] = [await first.getAttribute("data-remedy"), await first.locator("h3").innerText()];
    const before = await page.locator("#verdict").innerText();
    await first.locator("summary").press("Enter");
    await first.getByRole("radio", { name: "I have done it, or will anyway" }).press("Space");
    await page.locator(".settled").getByText("Reckoned as done").waitFor();
    assert.notEqual(await page.locator("#verdict").innerText(), before, `${title} was first`);
    // The keyboard stays on the choice, wherever the remedy is now.
    await page.locator(`#settle-${id}-done:focus`).waitFor();
    assert.match(await page.locator(`.refused [data-remedy=${id}]`).innerText(), /done already/);
    await page.reload();
    await settled(page);
    await page.locator(".settled").getByRole("button", { name: /^Consider it again/ }).press("Enter");
    await page.locator(".settled").waitFor({ state: "detached" });
    await page.locator("#remedies:focus").waitFor();
    await settled(page);
    assert.equal(await page.locator("#verdict").innerText(), before);
  });

  test("what is ruled out is in no set", async (t) => {
    const page = await answered(t, { viewport: VIEWPORTS.phone });
    await go(page, "weighing");
    await found(page);
    const before = await bestTogether(page);
    await go(page, "answer");
    const first = remedy(page, "first");
    const title = (await first.locator("h3").innerText()).replace(/^\d+\s*/, "");
    await first.locator("summary").press("Enter");
    await first.getByRole("radio", { name: "Rule it out" }).press("Space");
    await page.locator(".settled").getByText("Ruled out").waitFor();
    await go(page, "weighing");
    await arrived(page, "weighing");
    await found(page);
    const after = await bestTogether(page);
    assert.ok(before.includes(title) && !after.includes(title), `${before}\n${after}`);
  });
});
