// The way of a machinist from the trouble to the answer, in units as they come.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { assess, sameAnswer } from "./assessed.mjs";
import { barText, box, echoes, entries, exportOpen, go, next, pick, saved, settled, type } from "./steps.mjs";
import { openApp } from "./support.mjs";

/** What is asked on each page, and what this machinist picks and types. */
const ANSWERS = {
  trouble: {
    picks: [["What goes wrong?", "It chatters"], ["What goes wrong?", "Rough side walls"]],
    numbers: { "Finish you want": ["want.finish", "63 µin"] },
  },
  machine: {
    picks: [
      ["What kind of machine is it?", "Benchtop drill press turned mill"],
      ["How are the bearings, as far as you can tell?", "Worn"],
      ["What does the quill do while you mill?", "Locked, drawn in"],
      ["How are the slides adjusted?", "Loose"],
    ],
    numbers: { "How far the quill is out": ["machine.quill_extension", "1-1/4 in"] },
  },
  readings: {
    numbers: {
      "Smallest division of your indicator": ["readings.division", ".0005 in"],
      "Pull at the cutter tip": ["readings.tip.force", "22 lbf"],
      "Movement at the tip, pulled left to right": ["readings.tip.x", "5 thou"],
      "Movement at the tip, pulled towards you": ["readings.tip.y", "0,18 mm"],
    },
  },
  work: {
    picks: [
      ["What are you cutting?", "Mild steel (1018, S235)"],
      ["What kind of cutter?", "End mill"],
      ["What holds the cutter?", "Collet chuck"],
      ["What kind of cut?", "Side"],
    ],
    numbers: {
      "Cutter diameter": ["cutter.diameter", "3/8 in"],
      "Number of teeth": ["cutter.flutes", "4"],
      "How far the cutter sticks out": ["cutter.stick_out", "1-3/4 in"],
      "Depth of cut, along the spindle": ["cut.axial_depth", "12 thou"],
      "Width of cut, across the feed": ["cut.radial_width", "0,4 mm"],
      "Feed per tooth": ["cut.feed_per_tooth", "20 µm"],
      "Spindle speed": ["cut.speed", "1100 rpm"],
    },
  },
  holding: {
    picks: [
      ["How is the part held?", "In a vise, nothing else"],
      ["Which way does the table feed?", "Y: towards and away from you"],
    ],
    numbers: { "Height of the cut above the grip": ["holding.height", ".5 in"] },
  },
  means: {
    picks: [["What have you got, or can borrow?", "A fresh, sharp cutter"]],
    numbers: { "Money you would spend": ["means.money", "150"], "Hours you would spend": ["means.hours", "12 h"] },
  },
};

test("the way from the trouble to the answer", async (t) => {
  const page = await openApp(t);
  const said = [await barText(page)];
  assert.match(said[0], /\d+ of 100 machines like yours (then )?reach your goal/, "there is an answer before anything is entered");

  for (const [slug, { picks = [], numbers = {} }] of Object.entries(ANSWERS)) {
    if (slug !== "trouble") await next(page, slug);
    for (const [question, answer] of picks) await pick(page, question, answer);
    if (slug === "machine") await page.getByText("If you know the details").press("Enter");
    for (const [label, [, text]] of Object.entries(numbers)) {
      await type(page, label, text);
      assert.equal(await box(page, label).inputValue(), text, label);
    }
    assert.equal(await page.locator("[aria-invalid=true]").count(), 0, `${slug}: all of it can be used`);
    said.push(await barText(page));
    if (slug === "work") {
      await t.test("a reload in the middle loses nothing", () => reload(page));
      await t.test("other units change what is shown, not what is typed", () => otherUnits(page));
      await t.test("an entry that can't be used is kept, and what is wrong with it is said", () => wrongEntries(page));
    }
  }
  assert.notEqual(said[1], said[0], "the answer moves with the first page");
  assert.ok(new Set(said).size >= 5, `the answer moves on the way: ${said.join(" | ")}`);

  await next(page, "answer");
  await settled(page);
  assert.match(await page.locator("#verdict").innerText(), /\w.*\.$/);
  await t.test("a figure says where it comes from", () => derivation(page));
  await t.test("the exported file gives the same answer to the native program", () => nativeAnswer(page));
});

