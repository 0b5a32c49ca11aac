// The tap test: a sound file or the microphone becomes a reading.

import assert from "node:assert/strict";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, describe, test } from "node:test";
import { barText, box, entries, go, loadDemo, saved, settled, type, unfold } from "./steps.mjs";
import { axe, openApp, screenshots, TOGETHER, VIEWPORTS, withArguments } from "./support.mjs";

const RATE = 48_000;

/** What rings: pitch in Hz, damping ratio, loudness. */
const FRAME = { pitch: 112, damping: 0.03, loudness: 0.5 };
const SPINDLE = { pitch: 431, damping: 0.02, loudness: 0.25 };

/** A WAV file of taps a second apart, after a second of next to nothing. */
function wav({ modes, taps = 3, noise = 0.001, limit = 1 }) {
  const samples = new Float64Array((taps + 1) * RATE);
  let seed = 1;
  const random = () => (seed = (seed * 48_271) % 2_147_483_647) / 2_147_483_647;
  for (const i of samples.keys()) {
    const since = i % RATE;
    const rings = i < RATE ? [] : modes;
    samples[i] = noise * (random() + random() - 1);
    for (const { pitch, damping, loudness } of rings) {
      const turn = (2 * Math.PI * pitch * since) / RATE;
      const decay = damping / Math.sqrt(1 - damping ** 2);
      samples[i] += loudness * Math.exp(-decay * turn) * Math.cos(turn);
    }
  }
  const file = Buffer.alloc(44 + 2 * samples.length);
  file.write("RIFF", 0);
  file.writeUInt32LE(file.length - 8, 4);
  file.write("WAVEfmt ", 8);
  file.writeUInt32LE(16, 16);
  file.writeUInt16LE(1, 20);
  file.writeUInt16LE(1, 22);
  file.writeUInt32LE(RATE, 24);
  file.writeUInt32LE(2 * RATE, 28);
  file.writeUInt16LE(2, 32);
  file.writeUInt16LE(16, 34);
  file.write("data", 36);
  file.writeUInt32LE(2 * samples.length, 40);
  samples.forEach((sample, i) => {
    const cut = Math.max(-limit, Math.min(limit, sample));
    file.writeInt16LE(Math.round(32_767 * cut), 44 + 2 * i);
  });
  return file;
}

// What the browser takes for a microphone plays this over and over.
const folder = mkdtempSync(join(tmpdir(), "spindlewise-tap-"));
after(() => rmSync(folder, { recursive: true }));
const played = join(folder, "taps.wav");
writeFileSync(played, wav({ modes: [FRAME] }));
withArguments("--use-fake-device-for-media-stream", `--use-file-for-fake-audio-capture=${played}`);

/** Margins of a reading that is worth something, as shares of it. */
const PITCH = [0.02, 0.04];
const DECAY = [0.15, 0.35];

const button = (page, name) => page.getByRole("button", { name, exact: true });
const tap = (page) => page.locator(".tap");

function openFile(page, name, buffer) {
  return page.getByLabel("Open a sound file").setInputFiles({ name, mimeType: "audio/wav", buffer });
}

/** Picks one of the cards under the sound. */
const choose = (page, name) => tap(page).getByRole("radio", { name }).press("Space");

/** The time in which a mode dies to a tenth, ms. */
const tenth = ({ pitch, damping }) => (1e3 * Math.LN10 * Math.sqrt(1 - damping ** 2)) / (2 * Math.PI * pitch * damping);

/** The value and its margin in a box. */
async function margin(page, label) {
  const text = await box(page, label).inputValue();
  const [, value, plusMinus, unit] = text.match(/^([\d.]+) ± ([\d.]+) (Hz|ms)$/) ?? assert.fail(text);
  return { value: Number(value), plusMinus: Number(plusMinus), unit };
}

/** It holds the truth, and no closer than taps repeat. */
async function assertHolds(page, label, truth, [narrowest, widest]) {
  const { value, plusMinus } = await margin(page, label);
  assert.ok(Math.abs(value - truth) <= plusMinus, `${label}: ${value} ± ${plusMinus}, in truth ${truth}`);
  assert.ok(plusMinus < widest * truth, `${label}: ± ${plusMinus} says little`);
  assert.ok(plusMinus > 0.95 * narrowest * truth, `${label}: ± ${plusMinus} promises too much`);
}

