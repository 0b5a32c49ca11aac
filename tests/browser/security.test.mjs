// What the page's content security policy has to keep out, tried from within
// the page: where markup or script got in all the same, it would do nothing.

import assert from "node:assert/strict";
import { test } from "node:test";
import { openApp } from "./support.mjs";

/** What the browser says when it refuses something; of some requests it tells first. */
const REFUSED = /Content Security Policy|Refused to|violates the following|request to another origin: https:\/\/elsewhere\.example/;

/** Each tries something, and by which directive it is refused. */
const ATTEMPTS = {
  "script in the page": [
    "script-src-elem",
    () => document.body.append(Object.assign(document.createElement("script"), { textContent: "window.ran = true" })),
  ],
  "script in an attribute": [
    "script-src-attr",
    () => {
      document.body.insertAdjacentHTML("beforeend", '<p id="bait" onclick="window.ran = true">bait</p>');
      document.getElementById("bait").click();
    },
  ],
  "script from text": ["script-src", () => setTimeout("window.ran = true")],
  "script from elsewhere": [
    "script-src-elem",
    () => document.body.append(Object.assign(document.createElement("script"), { src: "https://elsewhere.example/x.js" })),
  ],
  "style in the page": [
    "style-src-elem",
    () => document.body.append(Object.assign(document.createElement("style"), { textContent: "h1 { display: none }" })),
  ],
  "style in an attribute": [
    "style-src-attr",
    () => document.body.insertAdjacentHTML("beforeend", '<p style="position: fixed">bait</p>'),
  ],
  "a picture from elsewhere": ["img-src", () => (new Image().src = "https://elsewhere.example/x.png")],
  "a question elsewhere": ["connect-src", () => void fetch("https://elsewhere.example/").catch(() => {})],
  "a page within the page": [
    "frame-src",
    () => document.body.append(Object.assign(document.createElement("iframe"), { src: "https://elsewhere.example/" })),
  ],
  "a form that sends something off": [
    "form-action",
    () => {
      const form = Object.assign(document.createElement("form"), { action: "https://elsewhere.example/", method: "post" });
      document.body.append(form);
      form.submit();
    },
  ],
  "another base for addresses": [
    "base-uri",
    () => document.head.append(Object.assign(document.createElement("base"), { href: "https://elsewhere.example/" })),
  ],
};

test("the content security policy lets nothing in", async (t) => {
  const page = await openApp(t, { mayLog: REFUSED });
  for (const [name, [directive, attempt]] of Object.entries(ATTEMPTS)) {
    await page.evaluate(() => {
      const refusal = (over) => addEventListener("securitypolicyviolation", over, { once: true });
      window.refused = Promise.race([
        new Promise((over) => refusal((event) => over(event.effectiveDirective))),
        // Longer than it takes on a slow machine that is busy.
        new Promise((over) => setTimeout(over, 60_000, "nothing")),
      ]);
    });
    await page.evaluate(attempt);
    assert.equal(await page.evaluate(() => window.refused), directive, name);
    assert.equal(await page.evaluate(() => window.ran), undefined, name);
  }
});
