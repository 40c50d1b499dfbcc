// Looks at documents in a browser, as README.md beside this file says:
//
//     PAGES=folder-of-html-and-pdf CHROMIUM=/usr/bin/chromium node --test
//
// Every page stands alone, is valid, fits a phone and a desktop, has no fault
// that axe-core finds, in light and in dark; every PDF has its pages numbered
// and of one size, and its words in it. With SHOTS=folder, the screens are kept
// as pictures to look at.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { after, before, test } from "node:test";
import axe from "axe-core";
import { HtmlValidate } from "html-validate";
import { chromium } from "playwright-core";

const folder = process.env.PAGES;
const shots = process.env.SHOTS;
const pages = readdirSync(folder).filter((name) => name.endsWith(".html")).sort();
const papers = readdirSync(folder).filter((name) => name.endsWith(".pdf")).sort();

const flags = [
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
];

let browser;
before(async () => {
  assert.ok(pages.length > 0 && papers.length > 0, `${folder} has no pages`);
  if (shots) mkdirSync(shots, { recursive: true });
  browser = await chromium.launch({ executablePath: process.env.CHROMIUM, args: flags });
});
after(() => browser?.close());

// axe-core looks at each layout and at each set of colors.
const screens = [
  { name: "phone", width: 390, height: 844, colorScheme: "light", axe: true },
  { name: "phone-dark", width: 390, height: 844, colorScheme: "dark" },
  { name: "desktop", width: 1440, height: 900, colorScheme: "light" },
  { name: "desktop-dark", width: 1440, height: 900, colorScheme: "dark", axe: true },
];

// open shows a page and collects what it should not do: ask for something,
// complain, or be stopped by its own policy.
async function open(name) {
  const faults = [];
  const page = await browser.newPage();
  const address = pathToFileURL(join(folder, name)).href;
  page.on("request", (r) => {
    if (r.url() !== address && !r.url().startsWith("data:")) faults.push(`asks for ${r.url()}`);
  });
  page.on("console", (m) => faults.push(m.text()));
  page.on("pageerror", (e) => faults.push(e.message));
  await page.goto(address);
  return { page, faults };
}

// trim leaves the first rows and pictures of each kind, since they repeat.
function trim() {
  for (const list of document.querySelectorAll("tbody, .photos")) while (list.children.length > 3) list.lastChild.remove();
  for (const part of document.querySelectorAll("section")) while (part.children.length > 16) part.lastChild.remove();
}

for (const name of pages) {
  test(`${name} on screens`, async (t) => {
    const { page, faults } = await open(name);
    for (const [i, screen] of screens.entries()) {
      await t.test(screen.name, async () => {
        const { width, height, colorScheme } = screen;
        await page.setViewportSize({ width, height });
        await page.emulateMedia({ colorScheme });
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(wide <= 0, `it is ${wide} px wider than the screen`);
        if (shots) await page.screenshot({ path: join(shots, `${basename(name, ".html")}-${screen.name}.png`), clip: { x: 0, y: 0, width, height: 6000 }, fullPage: true });
        if (!screen.axe) return;
        if (i === 0) await page.evaluate(trim);
        await page.evaluate(axe.source);
        const { violations } = await page.evaluate(() => globalThis.axe.run({ resultTypes: ["violations"] }));
        assert.deepEqual(violations.map((v) => `${v.id}: ${v.help}: ${v.nodes[0].html}`), []);
      });
    }
    assert.deepEqual(faults, []);
    await page.close();
  });

  test(`${name} is valid`, async () => {
    const rules = new HtmlValidate({ extends: ["html-validate:standard"], rules: { "no-inline-style": "off" } });
    const report = await rules.validateString(readFileSync(join(folder, name), "utf8"), name);
    assert.deepEqual(report.results.flatMap((r) => r.messages.map((m) => `${m.line}:${m.column} ${m.ruleId} ${m.message}`)).slice(0, 10), []);
  });
}

