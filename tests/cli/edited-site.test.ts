/** What a page replans and saves, the command plans from the saved site file to the same bytes. */
import { copyFile, mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { planFiles } from "../../src/export/plan-files.ts";
import type { InputFile } from "../../src/model/features.ts";
import type { Edit } from "../../src/page/edits/edit.ts";
import { PlanningSession } from "../../src/page/worker/session.ts";
import { type PackedSource, unpackSource } from "../../src/page/worker/source.ts";
import { GARDEN, OF, PAVING, SITE_FILE } from "../edits/garden.ts";
import { demo, emptyFolder, pegline } from "./run.ts";

let cwd: string;
beforeEach(async () => {
  cwd = await emptyFolder();
});

async function put(path: string, text: string | Uint8Array): Promise<void> {
  await mkdir(dirname(join(cwd, path)), { recursive: true });
  await writeFile(join(cwd, path), text);
}

async function planned(...args: string[]): Promise<void> {
  const ran = await pegline(["plan", ...args, "--quiet"], { cwd });
  expect([0, 1], ran.stderr).toContain(ran.code);
}

const text = (path: string) => readFile(join(cwd, path), "utf8");

/** What the page of a result can plan from. */
async function source(folder: string): Promise<PackedSource> {
  const html = await text(`${folder}/plan.html`);
  const block = /<script type="application\/json" id="pegline-job">([\s\S]*?)<\/script>/.exec(html);
  return JSON.parse(block![1]!);
}

/** Plans in the page's way, saves, plans with the command, and compares every byte. */
async function sameBytes(folder: string, edits: readonly Edit[], ...more: string[]) {
  const packed = await source(folder);
  const outcome = await new PlanningSession(unpackSource(packed)).plan(edits);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  const { result, siteFile } = outcome.value;
  const [plan, summary] = planFiles(result).files;
  // Saved beside its inputs, in a folder of its own.
  const home = `home-${folder}`;
  for (const file of unpackSource(packed).files.inputs as InputFile[]) {
    await put(join(home, file.name), file.bytes);
    for (const [ending, bytes] of Object.entries(file.siblings ?? {})) {
      await put(join(home, file.name.replace(/\.[^.]*$/, ending)), bytes);
    }
  }
  await put(join(home, packed.siteFile.name), siteFile);
  const ran = await pegline(["plan", packed.siteFile.name, "--out", "out", "--quiet", ...more], {
    cwd: join(cwd, home),
  });
  expect([0, 1], ran.stderr).toContain(ran.code);
  expect(await text(`${home}/out/plan.geojson`)).toBe(plan!.text);
  expect(await text(`${home}/out/summary.json`)).toBe(summary!.text);
  return { siteFile, result };
}

describe("a site file and its page", () => {
  const edits: Edit[] = [
    { edit: "move", of: OF.roses, byM: [3.25, -1.5] },
    { edit: "set", of: OF.oak, set: { loop: "yes", setin_m: 0.45 } },
    { edit: "stations", spots: [{ name: "Shed", atM: [4, -8.5] }] },
    {
      edit: "draw",
      role: "bed",
      name: "</script><b>'\"",
      shape: {
        form: "area",
        areas: [
          [
            [
              [-9, 2],
              [-6, 2],
              [-6, 5],
            ],
          ],
        ],
      },
    },
    {
      edit: "edge",
      line: [
        [-15, 11.5],
        [15, 11.5],
      ],
      kind: "fence",
    },
    { edit: "setin", by: "edges", name: "fence", setinM: 0.35 },
    { edit: "profile-value", path: ["pegs", "spacing_max_m"], value: 0.7 },
    {
      edit: "run-ground",
      area: [
        [-4, -2],
        [2, -2],
        [2, 4],
      ],
      name: "Play",
      wire: "no",
    },
  ];

  it("give the same bytes as the command, edited and not", async () => {
    await put(GARDEN.name, GARDEN.bytes);
    await put(PAVING.name, PAVING.bytes);
    await put("pegline.json", SITE_FILE);
    await planned("pegline.json", "--out", "plan");
    expect((await source("plan")).siteFile).toEqual({ name: "pegline.json", text: SITE_FILE });
    const plain = await sameBytes("plan", []);
    const edited = await sameBytes("plan", edits);
    expect(edited.result.quantities.totals.wireM).not.toBe(plain.result.quantities.totals.wireM);
    expect(edited.siteFile).toContain("// measured");
  });
});

describe("a command line and its page", () => {
  it("the site file says what the line said: systems, roles, machine, language, sun", async () => {
    await copyFile(demo("house-garden.geojson"), join(cwd, "house.geojson"));
    const line = ["--profile", "large", "--role", "house=lawn", "--sun", "--zone", "+02:00"];
    await planned("house.geojson", ...line, "--parts", "none", "--units", "ft", "--out", "line");
    const { siteFile } = await source("line");
    expect(siteFile.name).toBe("pegline.json");
    const first = JSON.parse(await text("line/summary.json"));
    const { result } = await sameBytes("line", []);
    const wire = result.plan.loops.map(({ lengthM }) => Number(lengthM.toFixed(4)));
    expect(wire).toEqual(first.loops.map((loop: { length_m: number }) => loop.length_m));
    await sameBytes("line", [{ edit: "parts", parts: "own" }]);
  });

  it("a register's system, a profile file and a shapefile come along", async () => {
    for (const ending of [".shp", ".dbf", ".prj", ".shx", ".cpg"]) {
      await copyFile(demo(`shapefile/areas${ending}`), join(cwd, `areas${ending}`));
    }
    await put("mine.json", JSON.stringify({ name: "Mine", based_on: "small" }));
    await planned("areas.shp", "--profile", "mine.json", "--out", "shp");
    const packed = await source("shp");
    expect(packed.files.profile).toContain("Mine");
    await put("home-shp/mine.json", packed.files.profile!);
    await sameBytes("shp", [{ edit: "setin", by: "edges", name: "open", setinM: 0.5 }]);
  });
});
