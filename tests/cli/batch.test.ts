/** `pegline batch` as it is built. What it plans is held against `pegline plan` of each plot alone. */
import { spawn } from "node:child_process";
import { copyFile, mkdir, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import papaparse from "papaparse";
import { describe, expect, it } from "vitest";
import { plotSheet } from "../bench/plot-sheet.mjs";
import { seeded } from "../support/seeded.ts";
import { emptyFolder, pegline } from "./run.ts";

const BIN = resolve("dist/cli/pegline.js");
const SEED = Number(process.env.PEGLINE_SEED ?? 7);
/** How often a batch is killed several times over: PEGLINE_KILLS=40 for ten times. */
const ROUNDS = Math.max(1, Math.round(Number(process.env.PEGLINE_KILLS ?? 4) / 4));

/** Small gardens: the machinery is tested, not the planner. */
const town = (plots: number) => plotSheet({ plots, seed: SEED, vertices: 40, islands: 1 });

const read = (...path: string[]) => readFile(join(...path), "utf8");

/** Rows as objects; the types in this project know only how tables of survey points are read. */
const TABLE = { header: true, skipEmptyLines: true } as unknown as { delimiter: string };

async function rowsOf(...path: string[]): Promise<Record<string, string>[]> {
  return papaparse.parse(await read(...path), TABLE).data as unknown as Record<string, string>[];
}

/** Runs the command with something on its standard input. */
function piped(args: readonly string[], cwd: string, input: string) {
  const child = spawn(process.execPath, [BIN, ...args], { cwd, stdio: ["pipe", "pipe", "pipe"] });
  let [stdout, stderr] = ["", ""];
  child.stdout.setEncoding("utf8").on("data", (text) => (stdout += text));
  child.stderr.setEncoding("utf8").on("data", (text) => (stderr += text));
  child.stdin.on("error", () => {}).end(input);
  return new Promise<{ code: number | null; stdout: string; stderr: string }>((done) => {
    child.on("close", (code) => done({ code, stdout, stderr }));
  });
}

// biome-ignore lint/suspicious/noExplicitAny: tests look into whatever was written
type Any = any;

/** Features of a plan without what a batch adds to them. */
const plain = (features: Any[]) =>
  features.map(({ properties: { plot: _, plot_number: __, ...rest }, ...feature }) => ({
    ...feature,
    properties: rest,
  }));

/** `pegline plan` of a plot alone, its file called as that of all. */
async function single(collection: object, name: string) {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, name), JSON.stringify(collection));
  const ran = await pegline(["plan", name, "--out", "alone", "--json"], { cwd });
  expect(ran.code).toBe(0);
  return { summary: ran.json(), plan: JSON.parse(await read(cwd, "alone", "plan.geojson")) };
}

const sequence = (values: readonly unknown[]) =>
  values.map((one) => `\u001e${typeof one === "string" ? one : JSON.stringify(one)}\n`).join("");
const textsOf = (stdout: string): Any[] =>
  stdout
    .split("\u001e")
    .slice(1)
    .map((text) => JSON.parse(text));

