// In a browser set to letters twice as large: what stands on every page leaves
// room for the page, and nothing is torn apart.

import { test } from "node:test";
import { headFits, loadDemo } from "./steps.mjs";
import { openApp, withArguments } from "./support.mjs";

withArguments("--blink-settings=defaultFontSize=32");

/** The header at its highest, CSS pixels: two lines of what a glove can hit. */
const HEADER = 165;

test("the header takes two lines at most, and the answer breaks within no word", async (t) => {
  const page = await openApp(t);
  await loadDemo(page);
  await headFits(page, HEADER);
});