const words = (file, order) => execFileSync("pdftotext", [order, file, "-"], { encoding: "utf8", maxBuffer: 1 << 28 });
const squeeze = (text) => text.replace(/[\s\u00a0]/g, "");
const sizes = { letter: "612 x 792 pts (letter)", A4: "594.96 x 841.92 pts (A4)" };

// numbered asks that every page of a PDF has the size that was asked for, its
// number, and something on it.
function numbered(file, size) {
  const about = execFileSync("pdfinfo", ["-f", "1", "-l", "9999", file], { encoding: "utf8" });
  const count = Number(about.match(/^Pages:\s+(\d+)/m)[1]);
  assert.deepEqual([...new Set([...about.matchAll(/^Page\s+\d+ size:\s+(.*)$/gm)].map((m) => m[1]))], [sizes[size]]);
  assert.match(about, /^Tagged:\s+yes/m);
  const sheets = words(file, "-layout").split("\f").slice(0, count);
  sheets.forEach((sheet, i) => {
    assert.match(sheet, new RegExp(`Page ${i + 1} of ${count}\\s*$`), `page ${i + 1} has no number`);
    assert.ok(squeeze(sheet).length > 80, `page ${i + 1} is empty`);
  });
}

// whole asks that each heading, cell and caption of a page stands on the paper,
// and in one piece: the foot of a sheet would stand between the halves of a row
// that was split. A figure is not cut: all of its words share a sheet. Where a
// table goes on, its head is repeated.
async function whole(page, file) {
  const [wanted, figures, heads] = await page.evaluate(() => {
    const texts = (root, which) => [...root.querySelectorAll(which)].map((e) => e.textContent);
    return [
      texts(document, "h1, h2, h3, li, p, dd, th, td, figcaption"),
      [...document.querySelectorAll("figure.drawn")].map((f) => texts(f, "text, figcaption")),
      [...document.querySelectorAll("table")].map((t) => [t.tHead.textContent, texts(t, "tbody tr")]),
    ];
  });
  const sheets = words(file, "-raw").split("\f").map(squeeze);
  const paper = sheets.join("");
  assert.deepEqual([...new Set(wanted.map(squeeze))].filter((text) => !paper.includes(text)), []);
  for (const texts of figures) {
    assert.ok(sheets.some((sheet) => texts.every((text) => sheet.includes(squeeze(text)))), `no page has all of the figure ${texts[0]}`);
  }
  let long = 0;
  for (const [head, rows] of heads) {
    const on = sheets.filter((sheet) => rows.some((row) => row.length > 60 && sheet.includes(squeeze(row))));
    if (on.length > 1) long++;
    for (const sheet of on) assert.ok(sheet.includes(squeeze(head)), `a page has rows without their head: ${head}`);
  }
  return long;
}

for (const name of papers) {
  test(`${name} on paper`, async () => {
    const { page } = await open(name.replace(/pdf$/, "html"));
    const size = (await page.content()).match(/@page { size: (\w+);/)[1];
    numbered(join(folder, name), size);
    const long = await whole(page, join(folder, name));
    if (name.endsWith("-commissioning.pdf")) assert.ok(long > 0, "no table goes on over a page");
    await page.close();
  });
}

// The style holds on the other size, too.
test("a sign-off sheet on the other size of paper", async () => {
  const other = { letter: "A4", A4: "letter" };
  const source = readFileSync(join(folder, pages.find((name) => name.includes("-signoff-"))), "utf8");
  const size = other[source.match(/@page { size: (\w+);/)[1]];
  const file = join(mkdtempSync(join(tmpdir(), "pages-")), "other.pdf");
  const page = await browser.newPage();
  await page.setContent(source.replace(/(@page { size: )\w+;/, `$1${size};`));
  await page.pdf({ path: file, preferCSSPageSize: true, tagged: true });
  numbered(file, size);
  await whole(page, file);
  await page.close();
  rmSync(dirname(file), { recursive: true });
});
