// Mutation testing: npm run mutate -- [FOLDER…] [--sample N] [--seed S] [--workers W] [--out DIR].
// Changes the code of a folder of `src` one small place at a time (StrykerJS) and runs the quick tests
// that concern it (tests/mutation). A change that no test notices survives. With --sample N of all
// changes are run, drawn by the seed; without it, all. Prints survivors, then the score with its interval.
import { mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { parseArgs } from "node:util";
import { Stryker } from "@stryker-mutator/core";
import { scoreOf, survivorsOf } from "./mutation/score.mjs";

const FOLDERS = ["check", "plan"];

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    sample: { type: "string" },
    seed: { type: "string", default: "1" },
    workers: { type: "string", default: "1" },
    out: { type: "string", default: "out/mutation" },
    files: { type: "string" },
  },
});
function whole(name) {
  const n = Number(values[name]);
  if (Number.isInteger(n) && n > 0) return n;
  console.error(`--${name} must be a whole number above 0, not ${values[name]}.`);
  process.exit(2);
}
const sample = values.sample === undefined ? undefined : whole("sample");
const [seed, workers] = [whole("seed"), whole("workers")];
const folders = positionals.length > 0 ? positionals : FOLDERS;
const unknown = folders.find((one) => !FOLDERS.includes(one));
if (unknown !== undefined) {
  console.error(`${unknown}: no folder with tests for this. There are ${FOLDERS.join(" and ")}.`);
  process.exit(2);
}
const out = resolve(values.out);

for (const folder of folders) {
  const report = `${out}/${folder}.json`;
  await mkdir(out, { recursive: true });
  await rm(report, { force: true });
  await new Stryker({
    mutate: [values.files ?? `src/${folder}/**/*.ts`],
    testRunner: "vitest",
    plugins: ["@stryker-mutator/vitest-runner", resolve("scripts/mutation/sampling.mjs")],
    vitest: { configFile: `tests/mutation/${folder}.config.ts`, related: false },
    coverageAnalysis: "perTest",
    disableTypeChecks: false,
    // Nothing to rewrite in ours, and TypeScript 7 has no functions to read one with.
    tsconfigFile: "none.json",
    concurrency: workers,
    // One process draws the sample.
    checkers: sample === undefined ? [] : ["sampling"],
    sampling: { size: sample ?? 0, seed },
    // Quick tests take milliseconds; a change that makes a loop endless is stopped. On a busy machine
    // a shorter time would take slow for endless.
    timeoutMS: 45_000,
    dryRunTimeoutMinutes: 30,
    reporters: ["json", "progress-append-only"],
    jsonReporter: { fileName: report },
    ignorePatterns: ["/out", "/dist", "/coverage", "/docs", "/cli/**/*.md"],
    tempDirName: `${out}/sandbox`,
    allowConsoleColors: false,
    logLevel: "warn",
  }).runMutationTest();
  const result = JSON.parse(await readFile(report, "utf8"));
  const survivors = survivorsOf(result);
  await writeFile(`${out}/${folder}-survivors.txt`, `${survivors.join("\n")}\n`);
  for (const line of survivors) console.log(line);
  const { counts, score, low, high, run, all } = scoreOf(result);
  const drawn = sample === undefined ? "all" : `${run} of ${all}, seed ${seed}`;
  console.log(
    `src/${folder}: ${drawn}: killed ${counts.Killed}, timed out ${counts.Timeout}, survived ${counts.Survived}, no test ${counts.NoCoverage}, errors ${counts.RuntimeError}; score ${score.toFixed(1)} % (95 %: ${low.toFixed(1)} to ${high.toFixed(1)} %)`,
  );
}
