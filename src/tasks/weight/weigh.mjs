// What the built app weighs: everything that is loaded at its start, each file
// compressed by itself as a server would, and the one file. Written in
// JavaScript for Node's gzip.
//
//   node weigh.mjs FOLDER START ONE_FILE   budgets in kB of 1000 bytes, compressed

import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

const [folder, ...budgets] = process.argv.slice(2);
const [start, oneFile] = budgets.map((kilobytes) => 1000 * Number(kilobytes));

function weight(name) {
  const content = readFileSync(join(folder, name));
  return { name, raw: content.length, packed: gzipSync(content, { level: 9 }).length };
}

/** The files a page asks for when it is opened. */
function askedFor(page) {
  const elements = page.match(/<(?:link|script)\b[^>]*>/g) ?? [];
  return elements
    // Fetched when the page is put on a home screen.
    .filter((element) => !element.includes('rel="apple-touch-icon"'))
    .map((element) => element.match(/\b(?:href|src)="([^"]+)"/)?.[1])
    .filter((address) => address !== undefined)
    .map((address) => address.replace(/^\.\//, ""));
}

const page = readFileSync(join(folder, "index.html")).toString();
const names = ["index.html", ...askedFor(page), "service-worker.js"];
const files = names.map(weight).toSorted((one, other) => other.packed - one.packed);
const sum = (what) => files.reduce((total, file) => total + file[what], 0);
const all = { name: "all that is loaded at the start", raw: sum("raw"), packed: sum("packed") };
const alone = weight("spindlewise.html");

const kilobytes = (bytes) => (bytes / 1000).toFixed(1).padStart(9);
console.log("   kB raw  kB gzip");
for (const { name, raw, packed } of [...files, all, alone]) console.log(`${kilobytes(raw)}${kilobytes(packed)}  ${name}`);

for (const [{ name, packed }, budget] of [[all, start], [alone, oneFile]]) {
  // A budget that is no number is none.
  if (packed <= budget) continue;
  console.error(`${name}: ${(packed / 1000).toFixed(1)} kB compressed, and ${budget / 1000} kB are allowed.`);
  process.exitCode = 1;
}
