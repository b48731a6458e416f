// Times the whole command `pegline plan` on invented estates, in fresh processes.
// `npm run bench:plan [-- --runs N] [-- --large] [-- --only VERTICES]`; builds nothing: run
// `npm run build` first. `--large` adds 200,000 vertices with 3,000 islands.
//
// References in the same run: a bare `node -e 0` (what starting costs), and GEOS on the same ground
// (set-in, opening, difference: tests/bench/geos-reference.py) where /usr/bin/python3 has shapely.
// Prints for each size the medians with the least and the greatest, ratios, and the hash of the plan.
import { execFileSync, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { organicEstate } from "./organic-estate.mjs";

const SIZES = [
  { vertices: 200, islands: 6 },
  { vertices: 2_000, islands: 60 },
  { vertices: 20_000, islands: 300 },
];
const LARGE = { vertices: 200_000, islands: 3_000 };
const SEED = 7;
// Set-in and half the driving width of the built-in default profile, metres.
const [SETIN_M, HALF_WIDTH_M] = ["0.3", "0.45"];

const { values } = parseArgs({
  options: {
    runs: { type: "string", default: "3" },
    large: { type: "boolean", default: false },
    only: { type: "string" },
  },
});
const runs = Math.max(1, Number(values.runs));
const home = fileURLToPath(new URL("../..", import.meta.url));
const command = join(home, "dist/cli/pegline.js");
const work = mkdtempSync(join(tmpdir(), "plan-bench-"));

/** One fresh process: wall and CPU seconds, peak memory in MB. */
function run(program, args) {
  const figures = join(work, "figures");
  const made = spawnSync("/usr/bin/time", ["-f", "%e %U %S %M", "-o", figures, program, ...args], {
    encoding: "utf8",
  });
  // GNU time puts a line before the figures when the command ends with a warning's exit code.
  const line = readFileSync(figures, "utf8").trim().split("\n").at(-1);
  const [wallS, userS, systemS, kilobytes] = line.split(" ").map(Number);
  return { wallS, cpuS: userS + systemS, memoryMb: kilobytes / 1000, made };
}

function spread(list) {
  const sorted = [...list].sort((a, b) => a - b);
  return { median: sorted[sorted.length >> 1], least: sorted[0], most: sorted.at(-1) };
}

const show = ({ median, least, most }, digits = 2) =>
  `${median.toFixed(digits)} (${least.toFixed(digits)} to ${most.toFixed(digits)})`;

function repeated(program, args, check = () => {}) {
  const all = Array.from({ length: runs }, () => {
    const one = run(program, args);
    check(one.made);
    return one;
  });
  return {
    wall: spread(all.map((one) => one.wallS)),
    cpu: spread(all.map((one) => one.cpuS)),
    memory: spread(all.map((one) => one.memoryMb)),
  };
}

function geos(file) {
  const script = join(home, "tests/bench/geos-reference.py");
  const made = spawnSync("/usr/bin/python3", [script, file, SETIN_M, HALF_WIDTH_M], {
    encoding: "utf8",
  });
  return made.status === 0 ? JSON.parse(made.stdout) : undefined;
}

function measure(size) {
  const made = organicEstate({ ...size, seed: SEED });
  const file = join(work, `${size.vertices}.geojson`);
  writeFileSync(file, JSON.stringify(made.geojson));
  console.log(
    `\n${made.vertices} vertices, ${made.islands} islands, ${made.hectares.toFixed(1)} ha, seed ${SEED}`,
  );
  const bare = repeated(process.execPath, ["-e", "0"]);
  console.log(`  bare node         wall ${show(bare.wall)} s, CPU ${show(bare.cpu)} s`);
  const reference = geos(file);
  console.log(
    reference
      ? `  GEOS ${reference.geos}       whole ${reference.whole_s} s, in two ${reference.split_s} s (best of 3, without starting and reading)`
      : "  GEOS              not there: /usr/bin/python3 without shapely",
  );
  for (const [name, more] of [
    ["one loop a part", ["--no-split"]],
    ["divided", []],
  ]) {
    const out = join(work, `out-${size.vertices}-${more.length}`);
    const hashes = new Set();
    const own = repeated(
      process.execPath,
      [command, "plan", file, "--out", out, ...more],
      (one) => {
        // 1: made, but a finding stands (one loop of an estate is over its limits).
        if (one.status !== 0 && one.status !== 1)
          throw new Error(`the command failed: ${one.stderr}${one.stdout}`);
        hashes.add(
          createHash("sha256")
            .update(readFileSync(join(out, "plan.geojson")))
            .digest("hex"),
        );
      },
    );
    const { loops } = JSON.parse(readFileSync(join(out, "summary.json"), "utf8"));
    const ratios = [
      `${(own.cpu.median / bare.cpu.median).toFixed(1)} × bare node`,
      ...(reference ? [`${(own.cpu.median / reference.split_s).toFixed(1)} × GEOS`] : []),
    ];
    console.log(
      `  ${name.padEnd(17)} wall ${show(own.wall)} s, CPU ${show(own.cpu)} s, peak ${show(own.memory, 0)} MB, ${loops.length} loops; CPU ${ratios.join(", ")}`,
    );
    console.log(`    plan.geojson sha256 ${[...hashes].join(" AND ALSO ")}`);
  }
}

try {
  const [{ model }] = cpus();
  const commit = execFileSync("git", ["rev-parse", "--short", "HEAD"], {
    cwd: home,
    encoding: "utf8",
  });
  console.log(
    `Node ${process.version}, ${cpus().length} × ${model}, load ${loadavg()[0].toFixed(1)}, commit ${commit.trim()}, ${runs} runs: median (least to greatest)`,
  );
  const sizes = values.large ? [...SIZES, LARGE] : SIZES;
  for (const size of sizes)
    if (!values.only || Number(values.only) === size.vertices) measure(size);
} finally {
  rmSync(work, { recursive: true });
}