describe("pegline batch", () => {
  it("plans each plot as `plan` does alone, by attribute, by lawn and as a stream", async () => {
    const cwd = await emptyFolder();
    const { collection, single: alone } = town(2);
    await writeFile(join(cwd, "town.geojson"), JSON.stringify(collection));
    const by = await pegline(["batch", "town.geojson", "--by", "parcel", "--json"], { cwd });
    expect(by.code).toBe(0);
    expect(by.json()).toMatchObject({
      plots: 2,
      planned: 2,
      failed: 0,
      division: { by: "parcel" },
    });
    const names = ["batch.json", "plans.geojsonl", "plots.csv"];
    expect(await readdir(cwd)).toEqual(["town-batch", "town.geojson"]);
    expect((await readdir(join(cwd, "town-batch"))).sort()).toEqual(names);
    const lawns = ["batch", "town.geojson", "--each-lawn", "--out", "lawns", "--quiet"];
    expect((await pegline(lawns, { cwd })).code).toBe(0);
    const files = [1, 2].map((number) => ({ name: `P${number}`, ...alone(number) }));
    const stream = await piped(["batch", "-"], cwd, sequence(files));
    expect(stream.code).toBe(0);
    const lines = (await read(cwd, "town-batch", "plans.geojsonl")).trim().split("\n");
    const features: Any[] = lines.map((line) => JSON.parse(line));
    const ofLawns: Any[] = (await read(cwd, "lawns", "plans.geojsonl"))
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line));
    const rows = await rowsOf(cwd, "town-batch", "plots.csv");
    const sums = { wire: 0, pegs: 0 };
    for (const number of [1, 2]) {
      const { plan, summary } = await single(alone(number), "town.geojson");
      const own = features.filter((one) => one.properties.plot === `P${number}`);
      expect(plain(own)).toEqual(plan.features);
      expect(plain(ofLawns.filter((one) => one.properties.plot_number === number))).toEqual(
        plan.features,
      );
      const text = textsOf(stream.stdout)[number - 1]!;
      expect(text).toMatchObject({ type: "FeatureCollection", plot: `P${number}` });
      const { file: _, ...shown } = plan.features.at(-1).properties;
      expect(plain(text.features).at(-1).properties).toMatchObject(shown);
      const wire = (list: Any[]) => list.filter((one) => one.properties.kind !== "finding");
      expect(wire(plain(text.features))).toEqual(wire(plan.features));
      const { totals } = summary;
      const row = rows[number - 1]!;
      expect([row.plot, row.status, row.check]).toEqual([`P${number}`, "planned", "holds"]);
      expect([row.wire_m, row.pegs, row.area_m2].map(Number)).toEqual([
        totals.wire_m,
        totals.pegs,
        summary.site.area_m2,
      ]);
      expect(text.row.wire_m).toBe(totals.wire_m);
      sums.wire += totals.wire_m;
      sums.pegs += totals.pegs;
    }
    expect(by.json().wire_m).toBeCloseTo(sums.wire, 3);
    expect(by.json().pegs).toBe(sums.pegs);
    // In input order, each plot's features together.
    const order = features.map((one) => one.properties.plot_number);
    expect(order).toEqual([...order].sort());
  }, 120_000);

  it("a bad plot is a row with a code, and the rest goes on", async () => {
    const cwd = await emptyFolder();
    const { single: alone } = town(3);
    const square = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 0],
    ];
    const feature = (properties: object, geometry: unknown) => ({
      type: "Feature",
      properties,
      geometry,
    });
    const bad = [
      [
        "no lawn",
        {
          type: "FeatureCollection",
          features: [feature({ role: "water" }, { type: "Polygon", coordinates: [square] })],
        },
      ],
      [
        "no place",
        feature(
          {},
          {
            type: "Polygon",
            coordinates: [
              [
                [5e6, 4e6],
                [5e6, 4.1e6],
                [5.1e6, 4e6],
                [5e6, 4e6],
              ],
            ],
          },
        ),
      ],
      [
        "a country",
        feature(
          { role: "lawn" },
          {
            type: "Polygon",
            coordinates: [
              [
                [0, 0],
                [5, 0],
                [5, 5],
                [0, 0],
              ],
            ],
          },
        ),
      ],
      ["no feature", { type: "Point", coordinates: ["x"] }],
      ["no JSON", '{"type":"Feature"'],
      ["nothing", { type: "FeatureCollection", features: [] }],
    ] as const;
    const input = sequence([alone(1), ...bad.map(([, value]) => value), alone(2)]);
    const ran = await piped(["batch", "-", "--jobs", "2"], cwd, input);
    expect(ran.code).toBe(1);
    const rows = textsOf(ran.stdout).map((text) => text.row);
    expect(rows.map((row) => row.number)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    expect(rows.map((row) => row.status === "planned")).toEqual([
      true,
      ...bad.map(() => false),
      true,
    ]);
    for (const row of rows.slice(1, -1)) {
      expect(row.problem).toMatch(/^[A-Z]+(_[A-Z]+)+$/);
      expect(row.problem).not.toBe("INTERNAL_FAULT");
      expect(row.remedy.length).toBeGreaterThan(10);
    }
    expect(rows[1].problem).toBe("NO_LAWN");
    expect(rows[3].problem).toBe("SITE_TOO_LARGE");
  });

  it("a plot that takes too long is given up, and its worker replaced", async () => {
    const cwd = await emptyFolder();
    const { single: alone } = town(3);
    const large = plotSheet({ plots: 1, seed: 1, vertices: 30_000, islands: 400 }).single(1);
    const input = sequence([alone(1), large, alone(2), alone(3)]);
    const ran = await piped(["batch", "-", "--jobs", "1", "--plot-seconds", "4"], cwd, input);
    const rows = textsOf(ran.stdout).map((text) => [text.row.status, text.row.problem]);
    expect(rows[1]).toEqual(["failed", "PLOT_TOO_LONG"]);
    expect(rows[3]).toEqual(["planned", null]);
  });

  it("names of plots cannot run as formulas, break the table or colour a terminal", async () => {
    const cwd = await emptyFolder();
    const names = ["=HYPERLINK(1)", 'a,"b"\r\nc', "\u001b[31mred", "-", "P\u202eX"];
    const { single: alone } = town(names.length);
    const features = names.flatMap((parcel, i) =>
      (alone(i + 1) as Any).features.map((one: Any) => ({
        ...one,
        properties: { ...one.properties, parcel },
      })),
    );
    await writeFile(
      join(cwd, "in.geojson"),
      JSON.stringify({ type: "FeatureCollection", features }),
    );
    const ran = await pegline(["batch", "in.geojson", "--by", "parcel", "--out", "o"], { cwd });
    expect(ran.code).toBe(0);
    const table = await read(cwd, "o", "plots.csv");
    expect(table).not.toContain("\u001b");
    const rows = await rowsOf(cwd, "o", "plots.csv");
    expect(rows).toHaveLength(names.length);
    expect(rows[0]!.plot).toBe("'=HYPERLINK(1)");
    expect(rows[3]!.plot).toBe("'-");
    const lines = await read(cwd, "o", "plans.geojsonl");
    for (const acting of ["\u001b", "\u202e"]) expect(lines).not.toContain(acting);
    expect(JSON.parse(lines.split("\n")[0]!).properties.plot).toBe(names[0]);
  });

  it("refuses what does not fit together, each with a code", async () => {
    const cwd = await emptyFolder();
    await writeFile(join(cwd, "town.geojson"), JSON.stringify(town(1).collection));
    const code = async (...args: string[]) => {
      const ran = await pegline(["batch", ...args, "--json"], { cwd });
      return [ran.code, ran.json().error.code];
    };
    expect(await code()).toEqual([2, "INPUT_MISSING"]);
    expect(await code("town.geojson")).toEqual([2, "PLOT_DIVISION"]);
    expect(await code("town.geojson", "--by", "a", "--each-lawn")).toEqual([2, "PLOT_DIVISION"]);
    expect(await code("-", "--each-lawn")).toEqual([2, "PLOT_DIVISION"]);
    expect(await code("-", "town.geojson")).toEqual([2, "STREAM_NOT_ALONE"]);
    expect(await code("-", "--out", "o")).toEqual([2, "STREAM_TO_FOLDER"]);
    expect(await code("-")).toEqual([2, "STREAM_WITH_JSON"]);
    expect(await code("town.geojson", "--by", "parcle")).toEqual([2, "PLOT_FIELD_MISSING"]);
    expect(await code("town.geojson", "--by", "parcel", "--jobs", "0")).toEqual([
      2,
      "NUMBER_INVALID",
    ]);
    expect(await code("none.geojson", "--by", "parcel")).toEqual([3, "INPUT_NOT_FOUND"]);
    await mkdir(join(cwd, "mine"));
    await copyFile(join(cwd, "town.geojson"), join(cwd, "mine", "x.geojson"));
    expect(await code("town.geojson", "--by", "parcel", "--out", "mine")).toEqual([
      2,
      "OUT_NOT_OURS",
    ]);
    const file = await piped(["batch", "-"], cwd, JSON.stringify(town(1).collection, null, 2));
    expect([file.code, file.stderr]).toEqual([3, expect.stringContaining("STREAM_NOT_SEQUENCE")]);
    const nothing = await piped(["batch", "-"], cwd, "");
    expect([nothing.code, nothing.stdout]).toEqual([0, ""]);
    expect((await readdir(cwd)).sort()).toEqual(["mine", "town.geojson"]);
  });

  it("ends where nobody reads its output", async () => {
    const cwd = await emptyFolder();
    const { single: alone } = town(6);
    const child = spawn(process.execPath, [BIN, "batch", "-", "--jobs", "1"], { cwd });
    let stderr = "";
    child.stderr.setEncoding("utf8").on("data", (text) => (stderr += text));
    child.stdin.on("error", () => {}).end(sequence([1, 2, 3, 4, 5, 6].map((n) => alone(n))));
    child.stdout.once("data", () => child.stdout.destroy());
    const code = await new Promise((done) => child.on("close", done));
    expect([code, stderr]).toEqual([0, ""]);
  });
});