/** Keeps every stream handed out, so that it can be seen to end. */
function keepStreams(page) {
  return page.addInitScript(() => {
    const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
    window.streams = [];
    navigator.mediaDevices.getUserMedia = async (wanted) => {
      const stream = await ask(wanted);
      window.streams.push({ stream, wanted });
      return stream;
    };
  });
}

const ended = (page) =>
  page.waitForFunction(() =>
    window.streams.length > 0
    && window.streams.every(({ stream }) => stream.getTracks().every((track) => track.readyState === "ended")));

/** Goes to the readings and unfolds this one. */
async function toTheTapTest(page) {
  await go(page, "readings");
  await unfold(tap(page));
}

describe("the tap test", TOGETHER, () => {
  test("a sound file becomes a reading, and the answer follows", async (t) => {
    const page = await openApp(t);
    await loadDemo(page);
    const before = await barText(page);
    await toTheTapTest(page);
    await openFile(page, "taps.wav", wav({ modes: [FRAME, SPINDLE] }));
    await tap(page).getByText("3 taps were heard in taps.wav.").waitFor();
    assert.equal(await tap(page).getByRole("radio", { name: "Hz" }).count(), 2, "both pitches are offered");

    await button(page, "Use this reading").click();
    await tap(page).getByText("Say first in which direction you tapped.").waitFor();
    assert.equal(await box(page, "Ring of the tool when tapped towards you").inputValue(), "");

    await choose(page, "Towards you");
    await button(page, "Use this reading").click();
    await tap(page).getByText(/Written down for “Towards you”: 11[12]\.\d+ ± /).waitFor();
    await assertHolds(page, "Ring of the tool when tapped towards you", FRAME.pitch, PITCH);
    await assertHolds(page, "Time in which that ring dies to a tenth, towards you", tenth(FRAME), DECAY);
    assert.equal(await box(page, "Ring of the tool when tapped left to right").inputValue(), "");

    await choose(page, /^43[01]/);
    await choose(page, "Left to right");
    await button(page, "Use this reading").click();
    await tap(page).getByText(/Written down for “Left to right”: 4/).waitFor();
    await assertHolds(page, "Ring of the tool when tapped left to right", SPINDLE.pitch, PITCH);

    assert.equal(await page.locator("main [aria-invalid=true]").count(), 0, "all of it can be used");
    assert.notEqual(await barText(page), before, "the answer moves");
    await saved(page);
    const written = await entries(page);
    await page.reload();
    await page.getByRole("heading", { level: 1, name: "Readings" }).waitFor();
    assert.equal((await entries(page))["readings-tap-y"], written["readings-tap-y"], "it is kept, margin and all");

    await go(page, "answer");
    await settled(page);
    await page.getByRole("heading", { name: "What your readings said" }).click();
    const checked = page.locator(".checked");
    await checked.filter({ hasText: "Ring when tapped towards you" }).getByText(/^112 Hz$/).waitFor();
    await checked.filter({ hasText: "Time the ring takes to die, towards you" }).getByText(/^10\d ms$/).waitFor();
  });

  test("the microphone is heard, and let go", async (t) => {
    const page = await openApp(t, { permissions: ["microphone"], before: keepStreams });
    await toTheTapTest(page);
    assert.deepEqual(await page.evaluate(() => window.streams), [], "nothing is asked for before it is wanted");
    await button(page, "Record a tap").click();
    await tap(page).getByText("Listening.").waitFor();
    await tap(page).getByRole("meter", { name: "Loudness" }).waitFor();
    // Or more: a second is not shown where the page is busy as it passes.
    await tap(page).getByText(/^([5-9]|1[0-2]) s of 12$/).waitFor();
    await button(page, "Stop and work it out").click();
    await tap(page).getByText(/taps? (was|were) heard in the recording/).waitFor();
    await ended(page);
    const wanted = await page.evaluate(() => window.streams.map(({ wanted }) => wanted.audio));
    assert.deepEqual(wanted, [{ echoCancellation: false, noiseSuppression: false, autoGainControl: false }]);

    await choose(page, "Left to right");
    await button(page, "Use this reading").click();
    await assertHolds(page, "Ring of the tool when tapped left to right", FRAME.pitch, PITCH);
    await assertHolds(page, "Time in which that ring dies to a tenth, left to right", tenth(FRAME), DECAY);

    // Once more, only to be looked at: what is looked at holds up what is heard.
    await button(page, "Record a tap").click();
    await tap(page).getByText("Listening.").waitFor();
    await axe(page);
  });

  test("it stops by itself, and with the page", async (t) => {
    const page = await openApp(t, { permissions: ["microphone"], before: keepStreams });
    await toTheTapTest(page);
    await button(page, "Record a tap").click();
    await tap(page).getByText("Listening.").waitFor();
    await go(page, "work");
    await ended(page);
    await toTheTapTest(page);
    await button(page, "Record a tap").click();
    await tap(page).getByText(/taps were heard in the recording/).waitFor();
    await ended(page);
  });

  test("without a microphone all else goes on", async (t) => {
    const refusals = [
      ["no leave", {}, /not allowed/],
      ["none plugged in", { before: (page) => failWith(page, "NotFoundError") }, /No microphone was found/],
      ["held by another", { before: (page) => failWith(page, "NotReadableError") }, /could not be started/],
      ["none in this browser", { before: withoutDevices }, /offers no microphone/],
    ];
    for (const [name, options, message] of refusals) {
      await t.test(name, async (t) => {
        const page = await openApp(t, options);
        await toTheTapTest(page);
        await type(page, "Ring of the tool when tapped left to right", "180 ± 5");
        await button(page, "Record a tap").click();
        await tap(page).getByText(message).waitFor();
        assert.equal(await box(page, "Ring of the tool when tapped left to right").inputValue(), "180 Hz ± 5");
        await openFile(page, "taps.wav", wav({ modes: [FRAME] }));
        await tap(page).getByText("3 taps were heard").waitFor();
      });
    }
  });

  test("a file with nothing in it says why", async (t) => {
    const page = await openApp(t);
    await toTheTapTest(page);
    await type(page, "Time in which that ring dies to a tenth, left to right", "80 ms");
    const files = [
      ["letter.wav", Buffer.from("Dear Sir"), /letter\.wav was not used\. It is not a WAV file/],
      ["half.wav", wav({ modes: [FRAME] }).subarray(0, 30), /breaks off/],
      ["silence.wav", wav({ modes: [], noise: 0 }), /nothing but silence/],
      ["noise.wav", wav({ modes: [] }), /No tap was found/],
      ["loud.wav", wav({ modes: [FRAME], limit: 0.2 }), /cut off at its loudest/],
      ["short.wav", wav({ modes: [FRAME] }).subarray(0, 4000), /0\.04 s long/],
      ["hum.wav", wav({ modes: [{ pitch: 50, damping: 0, loudness: 0.3 }] }), /Mains hum \(50 Hz/],
    ];
    for (const [name, buffer, message] of files) {
      await openFile(page, name, buffer);
      await tap(page).getByText(message).waitFor();
    }
    assert.equal(await box(page, "Time in which that ring dies to a tenth, left to right").inputValue(), "80 ms");
  });

  for (const scheme of ["light", "dark"]) {
    test(`what was heard is accessible in ${scheme} colours`, async (t) => {
      const page = await openApp(t, { colorScheme: scheme });
      await toTheTapTest(page);
      await openFile(page, "taps.wav", wav({ modes: [FRAME, SPINDLE] }));
      await button(page, "Use this reading").waitFor();
      await tap(page).locator("details").evaluateAll((details) => details.forEach((one) => (one.open = true)));
      for (const size of ["phone", "desktop"]) {
        await page.setViewportSize(VIEWPORTS[size]);
        await axe(page);
      }
      await page.setViewportSize({ width: 320, height: 640 });
      const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(over <= 0, `${over} px too wide`);
      const heights = await tap(page).locator(".primary").evaluateAll((all) => all.map((one) => one.offsetHeight));
      assert.ok(heights.every((height) => height >= 64), `${heights}`);
      await screenshots(page, `tap-${scheme}`);
    });
  }
});

function failWith(page, name) {
  return page.addInitScript((name) => {
    navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException("", name));
  }, name);
}

function withoutDevices(page) {
  return page.addInitScript(() => Object.defineProperty(navigator, "mediaDevices", { value: undefined }));
}
