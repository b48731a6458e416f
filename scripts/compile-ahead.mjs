// Keeps the code that V8 compiles in runs of the demo beside the bundle (see cli/code-cache.ts).
import { spawnSync } from "node:child_process";
import { access, mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { loadSource } from "./load-source.mjs";

const GARDEN = "fixtures/demo/house-garden.geojson";

/**
 * What is run, by turns: code of a module is that of the first run that loads it, with every
 * function that was called until its end.
 */
const RUNS = [
  ["plan", GARDEN, "--out", "OUT", "--quiet"],
  ["check", "OUT/plan.geojson", GARDEN, "--quiet"],
  ["plan", GARDEN, "--out", "OUT", "--quiet", "--sheet", "auto", "--format", "gpkg,kml,dxf"],
  ["inspect", GARDEN, "--quiet"],
];

/** Compiles the bundle in a folder ahead. */
export async function compileAhead(folder) {
  const out = await mkdtemp(join(tmpdir(), "pegline-build-"));
  try {
    for (const args of RUNS) {
      const named = args.map((arg) => arg.replace(/^OUT/, join(out, "garden")));
      const run = ["scripts/compile-ahead.mjs", resolve(folder), ...named];
      const { status } = spawnSync(process.execPath, run, {
        stdio: ["ignore", "ignore", "inherit"],
      });
      // 1 says that a finding stands: no matter here.
      if (status !== 0 && status !== 1) throw new Error(`It does not run: ${args.join(" ")}`);
    }
  } finally {
    await rm(out, { recursive: true, force: true });
  }
}

/** In a process of its own: runs the command line, and keeps the code at the end. */
async function runAndKeep([folder, ...args]) {
  const { codeFolder, runBundled } = await loadSource("cli/code-cache.ts");
  const scripts = [];
  process.argv = [process.execPath, join(folder, "pegline.js"), ...args];
  process.once("beforeExit", async () => {
    await mkdir(codeFolder(folder), { recursive: true });
    for (const { codePath, script } of scripts) {
      const isThere = await access(codePath).then(
        () => true,
        () => false,
      );
      if (!isThere) await writeFile(codePath, script.createCachedData());
    }
  });
  runBundled(folder, "main.js", (codePath, script) => scripts.push({ codePath, script }));
}

if (import.meta.url === pathToFileURL(process.argv[1]).href)
  await runAndKeep(process.argv.slice(2));
