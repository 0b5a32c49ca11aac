// Puts the whole app into one page that opens from disk. Written in JavaScript
// for what Node brings along: gzip and hashes.
//
//   node one_file.mjs FOLDER   reads FOLDER/index.html, writes FOLDER/spindlewise.html

import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

const [folder] = process.argv.slice(2);
const read = (name) => readFileSync(join(folder, name));

let page = read("index.html").toString();

/** Takes every match out of the page and hands it over. */
function takeOut(pattern) {
  const found = [...page.matchAll(pattern)];
  assert.ok(found.length > 0, `nothing in the page looks like ${pattern}`);
  page = page.replace(pattern, "");
  return found;
}

/** Text that does not end the element it stands in. */
const inside = (text) => text.replaceAll("</", "<\\/").replaceAll("<!--", "<\\!--");

const hash = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

const styles = takeOut(/<link rel="stylesheet" href="([^"]+)"[^>]*>\s*/g);
const style = styles.map(([, name]) => read(name)).join("\n");
assert.ok(!style.includes("</") && !/url\(/.test(style), "the style sheets stand by themselves");

const scripts = takeOut(/<script([^>]*) src="([^"]+)"[^>]*><\/script>\s*/g).map(([, attributes, name]) => ({
  attributes: attributes.replace(" defer", ""),
  text: inside(read(name).toString()),
}));
const [[, program]] = takeOut(/<link id="program"[^>]* href="([^"]+)"[^>]*>\s*/g);
const packed = gzipSync(read(program), { level: 9 }).toString("base64");
takeOut(/<link rel="manifest"[^>]*>\s*/g);
takeOut(/<link rel="apple-touch-icon"[^>]*>\s*/g);
const [[, icon]] = takeOut(/<link rel="icon" href="([^"]+)"[^>]*>\s*/g);

const policy = [
  "default-src 'none'",
  `script-src ${scripts.map(({ text }) => hash(text)).join(" ")} 'wasm-unsafe-eval'`,
  `style-src ${hash(style)}`,
  "img-src data: blob:",
  "worker-src blob:",
  "base-uri 'none'",
  "form-action 'none'",
];
const [before, after] = page.split(/(?<=http-equiv="Content-Security-Policy" content=")[^"]*/);
page = `${before}${policy.join("; ")}${after}`;

const head = `<link rel="icon" href="data:image/svg+xml;base64,${read(icon).toString("base64")}">\n<style>${style}</style>\n`;
// First the one that starts the others and speaks for them, also where the rest
// of the file was cut off.
const isPart = ({ attributes }) => attributes.includes('id="bindings"');
const script = ({ attributes, text }) => `<script${attributes}>${text}</script>`;
const body = [
  ...scripts.filter((it) => !isPart(it)).map(script),
  `<script id="program" type="application/gzip;base64">${packed}</script>`,
  ...scripts.filter(isPart).map(script),
].join("\n");
page = page.replace("</head>", () => `${head}</head>`).replace("</body>", () => `${body}\n</body>`);

const outside = page.replace(style, "").match(/<(?!svg)[a-z]+[^<>]* (?:src|href)="(?!data:)[^"]*"/i);
assert.equal(outside, null, "the page asks for nothing beside it");
writeFileSync(join(folder, "spindlewise.html"), page);
