// A batch of seeded plots with one worker and with two, in turn, and its memory with few plots and
// with many. References in the same run: what a bare loop gains from a second thread on this
// machine now, which no batch can beat; and how loaded the machine is.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { Worker } from "node:worker_threads";
import { plotSheet } from "./plot-sheet.mjs";

const { values } = parseArgs({
  options: {
    plots: { type: "string", default: "300" },
    runs: { type: "string", default: "3" },
    seed: { type: "string", default: "7" },
  },
});
const [plots, runs, seed] = [values.plots, values.runs, values.seed].map(Number);
const home = fileURLToPath(new URL("../..", import.meta.url));
const command = join(home, "dist/cli/pegline.js");
const work = mkdtempSync(join(tmpdir(), "batch-bench-"));

/** One fresh process: wall and CPU seconds, peak memory in MB. */
function run(args, input) {
  const figures = join(work, "figures");
  const all = ["-f", "%e %U %S %M", "-o", figures, process.execPath, command, ...args];
  const made = spawnSync("/usr/bin/time", all, { cwd: work, input, maxBuffer: 2 ** 31 - 1 });
  if (made.status !== 0) throw new Error(made.stderr.toString());
  const line = readFileSync(figures, "utf8").trim().split("\n").at(-1);
  const [wallS, userS, systemS, kilobytes] = line.split(" ").map(Number);
  return { wallS, cpuS: userS + systemS, memoryMb: kilobytes / 1000, made };
}

const LOOP = `let x = 0; for (let i = 0; i < 4e8; i++) x += i % 7; require("node:worker_threads").parentPort.postMessage(x)`;

/** Seconds that a number of threads take for a loop each. */
async function loopS(threads) {
  const from = performance.now();
  const one = () => new Promise((done) => new Worker(LOOP, { eval: true }).once("message", done));
  await Promise.all(Array.from({ length: threads }, one));
  return (performance.now() - from) / 1000;
}

const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];
const show = (list) =>
  `${median(list).toFixed(2)} (${Math.min(...list).toFixed(2)} to ${Math.max(...list).toFixed(2)})`;

const { collection, single } = plotSheet({ plots, seed });
writeFileSync(join(work, "town.geojson"), JSON.stringify(collection));
console.log(
  `${plots} plots, 120 vertices and 3 islands each, seed ${seed}; ${cpus().length} cores`,
);
console.log(
  `load at the start: ${loadavg()
    .map((one) => one.toFixed(1))
    .join(", ")}`,
);
const ratios = [];
const free = [];
const cpu = { 1: [], 2: [] };
const hashes = new Set();
for (let i = 0; i < runs; i++) {
  free.push((2 * (await loopS(1))) / (await loopS(2)));
  const walls = [1, 2].map((jobs) => {
    const args = ["batch", "town.geojson", "--by", "parcel", "--out", `o${jobs}`, "--quiet"];
    const one = run([...args, "--jobs", String(jobs)]);
    cpu[jobs].push(one.cpuS);
    const plans = readFileSync(join(work, `o${jobs}`, "plans.geojsonl"));
    hashes.add(createHash("sha256").update(plans).digest("hex").slice(0, 16));
    return one.wallS;
  });
  ratios.push(walls[0] / walls[1]);
  console.log(`  one worker ${walls[0].toFixed(1)} s, two ${walls[1].toFixed(1)} s`);
}
console.log(`two workers against one: ${show(ratios)} times`);
console.log(`a bare loop, two threads against one: ${show(free)} times`);
console.log(`CPU, one worker: ${show(cpu[1])} s; two: ${show(cpu[2])} s`);
console.log(`plans: ${[...hashes].join(", ")}`);
const stream = (count) =>
  Array.from(
    { length: count },
    (_, i) => `\u001e${JSON.stringify(single((i % plots) + 1))}\n`,
  ).join("");
for (const count of [plots >> 2, plots, 3 * plots]) {
  const { memoryMb, wallS } = run(["batch", "-", "--jobs", "2"], stream(count));
  console.log(`stream of ${count} plots: peak ${memoryMb.toFixed(0)} MB, ${wallS.toFixed(0)} s`);
}
console.log(
  `load at the end: ${loadavg()
    .map((one) => one.toFixed(1))
    .join(", ")}`,
);
rmSync(work, { recursive: true, force: true });