async function reload(page) {
  const [address, before] = [page.url(), await entries(page)];
  await page.reload();
  await page.getByRole("heading", { level: 1, name: "The work" }).waitFor();
  assert.equal(page.url(), address);
  assert.deepEqual(await entries(page), before);
}

async function otherUnits(page) {
  const units = (name) => page.getByRole("group", { name: "Units" }).getByRole("radio", { name }).press("Space");
  // A bare number that is still being typed means the unit on its label.
  const length = box(page, "Length of cut in one part");
  await length.pressSequentially("240");
  const depth = page.locator("#cut-axial_depth-echo");
  assert.match(await depth.innerText(), /^= 0\.305\smm$/);

  await units("Inch");
  const [typed, inch] = [await entries(page), await echoes(page)];
  assert.equal(await length.inputValue(), "240 mm");
  assert.match(inch["cut-length-echo"], /^= 9\.449\sin$/);
  assert.match(inch["cut-radial_width-echo"], /^= 15\.7\sthou$/);
  const hint = page.locator("#cut-feed_per_tooth-hint");
  assert.match(await hint.innerText(), /thou/);

  await units("Metric");
  assert.deepEqual(await entries(page), typed, "what is typed stays");
  assert.match(await depth.innerText(), /^= 0\.305\smm$/);
  assert.match(await hint.innerText(), /^20 to 50 µm/);
  const metric = await echoes(page);
  for (const id of ["cutter-diameter-echo", "cutter-stick_out-echo", "cut-axial_depth-echo"]) {
    assert.notEqual(metric[id], inch[id], id);
  }
}

async function wrongEntries(page) {
  const label = "Cutter diameter";
  const diameter = box(page, label);
  const good = await diameter.inputValue();
  for (const [text, message] of [["abc", /not a number/], ["3 kg", /weight|mass/], ["9999 mm", /between/]]) {
    await type(page, label, text);
    await page.locator("#cutter-diameter[aria-invalid=true]").waitFor();
    assert.match(await description(diameter), message);
    assert.equal(await diameter.inputValue(), text);
    await nextTo(diameter, page.locator("#cutter-diameter-error"));
  }
  await page.reload();
  assert.equal(await diameter.inputValue(), "9999 mm", "it outlasts a reload");
  assert.match(await description(diameter), /between/);

  await go(page, "answer");
  const unusable = page.locator(".unusable");
  await unusable.getByText("One entry can’t be used").press("Enter");
  const wrong = unusable.getByRole("listitem");
  assert.match(await wrong.innerText(), /^Cutter diameter can’t be 9999\smm: (?!.*Cutter diameter)/);
  await wrong.getByRole("link", { name: label }).click();
  await page.locator("#cutter-diameter:focus").waitFor();
  await type(page, label, good);
  await page.locator("#cutter-diameter:not([aria-invalid])").waitFor();
}

/** What a screen reader says about a box after its name. */
function description(input) {
  return input.evaluate((input) =>
    input.getAttribute("aria-describedby").split(" ").map((id) => document.getElementById(id).innerText).join(" "),
  );
}

async function nextTo(input, message) {
  const [above, below] = [await input.boundingBox(), await message.boundingBox()];
  const gap = below.y - (above.y + above.height);
  assert.ok(gap >= 0 && gap < 48, `the message is ${gap} px below its box`);
}

async function derivation(page) {
  await page.getByText("Why, and what perfect bearings would bring").press("Enter");
  const figure = page.getByRole("row", { name: "Roughness Ra of the wall" }).getByRole("button").last();
  await figure.press("Enter");
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("heading", { name: "Formula" }).waitFor();
  await dialog.getByRole("heading", { name: "Source" }).waitFor();
  await page.keyboard.press("Escape");
  await dialog.waitFor({ state: "hidden" });
  assert.ok(await figure.evaluate((figure) => figure === document.activeElement), "focus goes back to the figure");
}

async function nativeAnswer(page) {
  const { path, name } = await exportOpen(page);
  assert.match(name, /\.spindlewise\.json$/);
  const typed = Object.values(ANSWERS).flatMap(({ numbers }) => Object.values(numbers));
  const exported = JSON.parse(readFileSync(path, "utf8")).entries;
  assert.deepEqual(exported, { ...Object.fromEntries(typed), "cut.length": "240 mm" });
  await go(page, "answer");
  await sameAnswer(page, JSON.parse(await assess(path)));
  await saved(page);
}
