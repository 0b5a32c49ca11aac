// What a person does in the app, said in the words on its pages.

import assert from "node:assert/strict";

/** The pages: their slug in the address and their heading, in the order of the wizard. */
export const WIZARD = [
  ["trouble", "What brings you here?"],
  ["machine", "The machine"],
  ["readings", "Readings"],
  ["work", "The work"],
  ["holding", "Holding and direction"],
  ["means", "Means, money and hours"],
  ["answer", "The answer"],
  ["weighing", "Weighing it"],
  ["in-the-cut", "In the cut"],
  ["test-cuts", "Test cuts"],
];

export const PAGES = [...WIZARD, ["scenarios", "Scenarios"]];

/** Waits until the page under this slug has taken over, and the keyboard with it:
 *  it goes to the heading with the next frame, away from what was focused before that. */
export async function arrived(page, slug) {
  const [, heading] = PAGES.find(([known]) => known === slug);
  await page.getByRole("heading", { level: 1, name: heading, exact: true }).waitFor();
  await page.evaluate(() => new Promise(requestAnimationFrame));
}

/** Goes to a page by its address, in the document that is there. */
export async function go(page, slug) {
  await page.evaluate((hash) => (location.hash = hash), `#/${slug}`);
  await arrived(page, slug);
}

/** Goes on by the link at the foot of a page. */
export async function next(page, slug) {
  await page.getByRole("link", { name: /^Next:/ }).click();
  await arrived(page, slug);
}

/** What is there before the app is, and while it is at work. */
const BUSY = "#shell, .verdict-bar-busy, .answer[aria-busy=true], .waiting, .exact progress, .study-bar";

/** Waits until the answer, and what is drawn of it, belongs to what is entered. */
export async function settled(page) {
  await page.locator(BUSY).first().waitFor({ state: "detached" });
}

/** Waits until all that is entered is stored. */
export async function saved(page) {
  await page.locator("#save-status").getByText("Saved", { exact: true }).waitFor();
}

/** What the bar says that every page but the answer carries. */
export async function barText(page) {
  await settled(page);
  return page.getByRole("complementary", { name: "The answer so far" }).getByRole("status").innerText();
}

/** One answer card of a question. */
export function card(page, question, answer) {
  const group = page.getByRole("group", { name: question });
  const input = { name: answer, exact: true };
  return group.getByRole("radio", input).or(group.getByRole("checkbox", input));
}

/** Picks an answer with the space bar. */
export async function pick(page, question, answer) {
  const input = card(page, question, answer);
  await input.focus();
  await page.keyboard.press("Space");
  await input.and(page.locator(":checked")).waitFor({ state: "attached" });
}

/** The box of a number, folded away or not. */
export const box = (page, label) => page.getByRole("textbox", { name: label, includeHidden: true });

/** Unfolds all that something is folded away in. */
export function unfold(target) {
  return target.evaluate((element) => {
    for (let fold = element.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  });
}

/** Types a number in place of what is there and leaves the box. */
export async function type(page, label, text) {
  const input = box(page, label);
  await unfold(input);
  await input.focus();
  await input.selectText();
  await page.keyboard.press("Delete");
  await page.keyboard.type(text);
  await page.keyboard.press("Tab");
}

/** All that is typed or ticked on the page, by the id of its box. */
export function entries(page) {
  return page.locator("main input:not([type=file])").evaluateAll((inputs) =>
    Object.fromEntries(inputs.map((input) => [input.id, input.type === "text" ? input.value : input.checked])),
  );
}

/** How the numbers on the page are read, by the id of the line that says so. */
export function echoes(page) {
  const lines = page.locator(".echo");
  return lines.evaluateAll((lines) => Object.fromEntries(lines.map((line) => [line.id, line.innerText])));
}

/** Opens the demo in place of what is open. */
export async function loadDemo(page) {
  await go(page, "scenarios");
  await page.getByRole("button", { name: "Load the demo" }).click();
  await arrived(page, "trouble");
  await settled(page);
}

/** Saves what `press` makes the page hand out; says under which name and where. */
export async function download(page, press) {
  const [file] = await Promise.all([page.waitForEvent("download"), press()]);
  return { name: file.suggestedFilename(), path: await file.path() };
}

/** Exports the open scenario. */
export async function exportOpen(page) {
  await go(page, "scenarios");
  return download(page, () => page.getByRole("button", { name: "Export the open one to a file" }).click());
}

/** From a phone to a desk: the header is no higher than so many CSS pixels, and the answer's sentence breaks within no word. */
export async function headFits(page, highest) {
  await go(page, "answer");
  await settled(page);
  for (const width of [320, 390, 768, 1280]) {
    await page.setViewportSize({ width, height: 844 });
    const { header, broken } = await page.evaluate(measureHead);
    assert.ok(header <= highest, `${width} px: the header is ${header} px high`);
    assert.deepEqual(broken, [], `${width} px`);
    for (const units of ["metric", "inch"]) {
      const box = await page.locator(`label[for=units-${units}]`).boundingBox();
      assert.ok(box.width >= 24 && box.height >= 48, `${width} px: ${units} is ${box.width} by ${box.height} px`);
    }
  }
}

/** Runs in the page: how high the header is, and which words of the answer's sentence, or of what else it could say to do first, have no line of their own. */
function measureHead() {
  const sentence = document.getElementById("verdict");
  const probe = sentence.cloneNode();
  probe.removeAttribute("id");
  sentence.after(probe);
  const titles = [...document.querySelectorAll(".remedy h3")].map((title) => title.textContent);
  const words = new Set(`${sentence.textContent} ${titles.join(" ")}`.split(/[\s-]+/));
  const broken = [...words].filter((word) => {
    probe.textContent = word;
    return probe.getBoundingClientRect().height > 1.5 * parseFloat(getComputedStyle(probe).lineHeight);
  });
  probe.remove();
  return { header: document.querySelector(".top").getBoundingClientRect().height, broken };
}
