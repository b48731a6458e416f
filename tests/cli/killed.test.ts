/**
 * The command killed (SIGKILL) at many moments. Some are drawn over the whole run, the others follow
 * the first sign of writing in the folder, as that is where something could be lost.
 *
 * PEGLINE_KILLS=200 for the long run, PEGLINE_SEED=… for other moments.
 */
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { watch } from "node:fs";
import { readdir, readFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { expect, it } from "vitest";
import { seeded } from "../support/seeded.ts";
import { planLawn, RESULT_FILES, siteFolder } from "./lawn.ts";
import { pegline } from "./run.ts";

const KILLS = Number(process.env.PEGLINE_KILLS ?? 20);
const SEED = Number(process.env.PEGLINE_SEED ?? 1);
/** After writing has begun it takes about so long, with the disk's own time. */
const WRITING_MS = 25;

/** Checksum of what somebody sees who opens all files; undefined where there is no folder. */
async function checksum(folder: string): Promise<string | undefined> {
  const names = await readdir(folder).catch(() => undefined);
  if (!names) return undefined;
  const hash = createHash("sha256");
  for (const name of RESULT_FILES) {
    hash.update(await readFile(join(folder, name)).catch(() => "missing"));
  }
  return hash.digest("hex");
}

/** Starts the command and kills it; says whether it was killed in time. */
function killed(args: readonly string[], cwd: string, afterMs: number, watched?: string) {
  const child = spawn(process.execPath, [resolve("dist/cli/pegline.js"), ...args], {
    cwd,
    stdio: "ignore",
  });
  let timer: NodeJS.Timeout | undefined;
  const kill = () => child.kill("SIGKILL");
  const watcher = watched
    ? watch(watched, () => {
        timer ??= setTimeout(kill, afterMs);
      })
    : undefined;
  if (!watched) timer = setTimeout(kill, afterMs);
  return new Promise<boolean>((done) => {
    child.on("close", (_, signal) => {
      clearTimeout(timer);
      watcher?.close();
      done(signal === "SIGKILL");
    });
  });
}

it(`killed ${KILLS} times, the old result or the new one is there whole (seed ${SEED})`, async () => {
  const cwd = await siteFolder();
  const folder = join(cwd, "r");
  const profiles = ["small", "medium"];
  const wholes: (string | undefined)[] = [];
  let runMs = 0;
  for (const profile of profiles) {
    const from = performance.now();
    expect((await pegline(planLawn(profile, profile), { cwd })).code).toBe(0);
    runMs = performance.now() - from;
    wholes.push(await checksum(join(cwd, profile)));
  }
  expect(new Set(wholes).size).toBe(2);
  const random = seeded(SEED);
  const count = { old: 0, new: 0, inTime: 0, writing: 0 };
  expect((await pegline(planLawn("small", "r"), { cwd })).code).toBe(0);
  for (let i = 0; i < KILLS; i++) {
    const before = await checksum(folder);
    const isWatched = i % 4 !== 0;
    const afterMs = random() * (isWatched ? WRITING_MS : runMs);
    const other = profiles[before === wholes[0] ? 1 : 0]!;
    const inTime = await killed(planLawn(other, "r"), cwd, afterMs, isWatched ? folder : undefined);
    const after = await checksum(folder);
    expect(wholes, `kill ${i}, ${afterMs.toFixed(2)} ms`).toContain(after);
    count[after === before ? "old" : "new"]++;
    if (inTime) count.inTime++;
    if ((await readdir(folder)).length > RESULT_FILES.length) count.writing++;
    if (i % 10 === 9) {
      expect((await pegline(planLawn("small", "r"), { cwd })).code).toBe(0);
      expect(await readdir(folder)).toEqual(RESULT_FILES);
      expect((await readdir(cwd)).sort()).toEqual(["lawn.geojson", "medium", "r", "small"]);
    }
  }
  if (process.env.PEGLINE_KILLS) console.log(`seed ${SEED}`, count);
  expect(count.inTime).toBeGreaterThan(KILLS / 4);
  expect(count.old).toBeGreaterThan(0);
}, 1_200_000);

it("killed while it makes a new folder, that is there whole or not at all", async () => {
  const random = seeded(SEED + 1);
  for (let i = 0; i < Math.max(3, KILLS / 10); i++) {
    const cwd = await siteFolder();
    await killed(planLawn("medium", "r"), cwd, random() * WRITING_MS, cwd);
    const names = await readdir(join(cwd, "r")).catch(() => undefined);
    expect([undefined, RESULT_FILES]).toContainEqual(names);
    expect((await pegline(planLawn("medium", "r"), { cwd })).code).toBe(0);
    expect((await readdir(cwd)).sort()).toEqual(["lawn.geojson", "r"]);
  }
}, 1_200_000);