describe("killed and begun again", () => {
  /** Starts a batch and kills it some time after plots begin to come; says whether in time. */
  function killed(args: readonly string[], cwd: string, afterMs: number, signal: NodeJS.Signals) {
    const child = spawn(process.execPath, [BIN, ...args], {
      cwd,
      stdio: ["ignore", "ignore", "pipe"],
    });
    let stderr = "";
    child.stderr.setEncoding("utf8").on("data", (text) => (stderr += text));
    const timer = setTimeout(() => child.kill(signal), afterMs);
    return new Promise<{ inTime: boolean; code: number | null; stderr: string }>((done) => {
      child.on("close", (code, by) => {
        clearTimeout(timer);
        done({ inTime: by === signal || (code ?? 0) > 128, code, stderr });
      });
    });
  }

  it("at any moment, it goes on to the same end and does no plot twice", async () => {
    const cwd = await emptyFolder();
    const plots = 16;
    await writeFile(join(cwd, "town.geojson"), JSON.stringify(town(plots).collection));
    const args = ["batch", "town.geojson", "--by", "parcel", "--out", "o", "--quiet"];
    const whole = [...args.slice(0, 5), "whole", "--quiet"];
    const from = performance.now();
    expect((await pegline(whole, { cwd })).code).toBe(0);
    const runMs = performance.now() - from;
    const random = seeded(SEED);
    let [inTime, resumed, untold] = [0, 0, 0];
    for (let round = 0; round < ROUNDS; round++) {
      let done = 0;
      for (let i = 0; i < 4; i++) {
        const signal = i === 2 ? "SIGTERM" : "SIGKILL";
        const said = signal === "SIGTERM" ? args.filter((one) => one !== "--quiet") : args;
        const ran = await killed(said, cwd, runMs * (0.2 + 0.35 * random()), signal);
        if (!ran.inTime) break;
        inTime++;
        if (ran.code === 143) untold += ran.stderr.includes("BATCH_STOPPED") ? 0 : 1;
        expect(await readdir(cwd)).not.toContain("o");
        const lines = await read(cwd, "o.unfinished", "journal.jsonl").catch(() => "");
        const written = Number(JSON.parse(lines.trim().split("\n").at(-1) || "{}").plots ?? 0);
        // What is written stays written: a run begins where the one before it ended.
        expect(written).toBeGreaterThanOrEqual(done);
        done = written;
      }
      const last = await pegline(
        args.filter((one) => one !== "--quiet"),
        { cwd },
      );
      expect(last.code).toBe(0);
      if (last.stderr.includes("BATCH_RESUMED")) resumed++;
      for (const name of ["plans.geojsonl", "plots.csv", "batch.json"]) {
        const [own, all] = [await read(cwd, "o", name), await read(cwd, "whole", name)];
        // The finding of having been resumed is the one difference.
        if (name === "batch.json") {
          expect({ ...JSON.parse(own), findings: [] }).toEqual(JSON.parse(all));
        } else expect(own === all, name).toBe(true);
      }
      expect((await readdir(cwd)).sort()).toEqual(["o", "town.geojson", "whole"]);
      await rm(join(cwd, "o"), { recursive: true });
    }
    expect(inTime).toBeGreaterThan(ROUNDS);
    expect(resumed).toBeGreaterThan(0);
    expect(untold).toBe(0);
  }, 1_200_000);

  it("other options are another batch, unless it is begun anew", async () => {
    const cwd = await emptyFolder();
    await writeFile(join(cwd, "town.geojson"), JSON.stringify(town(12).collection));
    const args = ["batch", "town.geojson", "--by", "parcel", "--out", "o", "--json"];
    for (let waitMs = 1500; !(await readdir(cwd)).includes("o.unfinished"); waitMs *= 1.3) {
      await killed(args, cwd, waitMs, "SIGKILL");
    }
    const other = await pegline([...args, "--profile", "small"], { cwd });
    expect([other.code, other.json().error.code]).toEqual([2, "BATCH_UNFINISHED_OTHER"]);
    const anew = await pegline([...args, "--profile", "small", "--restart"], { cwd });
    expect([anew.code, anew.json().planned]).toEqual([0, 12]);
    expect((await readdir(cwd)).sort()).toEqual(["o", "town.geojson"]);
  }, 120_000);
});
