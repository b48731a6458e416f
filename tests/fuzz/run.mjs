// Reads mutated files by the hundred thousand, under a watchdog. `npm run fuzz -- --count N --seed S
// [--format F,G] [--workers W] [--seconds T]`, or `--only NUMBER` with `--format` for one case again.
//
// Each worker is a thread with bounded memory. A case that takes longer than HANG_MS, or takes the
// process over RSS_MAX, ends its worker; it is saved and counted as a failure, and a new worker goes on
// behind it. Failures are made small and saved to out/fuzz/failures; exit code 1 where there are any.
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { resolve } from "node:path";
import { parseArgs } from "node:util";
import { Worker } from "node:worker_threads";
import { bundle, packages } from "../../scripts/bundle.mjs";

const HANG_MS = 30_000;
const HEAP_MAX_MB = 1024;
const RSS_MAX = 4e9;
const FOLDER = "out/fuzz";

const { values } = parseArgs({
  options: {
    count: { type: "string", default: "10000" },
    seed: { type: "string", default: "1" },
    format: { type: "string" },
    workers: { type: "string", default: "2" },
    seconds: { type: "string", default: "1200" },
    only: { type: "string" },
  },
});
const seed = Number(values.seed);
const workers = Number(values.workers);

mkdirSync(`${FOLDER}/failures`, { recursive: true });
const { dependencies, devDependencies } = JSON.parse(readFileSync("package.json", "utf8"));
await bundle(
  { worker: "tests/fuzz/worker.ts", cases: "tests/fuzz/cases.ts" },
  {
    external: packages(Object.keys({ ...dependencies, ...devDependencies })),
    sourcemap: "inline",
    dir: FOLDER,
    entryFileNames: "[name].mjs",
    chunkFileNames: "chunks/[name]-[hash].mjs",
  },
);
const { TARGETS, caseOf, readCase } = await import(resolve(FOLDER, "cases.mjs"));

const wanted = values.format?.split(",");
const targets = TARGETS.filter(({ id }) => wanted === undefined || wanted.includes(id));
if (targets.length === 0) {
  console.error(`No format ${values.format}; known are ${TARGETS.map(({ id }) => id).join(", ")}.`);
  process.exit(2);
}

if (values.only !== undefined) {
  const one = caseOf(targets[0], seed, Number(values.only));
  save(targets[0].id, Number(values.only), one.parts);
  const start = performance.now();
  console.log(await readCase(targets[0], one), `${(performance.now() - start).toFixed(0)} ms`);
  process.exit(0);
}

const weights = targets.reduce((sum, { weight }) => sum + weight, 0);
const counts = targets.map(({ id, weight }) => [
  id,
  Math.round((Number(values.count) * weight) / weights),
]);
const tallies = new Map();
const failures = new Map();
let peakRss = 0;
let ending = false;
const started = performance.now();
const deadline = started + 1000 * Number(values.seconds);

await Promise.all(Array.from({ length: workers }, (_, first) => runFrom(first, 0)));
report();
process.exit(failures.size > 0 ? 1 : 0);

/** Runs every `workers`-th case behind those that were begun; begins anew behind one that hangs. */
function runFrom(first, skip) {
  const clock = new SharedArrayBuffer(16);
  const view = new Int32Array(clock);
  return new Promise((done) => {
    let cause;
    const worker = new Worker(resolve(FOLDER, "worker.mjs"), {
      workerData: { seed, counts, first, step: workers, skip, clock },
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MAX_MB },
      execArgv: ["--enable-source-maps"],
      // Libraries that write to the console must not drown the report.
      stdout: true,
      stderr: true,
    });
    const guard = setInterval(() => {
      const rss = process.memoryUsage.rss();
      peakRss = Math.max(peakRss, rss);
      const since = ((Date.now() & 0x7fff_ffff) - view[1]) | 0;
      if (performance.now() > deadline) ending = true;
      else if (view[0] > 0 && since > HANG_MS) cause = `no answer within ${HANG_MS} ms`;
      else if (rss > RSS_MAX) cause = `the process takes ${rss} bytes`;
      if (ending || cause) {
        clearInterval(guard);
        worker.terminate();
      }
    }, 50);
    worker.on("message", (message) => {
      if (message.kind === "sums") addSums(message);
      if (message.kind === "failure") addFailure(message);
    });
    worker.on("error", (error) => {
      cause = `${error.code ?? error.name}: ${error.message}`;
    });
    worker.on("exit", () => {
      clearInterval(guard);
      if (ending || cause === undefined) return done();
      const begun = view[0];
      const [id, number] = [counts[view[2]][0], view[3]];
      const { parts, plan } = caseOf(
        targets.find((one) => one.id === id),
        seed,
        number,
      );
      addFailure({ id, number, plan, what: cause, stack: "", parts, isNew: true });
      done(runFrom(first, begun));
    });
  });
}

