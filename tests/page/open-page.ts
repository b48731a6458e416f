/** A page in a real browser: opened from a file, with the network off. */
import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { mkdtemp, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { afterAll } from "vitest";
import { type PlanOptions, planInputs } from "../../src/jobs/pegline.ts";
import type { InputFile } from "../../src/model/features.ts";
import type { PageAssets } from "../../src/page/html/page-html.ts";
import { type PageExtras, planPage } from "../../src/page/html/plan-page.ts";

/** Chromium as Debian has it, or where `PEGLINE_CHROMIUM` says; undefined where there is none. */
export const CHROMIUM = [
  process.env.PEGLINE_CHROMIUM,
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
].find((path) => path !== undefined && existsSync(path));

/** Said where browser tests are skipped. */
export const NO_CHROMIUM = CHROMIUM === undefined ? " (skipped: no Chromium here)" : "";

let built: Promise<PageAssets> | undefined;

/** The page's scripts and styles as they are in `src` now; files of tests share what one has built. */
export function assets(): Promise<PageAssets> {
  built ??= readOrBuild();
  return built;
}

async function readOrBuild(): Promise<PageAssets> {
  const cached = join(tmpdir(), `pegline-page-assets-${await stateOfSource()}.json`);
  const text = await readFile(cached, "utf8").catch(() => undefined);
  if (text !== undefined) return JSON.parse(text);
  const { pageAssets } = await import("../../scripts/page-assets.mjs" as string);
  const made: PageAssets = await pageAssets();
  const fresh = `${cached}.${process.pid}`;
  await writeFile(fresh, JSON.stringify(made));
  await rename(fresh, cached);
  return made;
}

/** Changes with each change of what the page is built from. */
async function stateOfSource(): Promise<string> {
  const hash = createHash("sha256").update(resolve("."));
  for (const folder of ["src", "scripts"]) {
    const entries = await readdir(folder, { recursive: true, withFileTypes: true });
    for (const entry of entries.filter((one) => one.isFile())) {
      const path = join(entry.parentPath, entry.name);
      const { mtimeMs, size } = await stat(path);
      hash.update(`${path} ${mtimeMs} ${size}\n`);
    }
  }
  const lock = await stat("package-lock.json");
  return hash.update(String(lock.mtimeMs)).digest("hex").slice(0, 16);
}

export async function demoInput(name = "house-garden.geojson"): Promise<InputFile> {
  return { name, bytes: new Uint8Array(await readFile(`fixtures/demo/${name}`)) };
}

/** The page of a site as text. */
export async function pageOf(
  inputs: readonly InputFile[],
  options: PlanOptions = {},
  extras: PageExtras = {},
): Promise<string> {
  const outcome = await planInputs(inputs, options);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return planPage(outcome.value, {}, await assets(), extras);
}

export interface Opened {
  readonly page: Page;
  /** Everything that the browser complained of, and every request for something else. */
  readonly complaints: string[];
}

let browser: Promise<Browser> | undefined;
const folders: string[] = [];

afterAll(async () => {
  await (await browser)?.close();
  for (const folder of folders) await rm(folder, { recursive: true, force: true });
});

/** One browser serves all tests of a file. */
export function theBrowser(): Promise<Browser> {
  browser ??= chromium.launch({
    executablePath: CHROMIUM!,
    // Containers have no name space for the sandbox.
    args: ["--no-sandbox"],
  });
  return browser;
}

/** Writes a page to a file and opens it from there. */
export async function openPage(html: string, options: BrowserContextOptions = {}): Promise<Opened> {
  const folder = await mkdtemp(join(tmpdir(), "pegline-page-"));
  folders.push(folder);
  const path = join(folder, "plan.html");
  await writeFile(path, html);
  const context = await (await theBrowser()).newContext({ offline: true, ...options });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on("console", (message) => complaints.push(`${message.type()}: ${message.text()}`));
  page.on("pageerror", (error) => complaints.push(`thrown: ${error.message}`));
  const own = pathToFileURL(path).href;
  page.on("request", (request) => {
    const isOwn = request.url() === own || /^(data|blob):/.test(request.url());
    if (!isOwn) complaints.push(`request: ${request.url()}`);
  });
  await page.goto(own);
  await page.locator("html[data-ready]").waitFor({ state: "attached", timeout: 20_000 });
  return { page, complaints };
}
