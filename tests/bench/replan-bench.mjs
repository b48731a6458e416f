// Planning again in a process that has planned before, as a page's worker does, against the cold
// command: after each of a few edits a bed stands elsewhere. The last plan must be that of the command
// to the byte. Usage: node tests/bench/replan-bench.mjs [--plans N]
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { planFiles, planInputs } from "../../dist/index.js";
import { organicEstate } from "./organic-estate.mjs";

const { values } = parseArgs({ options: { plans: { type: "string", default: "20" } } });
const plans = Number(values.plans);
const folder = mkdtempSync(join(tmpdir(), "pegline-replan-"));
const command = resolve("dist/cli/pegline.js");
const SEED = 7;

const sites = [
  ["garden of the demo", JSON.parse(readFileSync("fixtures/demo/house-garden.geojson", "utf8"))],
  [
    "estate, 2,000 vertices, 60 islands",
    organicEstate({ vertices: 2000, islands: 60, seed: SEED }).geojson,
  ],
];

/** The site with one bed moved a few centimetres. */
function edited(site, step) {
  const isBed = ({ properties }) => properties?.role === "bed";
  const bed = site.features.find(isBed);
  const moved = bed.geometry.coordinates.map((ring) =>
    ring.map(([lon, lat]) => [lon + step * 2e-7, lat]),
  );
  const geometry = { ...bed.geometry, coordinates: moved };
  const features = site.features.map((one) => (one === bed ? { ...bed, geometry } : one));
  return { ...site, features };
}

/** CPU of the main thread so far, milliseconds (Linux); a machine shared with others says little else. */
function mainMs(pid = process.pid) {
  return Number(readFileSync(`/proc/self/task/${pid}/schedstat`, "utf8").split(" ")[0]) / 1e6;
}

const report = join(folder, "main");
writeFileSync(
  join(folder, "main.cjs"),
  `process.on("exit", () => require("node:fs").writeFileSync(${JSON.stringify(report)}, require("node:fs").readFileSync("/proc/self/task/" + process.pid + "/schedstat")));\n`,
);

/** The whole command in a fresh process: main thread, milliseconds, and its plan. */
function cold(path, args) {
  const { status } = spawnSync(process.execPath, [
    "-r",
    join(folder, "main.cjs"),
    command,
    ...args,
  ]);
  if (status !== 0 && status !== 1) throw new Error(`${path}: the command ended with ${status}`);
  return Number(readFileSync(report, "utf8").split(" ")[0]) / 1e6;
}

const median = (list) => [...list].sort((a, b) => a - b)[list.length >> 1];

console.log("site | first, ms | second | third | later, median (least to greatest) | cold command");
for (const [name, site] of sites) {
  const times = [];
  const path = join(folder, "site.geojson");
  let last;
  for (let step = 0; step < plans; step++) {
    const bytes = Buffer.from(JSON.stringify(edited(site, step)));
    const before = mainMs();
    const planned = await planInputs([{ name: path, bytes }]);
    times.push(mainMs() - before);
    if (!planned.ok) throw new Error(planned.problem.message);
    last = { bytes, result: planned.value };
  }
  writeFileSync(path, last.bytes);
  const out = join(folder, "out");
  const args = ["plan", path, "--out", out, "--quiet"];
  const coldMs = median([cold(path, args), cold(path, args), cold(path, args)]);
  const again = planFiles(last.result).files.find((file) => file.name === "plan.geojson").text;
  const isSame = readFileSync(join(out, "plan.geojson"), "utf8") === again;
  const later = times.slice(Math.min(5, plans - 1));
  const figures = [...times.slice(0, 3), median(later)].map((one) => one.toFixed(0));
  const [least, greatest] = [Math.min(...later), Math.max(...later)].map((one) => one.toFixed(0));
  const share = (coldMs / median(later)).toFixed(1);
  console.log(
    `${name} | ${figures.join(" | ")} (${least} to ${greatest}) | ${coldMs.toFixed(0)}, ${share} times as much | plan ${isSame ? "the same" : "DIFFERS"}`,
  );
  if (!isSame) process.exitCode = 1;
}
rmSync(folder, { recursive: true });