function addSums({ id, cases, refused, read, planned, ms, bytes, codes, slow, large }) {
  const tally = tallies.get(id) ?? {
    cases: 0,
    refused: 0,
    read: 0,
    planned: 0,
    ms: 0,
    bytes: 0,
    codes: new Set(),
    slow: [],
    large: [],
  };
  tally.cases += cases;
  tally.refused += refused;
  tally.read += read;
  tally.planned += planned;
  tally.ms += ms;
  tally.bytes += bytes;
  for (const code of codes) tally.codes.add(code);
  tally.slow = [...tally.slow, ...slow].sort((a, b) => b[0] - a[0]).slice(0, 6);
  tally.large = [...tally.large, ...large].sort((a, b) => b[0] - a[0]).slice(0, 6);
  tallies.set(id, tally);
}

function addFailure({ id, number, plan, what, stack, parts, isNew }) {
  const key = `${id}: ${what}`;
  const known = failures.get(key) ?? { count: 0, number };
  known.count++;
  failures.set(key, known);
  if (!isNew) return;
  const paths = save(id, number, parts);
  console.error(
    `FAILED ${key}\n  case ${number} of seed ${seed}${plan ? " (planned)" : ""}: ${paths.join(", ")}`,
  );
  if (stack) console.error(stack.split("\n").slice(1, 6).join("\n"));
}

function save(id, number, parts) {
  return Object.entries(parts).map(([ending, bytes]) => {
    const path = `${FOLDER}/failures/${id}-${seed}-${number}${ending}`;
    writeFileSync(path, bytes);
    return path;
  });
}

function report() {
  const seconds = (performance.now() - started) / 1000;
  const all = [...tallies.values()].reduce((sum, { cases }) => sum + cases, 0);
  console.log(
    "format            cases  refused     read  planned  codes  mean ms  worst ms  worst MB  mean bytes",
  );
  for (const [id] of counts) {
    const t = tallies.get(id);
    if (t === undefined) continue;
    const row = [
      id.padEnd(16),
      String(t.cases).padStart(6),
      String(t.refused).padStart(8),
      String(t.read).padStart(8),
      String(t.planned).padStart(8),
      String(t.codes.size).padStart(6),
      (t.ms / t.cases).toFixed(2).padStart(8),
      `${t.slow[0][0].toFixed(0)}`.padStart(9),
      (t.large[0][0] / 1e6).toFixed(0).padStart(9),
      (t.bytes / t.cases).toFixed(0).padStart(11),
      ` slowest #${t.slow[0][1]}, largest #${t.large[0][1]}`,
    ];
    console.log(row.join(" "));
  }
  console.log(
    `${all} cases of seed ${seed} in ${seconds.toFixed(0)} s with ${workers} workers; process at most ${(peakRss / 1e6).toFixed(0)} MB.`,
  );
  const cpu = process.cpuUsage();
  console.log(`CPU ${((cpu.user + cpu.system) / 1e6).toFixed(0)} s.`);
  const failed = [...failures.values()].reduce((sum, { count }) => sum + count, 0);
  console.log(failed === 0 ? "No failures." : `${failed} failures of ${failures.size} kinds:`);
  for (const [what, { count, number }] of failures)
    console.log(`  ${count} × ${what} (first #${number})`);
}
