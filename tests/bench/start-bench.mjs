// Times what a fresh process costs: bare Node, `--version`, the plan of the demo garden; by turns.
// CPU of the main thread and of the whole process. Usage: node tests/bench/start-bench.mjs [--runs N]
// [--with DIR]; DIR is another built checkout to compare with.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { parseArgs } from "node:util";

const { values } = parseArgs({
  options: { runs: { type: "string", default: "5" }, with: { type: "string" } },
});
const folder = mkdtempSync(join(tmpdir(), "pegline-start-"));
const garden = resolve("fixtures/demo/house-garden.geojson");
const report = join(folder, "times");

// Linux says for each thread how long it has run, in nanoseconds.
writeFileSync(
  join(folder, "times.cjs"),
  `process.on("exit", () => {
  const fs = require("node:fs");
  const own = fs.readFileSync("/proc/self/task/" + process.pid + "/schedstat", "utf8");
  const { user, system } = process.cpuUsage();
  fs.writeFileSync(${JSON.stringify(report)}, JSON.stringify([Number(own.split(" ")[0]) / 1e6, (user + system) / 1e3]));
});\n`,
);

const commandOf = (home) => join(home, "dist/cli/pegline.js");
const plan = ["plan", garden, "--out", join(folder, "plan"), "--quiet"];
const cases = [
  ["bare node", ["-e", "0"]],
  ["--version", [commandOf("."), "--version"]],
  ["garden", [commandOf("."), ...plan]],
  ...(values.with
    ? [
        ["--version, other", [commandOf(values.with), "--version"]],
        ["garden, other", [commandOf(values.with), ...plan]],
      ]
    : []),
];
const times = cases.map(() => []);
for (let run = 0; run < Number(values.runs); run++) {
  cases.forEach(([name, args], i) => {
    const { status } = spawnSync(process.execPath, ["-r", join(folder, "times.cjs"), ...args]);
    if (status !== 0) throw new Error(`${name} ended with ${status}`);
    times[i].push(JSON.parse(readFileSync(report, "utf8")));
  });
}
rmSync(folder, { recursive: true });

const sorted = (i, which) => times[i].map((one) => one[which]).sort((a, b) => a - b);
const median = (list) => list[list.length >> 1];
const bare = median(sorted(0, 0));
console.log(
  "case | main thread, ms: median (least to greatest) | in times of bare node | process, ms",
);
cases.forEach(([name], i) => {
  const main = sorted(i, 0);
  const own = median(main);
  console.log(
    `${name} | ${own.toFixed(0)} (${main[0].toFixed(0)} to ${main.at(-1).toFixed(0)}) | ${(own / bare).toFixed(2)} | ${median(sorted(i, 1)).toFixed(0)}`,
  );
});
