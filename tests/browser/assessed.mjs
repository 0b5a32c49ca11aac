// The answer on the page against the one that the native program gives: the
// same engine, compiled for another machine with another mathematics library.

import assert from "node:assert/strict";
import { execFile } from "node:child_process";
import { promisify } from "node:util";
import { settled } from "./steps.mjs";
import { needed } from "./support.mjs";

/** Only the last digits may differ between the two machines. */
const RELATIVE = 1e-6;

/** Below this a figure is nothing: probabilities, and lengths in mm. */
const NOTHING = 1e-12;

const run = promisify(execFile);

/** What the native program prints. It is waited for without holding up the
 *  tests beside it, whose own waiting would be over when it is done. */
export async function assess(argument, input) {
  const running = run(needed("ASSESS"), [argument], { maxBuffer: 1e8 });
  if (input) running.child.stdin.end(input);
  return (await running).stdout;
}

/** Fails where a figure, a remedy or the sentence on the page is another. */
export async function sameAnswer(page, decision) {
  await settled(page);
  const shown = await shownAnswer(page);
  assert.equal(shown.sentence, `${decision.verdict.short}: ${decision.verdict.reason}`);
  sameFigures(shown.figures, figures(decision));
  sameRemedies(shown.remedies, decision.appraisals);
}

/** What the page carries for whoever reads it by program. */
export function shownAnswer(page) {
  return page.evaluate(() => {
    const all = (selector, read) => [...document.querySelectorAll(selector)].map((element) => read(element.dataset));
    const spread = ({ low, mid, high }) => ({ low, mid, high });
    return {
      sentence: document.getElementById("verdict").textContent,
      figures: Object.fromEntries([
        ...all("[data-figure]", (data) => [data.figure, spread(data)]),
        ...all("[data-share]", (data) => [`share.${data.share}`, spread(data)]),
      ]),
      remedies: all("[data-remedy]", (data) => ({ ...data })),
    };
  });
}

/** The figures of a decision under the names they have on the page. */
function figures({ now, depth_any_speed, ceiling, verdict, shares, draws, effective_draws, tail, unconverged }) {
  const predicted = Object.entries(now).map(([name, value]) => [`now.${name}`, value]);
  return {
    ...Object.fromEntries(predicted),
    ...Object.fromEntries(shares.map(({ part, normal }) => [`share.${part}`, normal])),
    depth_any_speed,
    "ceiling.share": ceiling.share,
    "verdict.count": verdict.of_hundred,
    draws,
    effective_draws,
    // Where no weights have a tail there is nothing to show.
    ...(tail === null ? {} : { tail }),
    unconverged,
  };
}

function sameFigures(shown, expected) {
  assert.deepEqual(Object.keys(shown).sort(), Object.keys(expected).sort(), "which figures are shown");
  for (const [name, figure] of Object.entries(expected)) {
    const spread = typeof figure === "number" ? { low: figure, mid: figure, high: figure } : figure;
    close(`${name}, middle`, shown[name].mid, spread.mid);
    // A bare count carries its middle only.
    if (shown[name].low !== undefined || typeof figure !== "number") {
      close(`${name}, low`, shown[name].low, spread.low);
      close(`${name}, high`, shown[name].high, spread.high);
    }
  }
}

function sameRemedies(shown, expected) {
  const order = (remedies) => remedies.map(({ remedy, standing, rank }) => `${rank} ${remedy}: ${standing}`);
  const ranked = expected.map((one, at) => ({ ...one, rank: at + 1 }));
  const inOrder = shown.toSorted((one, other) => one.rank - other.rank);
  assert.deepEqual(order(inOrder), order(ranked));
  inOrder.forEach(({ remedy, worth, reach }, at) => {
    close(`worth of ${remedy}`, worth, expected[at].expected_worth);
    close(`reach with ${remedy}`, reach, expected[at].prediction.reach);
  });
}

function close(what, shown, expected) {
  assert.match(shown ?? "", /\d/, `${what}: the page shows no number`);
  const off = Math.abs(Number(shown) - expected);
  assert.ok(off <= RELATIVE * Math.abs(expected) + NOTHING, `${what}: ${shown} on the page, ${expected} from assess`);
}
