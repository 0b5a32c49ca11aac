// On a phone, held in a glove: the page begins high up, what is drawn can be
// read, and no name is too long.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { go, headFits, loadDemo, PAGES, settled, type, WIZARD } from "./steps.mjs";
import { openApp, TOGETHER, VIEWPORTS } from "./support.mjs";

const phone = { viewport: VIEWPORTS.phone };

/** The smallest letters that are read at arm's length, CSS pixels. */
const SMALLEST = 13;

/** The header at its highest, CSS pixels: one line of what a glove can hit. */
const HEADER = 80;

/** Where a page may begin at the latest: below a header and steps of a line each. */
const BEGINNING = 150;

describe("on a phone", TOGETHER, () => {
  for (const [what, load] of [["the demo", loadDemo], ["nothing entered", () => {}]]) {
    test(`the answer's sentence is on the first screen, with ${what}`, async (t) => {
      const page = await openApp(t, phone);
      await load(page);
      await go(page, "answer");
      await settled(page);
      const heading = await page.getByRole("heading", { level: 1 }).boundingBox();
      assert.ok(heading.y < BEGINNING, `the page begins at ${heading.y} px`);
      const sentence = await page.locator("#verdict").boundingBox();
      assert.ok(sentence.y + sentence.height < VIEWPORTS.phone.height, `the sentence ends at ${sentence.y + sentence.height} px`);
    });
  }

  test("the steps say where one is, and what comes before and after", async (t) => {
    const page = await openApp(t, phone);
    for (const [at, [slug]] of WIZARD.entries()) {
      await go(page, slug);
      await page.waitForFunction(stepIsInSight);
      const steps = await page.locator(".steps a").evaluateAll((steps) =>
        steps.map((step) => {
          const { left, right, height } = step.getBoundingClientRect();
          return { name: step.innerText, seen: left >= 0 && right <= innerWidth, height, here: step.ariaCurrent };
        }),
      );
      assert.deepEqual(steps.flatMap(({ here }, index) => (here ? index : [])), [at], slug);
      for (const step of steps.slice(Math.max(at - 1, 0), at + 2)) {
        assert.ok(step.seen && /\d\s+\w+/.test(step.name) && step.height >= 48, `${slug}: ${JSON.stringify(step)}`);
      }
    }
  });

  test("the answer so far takes two lines and is whole, but for the list of scenarios", async (t) => {
    const page = await openApp(t, phone);
    const bar = page.getByRole("complementary", { name: "The answer so far" });
    for (const load of [() => {}, loadDemo]) {
      await load(page);
      await settled(page);
      const { height } = await bar.boundingBox();
      assert.ok(height >= 48 && height < 80, `${height} px high`);
      const clipped = await bar.locator(".verdict-bar-short").evaluate((words) => words.scrollHeight - words.clientHeight);
      assert.ok(clipped <= 1, `${clipped} px of it are cut off`);
    }
    await go(page, "scenarios");
    assert.equal(await bar.count(), 0);
    await go(page, "machine");
    await bar.click();
    await page.getByRole("heading", { level: 1, name: "The answer" }).waitFor();
  });

  test("the header is one line, and the answer breaks within no word", async (t) => {
    const page = await openApp(t, phone);
    await loadDemo(page);
    await headFits(page, HEADER);
  });

  test("figures stand in two columns where they fit", async (t) => {
    const page = await openApp(t, phone);
    await loadDemo(page);
    for (const width of [320, 390]) {
      await page.setViewportSize({ width, height: 844 });
      const places = [["in-the-cut", ".course .facts"], ["weighing", ".stair .facts"], ["weighing", "#rival tbody tr"]];
      // The narrowest has no room for names of rows.
      for (const [slug, figures] of width < 390 ? places.slice(0, 2) : places) {
        await go(page, slug);
        await settled(page);
        const beside = await page.locator(figures).first().evaluate((list) => {
          const [one, other] = [...list.querySelectorAll("div, td")].map((figure) => figure.getBoundingClientRect());
          return other.left >= one.right && Math.abs(other.top - one.top) < 1;
        });
        assert.ok(beside, `${figures} at ${width} px`);
        const tooWide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(tooWide <= 0, `${slug} is ${tooWide} px too wide`);
      }
    }
  });

  test("words in drawings can be read, and keep clear of each other", async (t) => {
    const page = await openApp(t, phone);
    await loadDemo(page);
    let words = 0;
    for (const [slug] of PAGES) {
      await go(page, slug);
      await settled(page);
      await page.locator("main details").evaluateAll((details) => details.forEach((one) => (one.open = true)));
      const found = await page.evaluate(measureWords);
      words += found.words;
      assert.deepEqual(found.small.filter(({ size }) => size < SMALLEST), [], slug);
      assert.deepEqual(found.covered, [], slug);
    }
    assert.ok(words > 60, `${words} words in drawings`);
  });

  test("a name as long as can be typed takes two lines and pushes nothing aside", async (t) => {
    const page = await openApp(t, phone);
    await type(page, "Finish you want", "0.4 µm");
    await go(page, "scenarios");
    await page.getByRole("button", { name: "Rename “My mill”" }).click();
    const name = `${"A name that goes on ".repeat(20)}${"x".repeat(600)}`;
    await page.keyboard.insertText(name);
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name, exact: true }).waitFor();
    for (const [slug] of PAGES) {
      await go(page, slug);
      const { tooWide, high } = await page.evaluate((name) => {
        const { clientWidth, scrollWidth } = document.documentElement;
        const shown = [...document.querySelectorAll("body *")].filter((one) => one.childElementCount === 0 && one.textContent === name);
        const lines = (one) => one.getBoundingClientRect().height / parseFloat(getComputedStyle(one).lineHeight);
        return { tooWide: scrollWidth - clientWidth, high: shown.map(lines) };
      }, name);
      assert.ok(tooWide <= 0, `${slug} is ${tooWide} px too wide`);
      assert.ok(high.length > 0 && high.every((lines) => lines < 2.1), `${slug}: ${high} lines`);
    }
    await page.getByRole("button", { name: `Duplicate “${name}”` }).click();
    await page.getByRole("button", { name: `Delete “${name}”` }).click();
    const news = await page.getByText("was deleted").innerText();
    assert.ok(news.length < 100, news);
  });
});

