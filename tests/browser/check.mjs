// Opens the pages that the program writes in Debian's Chromium and checks what only a browser can tell: that they render
// without a message, fetch nothing, pass axe-core in light and dark, fit a screen of 360 pixels, and print on A4 and Letter.
//
//   npm ci && node check.mjs            TUBGROVE names the program, CHROMIUM the browser, SHOTS a directory for pictures

import { execFileSync } from "node:child_process";
import { createRequire } from "node:module";
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, "../..");
const program = process.env.TUBGROVE ?? join(root, "target/debug/tubgrove");
const browserPath = process.env.CHROMIUM ?? "/usr/bin/chromium";
const shots = process.env.SHOTS;
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const work = mkdtempSync(join(tmpdir(), "tubgrove-pages-"));

const walk = (name, answers, today) =>
  [name, "--answers", `docs/demo/${answers}.yaml`, "--today", today, "--no-input", "--rest-not-sure"];

// A record of its own, with the trees of the demonstration, some rain and a feed.
const record = join(work, "record.db");
const kept = (today, ...args) => ["--record", record, "--no-input", "--today", today, ...args];
const looks = [
  "--product", "Powder", "--looked", "--dry", "Yuzu", "--signs", "Makrut", "--give", "Valencia=Pellets",
  "--set", "heat_now=no", "--set", "rain_due=no", "--set", "also_in_can=nothing",
];
for (const args of [
  kept("2025-09-01", "record", "import", "--table", "trees", "docs/demo/trees.csv"),
  kept("2025-09-01", "record", "import", "--table", "shelf", "docs/demo/shelf.csv"),
  kept("2025-09-01", "site", "--hemisphere", "south", "--climate", "light_frost_wet_summer", "--cans", "9 L, 5 L"),
  kept("2025-10-05", "log", "feed", "--tree", "Kumquat", "--product", "Powder", "--amount", "3 g", "--water", "3 L"),
  kept("2025-10-31", "log", "rain", "70"),
]) {
  execFileSync(program, args, { cwd: root, stdio: ["ignore", "ignore", "inherit"] });
}

// Sheets of paper, at most: `plan` is what hangs on the shed door, `all` has the answers and figures it rests on, too.
const pages = [
  { name: "precheck-go", args: walk("precheck", "kumquat-terrace", "2026-01-20"), plan: 1, all: 4 },
  { name: "precheck-unsure", args: ["precheck", "--no-input", "--rest-not-sure", "--today", "2026-11-25"], plan: 3, all: 4 },
  { name: "first-feed", args: walk("first-feed", "kumquat-terrace", "2026-01-20"), plan: 2, all: 5 },
  { name: "diagnose-pale", args: walk("diagnose", "pale-meyer", "2026-11-25"), plan: 2, all: 4 },
  { name: "diagnose-report", args: walk("diagnose", "yuzu-blotches", "2026-11-25"), plan: 4, all: 6 },
  { name: "diagnose-wet", args: walk("diagnose", "wet-valencia", "2026-11-25"), plan: 6, all: 8 },
  { name: "rescue", args: walk("rescue", "meyer-fed-too-much", "2026-11-25"), plan: 1, all: 2 },
  { name: "leaf-guide", args: ["leaf-guide"], plan: 10, all: 10 },
  { name: "round", args: kept("2025-11-20", "round", ...looks), plan: 3, all: 3 },
  { name: "history", args: kept("2025-12-20", "history", "Kumquat"), plan: 2, all: 2 },
];

const faults = [];
const fault = (name, what) => {
  faults.push(`${name}: ${what}`);
  console.log(`  FAULT ${name}: ${what}`);
};

/** Runs the program; 0 and 4 are answers. */
function write(page) {
  const file = join(work, `${page.name}.html`);
  try {
    execFileSync(program, [...page.args, "--html", file], { cwd: root, stdio: ["ignore", "ignore", "pipe"] });
  } catch (error) {
    if (error.status !== 4) throw new Error(`${page.name}: ${error.stderr ?? error}`);
  }
  return file;
}

/** Pages of a PDF: objects of the type Page, which Chromium writes uncompressed. */
function sheets(pdf) {
  return (pdf.toString("latin1").match(/\/Type\s*\/Page(?![s\w])/g) ?? []).length;
}

