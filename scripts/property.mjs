// Judges many random sites: npm run property -- [--sites N] [--seed S] [--minimise K] [--out DIR],
// or one counterexample again: npm run property -- --replay FILE, or with --changes how their wire
// stands up to what must not change it. Exit code 1 when a plan breaks a rule.
import { mkdir, rm } from "node:fs/promises";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { ALL_PACKAGES, bundle } from "./bundle.mjs";

const { values } = parseArgs({
  options: {
    sites: { type: "string", default: "1000" },
    seed: { type: "string", default: "1" },
    minimise: { type: "string", default: "5" },
    out: { type: "string", default: "out/property" },
    replay: { type: "string" },
    changes: { type: "boolean", default: false },
  },
});
const whole = (name) => {
  const n = Number(values[name]);
  if (Number.isInteger(n) && n >= 0) return n;
  console.error(`--${name} must be a whole number, not ${values[name]}.`);
  process.exit(2);
};
const options = { sites: whole("sites"), seed: whole("seed"), minimise: whole("minimise") };
const folder = resolve("node_modules/.cache/pegline");
await mkdir(folder, { recursive: true });
const outfile = `${folder}/property-${process.pid}.mjs`;
await bundle("tests/property/long-run.ts", {
  external: ALL_PACKAGES,
  codeSplitting: false,
  file: outfile,
});
const { run, runChanges } = await import(pathToFileURL(outfile).href);
await rm(outfile);
const all = { ...options, out: values.out, replay: values.replay };
const holds = await (values.changes ? runChanges(all) : run(all));
process.exitCode = holds ? 0 : 1;
