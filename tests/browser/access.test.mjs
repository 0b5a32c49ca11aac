// Every page, with the demo in it, can be used by everybody: WCAG 2.2 AA in
// every colour scheme, no sideways scrolling on a narrow screen, targets that
// a glove can hit.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { go, loadDemo, PAGES, settled } from "./steps.mjs";
import { axe, openApp, TOGETHER, VIEWPORTS } from "./support.mjs";

const SCHEMES = {
  light: { colorScheme: "light" },
  dark: { colorScheme: "dark" },
  "high contrast": { theme: "High contrast" },
};

/** The narrowest screen that WCAG 1.4.10 (Reflow) asks for, CSS pixels. */
const NARROW = { width: 320, height: 640 };

/** A fingertip in a glove, CSS pixels. */
const TARGET = 48;

/** A figure within a sentence or a table: WCAG 2.5.8 (Target Size, Minimum). */
const FIGURE = 24;

describe("every page", TOGETHER, () => {
  for (const [scheme, { theme, ...options }] of Object.entries(SCHEMES)) {
    test(`is accessible in ${scheme} colours, on a phone and on a desk`, async (t) => {
      const page = await openApp(t, options);
      await loadDemo(page);
      if (theme) await display(page, theme);
      await everyPage(page, async (slug) => {
        for (const size of ["phone", "desktop"]) {
          await page.setViewportSize(VIEWPORTS[size]);
          await t.test(`${slug}, ${size}`, () => axe(page));
        }
      });
    });
  }

  test("the colours picked are still there after a reload", async (t) => {
    const page = await openApp(t);
    await display(page, "Dark");
    await page.reload();
    await page.locator("html[data-theme=dark]").waitFor();
  });

  for (const large of [false, true]) {
    test(`no page scrolls sideways on a narrow screen${large ? ", with large controls" : ""}`, async (t) => {
      const page = await openApp(t, { viewport: NARROW });
      await loadDemo(page);
      if (large) await display(page, /^Large controls/);
      await everyPage(page, async (slug) => {
        const { tooWide, beyond } = await page.evaluate(measureWidth);
        assert.ok(tooWide <= 0, `${slug} is ${tooWide} px too wide: ${beyond.join("\n")}`);
      });
    });
  }

  for (const size of ["phone", "desktop"]) {
    test(`a glove can hit every control on a ${size}`, async (t) => {
      const page = await openApp(t, { viewport: VIEWPORTS[size] });
      await loadDemo(page);
      await everyPage(page, async (slug) => {
        const targets = await page.evaluate(measureTargets);
        assert.ok(targets.length > 10, "there is something to hit");
        const tooSmall = ({ figure, height, width }) => Math.min(height, width) < (figure ? FIGURE : TARGET);
        assert.deepEqual(targets.filter(tooSmall), [], slug);
      });
    });
  }
});

/** Calls `check` on every page, with all that is folded away opened. */
async function everyPage(page, check) {
  for (const [slug] of PAGES) {
    await go(page, slug);
    await settled(page);
    await page.locator("main details").evaluateAll((details) => details.forEach((one) => (one.open = true)));
    await check(slug);
  }
}

/** Sets one of the switches under "Display". */
async function display(page, name) {
  const summary = page.getByText("Display", { exact: true });
  await summary.click();
  await page.locator(".display").getByLabel(name).check();
  await summary.click();
}

/** Runs in the page: how far it reaches beyond the window, and what does. */
function measureWidth() {
  const { clientWidth, scrollWidth } = document.documentElement;
  const elements = [...document.querySelectorAll("body *")];
  const beyond = elements.filter((element) => element.getBoundingClientRect().right > clientWidth + 1);
  return { tooWide: scrollWidth - clientWidth, beyond: beyond.slice(0, 5).map((one) => one.outerHTML.slice(0, 120)) };
}

/** Runs in the page: what can be pressed, and how large it is. A label counts
 *  as part of its control. */
function measureTargets() {
  const controls = document.querySelectorAll("a[href], button, summary, input");
  return [...controls].flatMap((control) => {
    const boxes = [control, ...(control.labels ?? [])].map((part) => part.getBoundingClientRect());
    const seen = boxes.filter((box) => box.width > 1 && box.height > 1);
    if (seen.length === 0) return [];
    const end = (side, pick) => pick(...seen.map((box) => box[side]));
    return {
      what: `${control.tagName} ${control.id || control.textContent}`.slice(0, 60),
      figure: control.matches(".sourced"),
      // Sizes are laid out in sixty-fourths of a pixel.
      height: Math.round(end("bottom", Math.max) - end("top", Math.min)),
      width: Math.round(end("right", Math.max) - end("left", Math.min)),
    };
  });
}