/** Runs in the page: whether all of the step at hand is seen. */
function stepIsInSight() {
  const box = document.querySelector(".steps [aria-current]")?.getBoundingClientRect();
  return box && box.left >= 0 && box.right <= innerWidth;
}

/** Runs in the page: how large the words in drawings come out, and which lie on each other. */
function measureWords() {
  const seen = [...document.querySelectorAll("main svg")].map((svg) =>
    [...svg.querySelectorAll("text")].flatMap((text) => {
      const box = text.getBoundingClientRect();
      const size = parseFloat(getComputedStyle(text).fontSize) * Math.hypot(text.getScreenCTM().a, text.getScreenCTM().b);
      return box.width > 0 && box.height > 0 ? { words: text.textContent, size: Math.round(10 * size) / 10, box } : [];
    }),
  );
  // A line of text is higher than its letters.
  const meet = (a, b) =>
    a.left < b.right && b.left < a.right && a.top + 0.2 * a.height < b.bottom - 0.2 * b.height && b.top + 0.2 * b.height < a.bottom - 0.2 * a.height;
  const covered = seen.flatMap((words) =>
    words.flatMap((one, at) => words.slice(at + 1).flatMap((other) => (meet(one.box, other.box) ? `${one.words} on ${other.words}` : []))),
  );
  return { words: seen.flat().length, small: seen.flat().map(({ words, size }) => ({ words, size })), covered };
}
