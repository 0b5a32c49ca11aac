// The whole wizard without a mouse: the Tab key reaches everything, what is
// focused is always seen to be, and never lies behind the docked answer.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { arrived, box, card, go, loadDemo, settled, WIZARD } from "./steps.mjs";
import { openApp, TOGETHER, VIEWPORTS } from "./support.mjs";

/** More than any page has to stop at. */
const MOST_STOPS = 250;

describe("without a mouse", TOGETHER, () => {
  for (const size of ["phone", "desktop"]) {
    test(`from the first step to the answer by keyboard on a ${size}`, async (t) => {
      const page = await openApp(t, { viewport: VIEWPORTS[size] });
      const slugs = WIZARD.map(([slug]) => slug);
      for (const [at, slug] of slugs.entries()) {
        await arrived(page, slug);
        await settled(page);
        if (at > 0) assert.equal((await focused(page)).tag, "H1", `${slug} opens at its heading`);
        if (slug === "answer") break;
        const stops = await tabThrough(page, slug, "Next:");
        assert.ok(stops.length >= 10, `${slug} has only ${stops.length} stops`);
        await page.keyboard.press("Enter");
      }
      await tabThrough(page, "answer", "Back:");
    });
  }

  test("picking, typing and stepping by keyboard", async (t) => {
    const page = await openApp(t);
    const chatters = card(page, "What goes wrong?", "It chatters");
    await tabTo(page, chatters);
    await page.keyboard.press("Space");
    assert.ok(await chatters.isChecked());

    const finish = box(page, "Finish you want");
    await tabTo(page, finish);
    await page.keyboard.type("1.6");
    await page.keyboard.press("Tab");
    assert.equal(await finish.inputValue(), "1.6 µm");
    await page.keyboard.press("Enter");
    assert.equal(await finish.inputValue(), "1.7 µm", "the + beside it");

    await page.goto(`${page.url().split("#")[0]}#/machine`);
    await arrived(page, "machine");
    const kinds = page.getByRole("group", { name: "What kind of machine is it?" });
    await tabTo(page, kinds.getByRole("radio", { name: "I don’t know" }));
    await page.keyboard.press("ArrowUp");
    assert.ok(await kinds.getByRole("radio", { name: "Small knee mill" }).isChecked());
  });

  test("the first stop skips the header", async (t) => {
    const page = await openApp(t);
    await page.keyboard.press("Tab");
    assert.equal((await focused(page)).what, "Skip to the questions");
    await page.keyboard.press("Enter");
    assert.equal((await focused(page)).tag, "H1");
  });

  test("a long page lists its headings and leads to each", async (t) => {
    const page = await openApp(t, { viewport: VIEWPORTS.phone });
    await loadDemo(page);
    for (const slug of ["answer", "weighing"]) {
      await go(page, slug);
      await settled(page);
      const links = page.getByRole("navigation", { name: "On this page" }).getByRole("link");
      const hrefs = await links.evaluateAll((links) => links.map((link) => link.getAttribute("href")));
      // What stands above the list needs no way down to it, nor does what comes
      // later right below it.
      const headings = await page.evaluate(() => {
        const list = document.querySelector(".contents");
        const below = (one) => list.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING;
        return [...document.querySelectorAll("main h2[id]:not(#free-set)")].filter(below).map((one) => one.id);
      });
      assert.deepEqual(hrefs, headings.map((id) => `#/${slug}/${id}`));
      for (const [at, id] of headings.entries()) {
        await links.nth(at).press("Enter");
        await page.locator(`#${id}:focus`).waitFor();
        wellShown({ ...(await focused(page)), ring: 3 }, slug);
      }
      // The address is the same, but the way is gone again.
      await links.last().press("Enter");
      await page.locator(`#${headings.at(-1)}:focus`).waitFor();
      assert.equal(await page.getByRole("heading", { level: 1 }).count(), 1, "it is still this page");
    }
  });

  test("an address of one field leads to it, in sight", async (t) => {
    for (const [slug, field] of [["machine", "machine.span"], ["readings", "readings.rock.radial"]]) {
      const page = await openApp(t, { hash: `#/${slug}/${field}`, viewport: VIEWPORTS.phone });
      await page.locator(`#${field.replaceAll(".", "-")}:focus`).waitFor();
      wellShown(await focused(page), field);
    }
  });
});

/** Presses Tab until what says `last` is reached, and looks at every stop on the way. */
async function tabThrough(page, slug, last) {
  const stops = [];
  while (stops.length < MOST_STOPS) {
    await page.keyboard.press("Tab");
    const stop = await focused(page);
    wellShown(stop, slug);
    stops.push(stop);
    if (stop.what.includes(last)) return stops;
  }
  assert.fail(`${slug}: Tab never reaches the end: ${stops.slice(-5).map(({ what }) => what).join(", ")}`);
}

/** Presses Tab until `target` is focused. */
async function tabTo(page, target) {
  for (let stops = 0; stops < MOST_STOPS; stops += 1) {
    if (await target.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press("Tab");
  }
  assert.fail("Tab never reaches it");
}

function wellShown({ what, ring, hidden }, where) {
  assert.ok(ring >= 2, `${where}: nothing shows that “${what}” is focused`);
  assert.equal(hidden, "", `${where}: “${what}”`);
}

/** What is focused: its name, how wide the ring round it is (or round its
 *  label, for an input without a look of its own), and what hides it. */
function focused(page) {
  return page.evaluate(async () => {
    // What the browser scrolls into view is there with the next frame.
    await new Promise(requestAnimationFrame);
    const element = document.activeElement;
    const [label] = element.labels ?? [];
    const what = (element.getAttribute("aria-label") ?? label?.innerText ?? element.innerText).trim().slice(0, 60);
    const rings = [getComputedStyle(element)];
    if (label) rings.push(getComputedStyle(label), getComputedStyle(label, "::before"));
    const width = ({ outlineStyle, outlineWidth }) => (outlineStyle === "none" ? 0 : parseFloat(outlineWidth));
    const seen = getComputedStyle(element).opacity === "0" ? rings.slice(1) : rings.slice(0, 1);
    return { tag: element.tagName, what, ring: Math.max(...seen.map(width)), hidden: hides(element) };

    function hides(element) {
      const { top, bottom, left, right } = element.getBoundingClientRect();
      if (top < -1 || left < -1 || right > innerWidth + 1) return "it is out of sight";
      const bar = document.querySelector(".dock");
      const inBar = bar?.contains(element);
      const edge = bar && !inBar ? Math.min(bar.getBoundingClientRect().top, innerHeight) : innerHeight;
      return bottom > edge + 1 ? `it lies ${Math.round(bottom - edge)} px behind what is at the bottom` : "";
    }
  });
}
