// Long work is done in a worker, and on the page where there is none: the
// answer is the same.

import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { assess, sameAnswer } from "./assessed.mjs";
import { barText, go, loadDemo, settled, type } from "./steps.mjs";
import { openApp, TOGETHER } from "./support.mjs";

/** Browsers that make no worker, or one that fails sooner or later. */
const WITHOUT = {
  "that makes no workers": () => {
    window.Worker = class {
      constructor() {
        throw new DOMException("refused", "SecurityError");
      }
    };
  },
  "whose workers can't read their script": () => {
    const Real = Worker;
    window.Worker = class extends Real {
      constructor() {
        super(URL.createObjectURL(new Blob(["no script at all"])));
      }
    };
  },
  "whose worker fails in the middle of it": () => {
    const tell = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (message) {
      // Garbled bytes in place of a job make the program in there fail.
      tell.call(this, message instanceof Uint8Array ? new Uint8Array(3).fill(255) : message);
    };
  },
};

/** Fails when the page shows another answer to the demo than the native program. */
async function demoIsRight(page) {
  await loadDemo(page);
  await go(page, "answer");
  await sameAnswer(page, JSON.parse(await assess("-", await assess("--example"))));
}

/** The number of workers made on a page and still there. */
const workers = (page) => page.workers().length;

describe("work in the background", TOGETHER, () => {
  test("answers come from two workers, which wait for the next", async (t) => {
    const page = await openApp(t);
    await demoIsRight(page);
    const first = page.workers();
    assert.equal(first.length, 2, "one for the first answer, one for that of all machines");
    await go(page, "work");
    const before = await barText(page);
    await type(page, "Depth of cut", "3 mm");
    await settled(page);
    assert.notEqual(await barText(page), before);
    // A change that comes while all machines are reckoned with ends the worker at
    // it; the one for first answers goes on.
    const then = page.workers();
    assert.ok(then.length <= 2, `${then.length} workers`);
    assert.ok(then.some((worker) => first.includes(worker)), "a worker is kept");
  });

  test("of changes that follow one another fast, the last is answered", async (t) => {
    const page = await openApp(t);
    await loadDemo(page);
    await go(page, "work");
    for (const depth of ["3 mm", "2 mm", "1 mm", "0.4 mm", "0.3 mm"]) {
      await type(page, "Depth of cut", depth);
      // About as long as it takes for an answer to be begun.
      await page.waitForTimeout(150);
    }
    const said = await barText(page);
    await page.reload();
    assert.equal(await barText(page), said);
    assert.ok(workers(page) <= 2, `${workers(page)} workers`);
  });

  for (const [name, hinder] of Object.entries(WITHOUT)) {
    test(`in a browser ${name} the answer is the same`, async (t) => {
      const page = await openApp(t, { before: (page) => page.addInitScript(hinder), mayLog: /panicked|unreachable/ });
      await demoIsRight(page);
      assert.equal(workers(page), 0);
    });
  }
});
