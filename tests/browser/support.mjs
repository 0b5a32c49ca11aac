// What every browser test stands on: one Chromium for a test file, a fresh and
// watched page for each test, an accessibility check, and pictures.
//
// `cargo verify` sets APP_URL (where the app is: a served folder, or the one
// file on disk), CHROMIUM (the browser's program), ASSESS (the native program)
// and SCREENSHOTS (the folder for pictures; without it none are taken).

import assert from "node:assert/strict";
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { after } from "node:test";
import { AxeBuilder } from "@axe-core/playwright";
import { chromium } from "playwright-core";

/** Widths and heights in CSS pixels. */
export const VIEWPORTS = {
  phone: { width: 390, height: 844 },
  tablet: { width: 820, height: 1180 },
  desktop: { width: 1440, height: 900 },
};

const AXE_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

/** What Chromium has switched off: the pages of its own that it loads for every
 *  window, longer than the app takes, to suggest addresses that nobody types
 *  here. The last such list counts, so what Playwright switches off follows. */
const SWITCHED_OFF = [
  "WebUIOmniboxPopup",
  "WebUIOmniboxAimPopup",
  "AimEnabled",
  "AvoidCorsURLLoaderRestartOnRedirect",
  "AvoidUnnecessaryBeforeUnloadCheckSync",
  "DestroyProfileOnBrowserClose",
  "HttpsFirstBalancedModeAutoEnable",
  "HttpsUpgrades",
  "LensOverlay",
  "MediaRouter",
  "NetworkTimeServiceQuerying",
  "OptimizationHints",
  "PaintHolding",
  "PreconnectToSearch",
  "ThirdPartyStoragePartitioning",
];

const ARGUMENTS = [
  "--disable-background-networking",
  "--disable-component-update",
  `--disable-features=${SWITCHED_OFF.join()}`,
  "--disable-gpu",
  "--disable-quic",
  "--disable-sync",
  "--no-first-run",
];

/** Longer than anything takes on a slow machine that is busy. */
const PATIENCE_MS = 120_000;

/** For `describe`: its tests run side by side, each on a page of its own. Two, as
 *  there is a test file for each processor beside it: while one waits another goes on. */
export const TOGETHER = { concurrency: 2 };

export const APP_URL = needed("APP_URL");

/** Whether the app is the one file, opened from disk: there the network is cut off. */
export const FROM_DISK = APP_URL.startsWith("file:");

/** For tests of what only a served app has. */
export const SERVED_ONLY = { skip: FROM_DISK && "a page opened from disk has no server" };

let browser;

after(async () => (await browser)?.close());

/** Starts the browser of this test file with more arguments; call before the first page is opened. */
export function withArguments(...more) {
  ARGUMENTS.push(...more);
}

/**
 * Opens the app in a browser context of its own (empty storage) and watches
 * it. When the test ends it fails if the page logged an error, threw one, or
 * asked for anything from another origin.
 *
 * `hash` is a route such as "#/machine"; `url` is where the app is, unless it
 * is the usual place; `before(page)` readies the page ahead of the first
 * request; `ready: false` doesn't wait for the app to take the shell's place;
 * `mayLog` is what errors may be logged and thrown all the same; all else goes to Playwright's newContext.
 */
export async function openApp(t, options = {}) {
  const { url = APP_URL, hash = "", before, ready = true, mayLog, ...contextOptions } = options;
  browser ??= launch();
  const usual = { viewport: VIEWPORTS.desktop, offline: FROM_DISK };
  const context = await (await browser).newContext({ ...usual, ...contextOptions });
  context.setDefaultTimeout(PATIENCE_MS);
  const page = await context.newPage();
  const faults = watch(page, url);
  t.after(async () => {
    await context.close();
    const unwanted = faults.filter((fault) => !mayLog?.test(fault));
    assert.deepEqual(unwanted, [], "the page has to stay free of faults");
  });
  await before?.(page);
  await page.goto(url + hash);
  if (ready) {
    await page.locator("#shell").waitFor({ state: "detached" });
  }
  return page;
}

/**
 * Fails when axe finds a breach of WCAG 2.2 A or AA on the page as it is, but for
 * what lies half under the bar just now: that comes out by scrolling.
 */
export async function axe(page) {
  const bar = (position) =>
    page.evaluate((position) => document.querySelector(".dock")?.style.setProperty("position", position), position);
  await bar("static");
  // No frames, so no need for a second page to gather their results; and what
  // passes is not described, which takes longer than finding it.
  const builder = new AxeBuilder({ page }).setLegacyMode().options({ resultTypes: ["violations"] });
  const { violations } = await builder.withTags(AXE_TAGS).analyze();
  await bar("");
  const found = violations.map(({ id, help, nodes }) => ({
    rule: `${id}: ${help}`,
    places: nodes.length,
    first: nodes.slice(0, 3).map(({ target, failureSummary }) => `${target}: ${failureSummary}`),
  }));
  assert.deepEqual(found, [], "accessibility");
}

/** Takes a picture of the whole page at each of the three sizes, for people to look at. */
export async function screenshots(page, name) {
  const folder = process.env.SCREENSHOTS;
  if (!folder) return;
  await mkdir(folder, { recursive: true });
  const before = page.viewportSize();
  for (const [size, viewport] of Object.entries(VIEWPORTS)) {
    await page.setViewportSize(viewport);
    await page.screenshot({ path: join(folder, `${name}-${size}.png`), fullPage: true });
  }
  await page.setViewportSize(before);
}

function launch() {
  const root = process.getuid?.() === 0;
  return chromium.launch({
    executablePath: needed("CHROMIUM"),
    headless: true,
    // Chromium refuses its sandbox to root.
    chromiumSandbox: !root,
    args: ARGUMENTS,
  });
}

/** Collects what must not happen on a page, as it happens. */
function watch(page, home) {
  const { origin } = new URL(home);
  const faults = [];
  page.on("console", (message) => {
    if (message.type() === "error") faults.push(`console: ${message.text()}`);
  });
  page.on("pageerror", (error) => faults.push(`error: ${error}`));
  page.context().on("request", (request) => {
    const url = new URL(request.url());
    const own = FROM_DISK ? url.href.startsWith(home) : url.origin === origin;
    const local = own || ["data:", "blob:"].includes(url.protocol);
    if (!local) faults.push(`request to another origin: ${url}`);
  });
  page.on("response", (response) => {
    if (response.status() >= 400) faults.push(`${response.status()} for ${response.url()}`);
  });
  return faults;
}

/** What `cargo verify` has set under this name. */
export function needed(name) {
  const value = process.env[name];
  assert.ok(value, `${name} is not set; run the tests with \`cargo verify\` or \`cargo task browser-tests\`.`);
  return value;
}
