// Times replanning in the page against the command line: `npm run bench:page [-- --edits N]`. Builds
// nothing: run `npm run build` first; needs Chromium (PEGLINE_CHROMIUM, or Debian's).
//
// For each site the command `pegline plan` runs in a fresh process (the reference), then its plan.html
// is opened in Chromium from the file, a thing is moved by 0.1 m again and again by the arrow keys, and
// the time is taken in the page from the key to the new plan on the map: worker, planner, figures and
// drawing. Then the first edit of a page just opened, with the planner begun while the page was idle
// and kept from it, and the first paint of both. Prints medians with the least and the greatest, the ratio, and the bars.
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { chromium } from "playwright-core";
import { organicEstate } from "./organic-estate.mjs";

const SEED = 7;
/** The page lies open for so long before its first edit. */
const IDLE_MS = 4000;
const { values } = parseArgs({ options: { edits: { type: "string", default: "9" } } });
const edits = Math.max(3, Number(values.edits));
const home = fileURLToPath(new URL("../..", import.meta.url));
const command = join(home, "dist/cli/pegline.js");
const executablePath = [
  process.env.PEGLINE_CHROMIUM,
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
].find((path) => path !== undefined && existsSync(path));
if (executablePath === undefined) throw new Error("There is no Chromium here.");

const work = mkdtempSync(join(tmpdir(), "page-bench-"));
const estate = join(work, "estate.geojson");
writeFileSync(
  estate,
  JSON.stringify(organicEstate({ vertices: 2_000, islands: 60, seed: SEED }).geojson),
);
const SITES = [
  { name: "garden", file: join(home, "fixtures/demo/house-garden.geojson"), barMs: 100 },
  { name: "estate of 2,000 vertices, 60 islands", file: estate, barMs: 1000 },
];

const spread = (list) => {
  const sorted = [...list].sort((a, b) => a - b);
  return { median: sorted[sorted.length >> 1], least: sorted[0], most: sorted.at(-1) };
};
const show = ({ median, least, most }) =>
  `${median.toFixed(0)} ms (${least.toFixed(0)} to ${most.toFixed(0)})`;

console.log(
  `${cpus().length} × ${cpus()[0].model}, load ${loadavg()[0].toFixed(1)}, Node ${process.version}, seed ${SEED}`,
);
const browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
console.log(`Chromium ${browser.version()}`);
try {
  for (const [i, { name, file, barMs }] of SITES.entries()) {
    const out = join(work, `out-${i}`);
    const commandMs = spread(
      [1, 2, 3].map(() => {
        const from = performance.now();
        const ran = spawnSync(process.execPath, [command, "plan", file, "--out", out, "--quiet"]);
        if (ran.status > 1) throw new Error(String(ran.stderr));
        return performance.now() - from;
      }),
    );
    const pageMs = spread(await replans(join(out, "plan.html")));
    const [idle, cold] = await firstEdits(join(out, "plan.html"));
    const ratio = pageMs.median / commandMs.median;
    const verdict = pageMs.median <= barMs ? "holds" : "MISSED";
    console.log(
      `${name}: command ${show(commandMs)}; page ${show(pageMs)}, ${ratio.toFixed(3)} of it; bar ${barMs} ms ${verdict}`,
    );
    console.log(
      `  first edit after ${IDLE_MS} ms: planner begun while idle ${show(idle.edit)}, kept from it ${show(cold.edit)}, ${(idle.edit.median / cold.edit.median).toFixed(3)} of it; first paint ${show(idle.paint)} and ${show(cold.paint)}`,
    );
  }
} finally {
  await browser.close();
  rmSync(work, { recursive: true, force: true });
}

/** First edits, and first paints, with the planner begun while idle and kept from it, in turn. */
async function firstEdits(path) {
  const found = { idle: [], cold: [] };
  for (let i = 0; i < 6; i++)
    found[i % 2 === 0 ? "idle" : "cold"].push(await firstEdit(path, i % 2));
  return [found.idle, found.cold].map((list) => ({
    edit: spread(list.map(({ editMs }) => editMs)),
    paint: spread(list.map(({ paintMs }) => paintMs)),
  }));
}

/** From taking the tool and pressing an arrow key to the word that it is planned again. */
async function firstEdit(path, isCold) {
  const context = await browser.newContext({
    offline: true,
    viewport: { width: 1280, height: 800 },
  });
  const page = await context.newPage();
  if (isCold) {
    await page.addInitScript(() => {
      globalThis.requestIdleCallback = () => 0;
    });
  }
  await page.goto(pathToFileURL(path).href);
  await page.locator("html[data-ready]").waitFor({ state: "attached", timeout: 60_000 });
  await page.waitForTimeout(IDLE_MS);
  await page.locator(".map").focus();
  for (let i = 0; i < 400; i++) {
    await page.keyboard.press("n");
    if ((await page.locator(".card").textContent()).includes("Contact")) break;
  }
  const figures = await page.evaluate(() => {
    const live = document.querySelector("[role=status]");
    return new Promise((done) => {
      const from = performance.now();
      new MutationObserver(() => {
        if (!live.textContent.startsWith("Planned again")) return;
        const paint = performance.getEntriesByName("first-contentful-paint")[0];
        requestAnimationFrame(() =>
          done({ editMs: performance.now() - from, paintMs: paint.startTime }),
        );
      }).observe(live, { childList: true, subtree: true, characterData: true });
      document.querySelector('.tools button[data-tool="move"]').click();
      const key = { key: "ArrowRight", bubbles: true };
      document.querySelector(".map").dispatchEvent(new KeyboardEvent("keydown", key));
    });
  });
  await context.close();
  return figures;
}

/** Milliseconds of each replanning in the page. */
async function replans(path) {
  const context = await browser.newContext({
    offline: true,
    viewport: { width: 1280, height: 800 },
  });
  const page = await context.newPage();
  await page.goto(pathToFileURL(path).href);
  await page.locator("html[data-ready]").waitFor({ state: "attached", timeout: 60_000 });
  await page.getByRole("tab", { name: "Change" }).click();
  const ready = page.locator(".edit-state").filter({ hasText: /^Nothing changed$/ });
  await ready.waitFor({ timeout: 120_000 });
  await page.locator('.tools button[data-tool="move"]').click();
  await page.locator(".map").focus();
  for (let i = 0; i < 400; i++) {
    await page.keyboard.press("n");
    if ((await page.locator('select[name="contact"]').count()) > 0) break;
  }
  const times = [];
  for (let i = 0; i < edits + 2; i++) {
    const ms = await page.evaluate(
      (key) => {
        const state = document.querySelector(".panel-edit .edit-head");
        const map = document.querySelector(".map");
        const count = () => /^\d+/.exec(state.querySelector(".edit-state").textContent)?.[0];
        const before = count();
        return new Promise((done) => {
          const from = performance.now();
          const watch = new MutationObserver(() => {
            if (count() === undefined || count() === before) return;
            watch.disconnect();
            requestAnimationFrame(() => done(performance.now() - from));
          });
          watch.observe(state, { childList: true, subtree: true, characterData: true });
          map.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
        });
      },
      i % 2 === 0 ? "ArrowRight" : "ArrowUp",
    );
    // The first two warm the planner.
    if (i >= 2) times.push(ms);
  }
  await context.close();
  return times;
}