async function look(browser, entry, file, colorScheme, width) {
  const name = `${entry.name} ${colorScheme} ${width}`;
  const context = await browser.newContext({ colorScheme, viewport: { width, height: 800 } });
  const page = await context.newPage();
  const address = pathToFileURL(file).href;
  page.on("console", (message) => fault(name, `console: ${message.text()}`));
  page.on("pageerror", (error) => fault(name, `error: ${error.message}`));
  page.on("request", (request) => {
    if (request.url() !== address && !request.url().startsWith("data:")) fault(name, `request: ${request.url()}`);
  });
  await page.goto(address);
  const seen = await page.evaluate(() => ({
    heading: document.querySelector("h1")?.getBoundingClientRect().height ?? 0,
    verdict: document.querySelector(".verdict, .leaves, figure, table")?.getBoundingClientRect().height ?? 0,
    wide: document.documentElement.scrollWidth,
    view: document.documentElement.clientWidth,
    ground: getComputedStyle(document.body).backgroundColor,
    leaves: [...document.querySelectorAll("svg.leaf")].filter((s) => s.getBoundingClientRect().height < 20).length,
  }));
  if (!(seen.heading > 10 && seen.verdict > 10)) fault(name, "does not render");
  if (seen.leaves > 0) fault(name, `${seen.leaves} leaf pictures have no height`);
  if (seen.wide > seen.view) fault(name, `${seen.wide} pixels wide on a screen of ${seen.view}`);
  const [r] = seen.ground.match(/\d+/g).map(Number);
  if (colorScheme === "dark" ? r > 80 : r < 200) fault(name, `the ground is ${seen.ground}`);
  await page.evaluate(axe);
  const result = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
  for (const v of result.violations) {
    fault(name, `axe ${v.id} (${v.impact}): ${v.help}; ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 120)).join(" | ")}`);
  }
  if (result.passes.length < 5) fault(name, "axe looked at nothing");
  if (shots) {
    mkdirSync(shots, { recursive: true });
    await page.screenshot({ path: join(shots, `${name.replaceAll(" ", "-")}.png`), fullPage: true });
  }
  await context.close();
}

async function print(browser, entry, file) {
  const counts = {};
  for (const format of ["A4", "Letter"]) {
    for (const part of ["all", "plan"]) {
      const page = await browser.newPage({ colorScheme: "dark" });
      await page.goto(pathToFileURL(file).href);
      if (part === "plan") {
        await page.evaluate(() => {
          const first = document.querySelector(".grounds");
          while (first?.nextSibling) first.nextSibling.remove();
          first?.remove();
        });
      }
      const path = join(shots ?? work, `${entry.name}-${part}-${format}.pdf`);
      const pdf = await page.pdf({ format, path, printBackground: true });
      await page.close();
      const count = sheets(pdf);
      counts[`${part} ${format}`] = count;
      if (count < 1 || count > entry[part]) {
        fault(entry.name, `${part} prints on ${count} sheets of ${format}, at most ${entry[part]} wanted`);
      }
      const size = pdf.toString("latin1").match(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/);
      const wanted = format === "A4" ? [595, 842] : [612, 792];
      if (!size || Math.abs(size[1] - wanted[0]) > 2 || Math.abs(size[2] - wanted[1]) > 2) {
        fault(entry.name, `${format} came out as ${size?.slice(1)}`);
      }
    }
  }
  return Object.entries(counts).map(([what, count]) => `${what} ${count}`).join(", ");
}

const browser = await chromium.launch({
  executablePath: browserPath,
  chromiumSandbox: false,
  args: [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
  ],
});
try {
  if (shots) mkdirSync(shots, { recursive: true });
  for (const entry of pages) {
    const file = write(entry);
    for (const scheme of ["light", "dark"]) {
      for (const width of [1024, 360]) await look(browser, entry, file, scheme, width);
    }
    console.log(`${entry.name}: sheets ${await print(browser, entry, file)}`);
  }
} finally {
  await browser.close();
  rmSync(work, { recursive: true, force: true });
}
if (faults.length > 0) {
  console.error(`${faults.length} faults`);
  process.exit(1);
}
console.log(`${pages.length} pages: rendered, no message, no request, no axe violation in light and dark, nothing too wide`);
