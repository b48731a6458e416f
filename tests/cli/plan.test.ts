import { copyFile, mkdir, readdir, readFile, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { RESULT_FILES } from "./lawn.ts";
import { demo, emptyFolder, pegline } from "./run.ts";

const GARDEN = demo("house-garden.geojson");

describe("pegline plan", () => {
  it("writes its files into a folder named after the input and tells people what to do", async () => {
    const cwd = await emptyFolder();
    const ran = await pegline(["plan", GARDEN], { cwd });
    expect(ran.code).toBe(0);
    expect(await readdir(cwd)).toEqual(["house-garden"]);
    expect(await readdir(join(cwd, "house-garden"))).toEqual(RESULT_FILES);
    for (const word of ["Loops", "Wire and pegs to buy", "Passages", "Cautions", "open water"])
      expect(ran.stdout).toContain(word);
    expect(ran.stdout).toContain("Results in house-garden: plan.geojson, summary.json");
    expect(ran.stderr).toContain("To do: ");
    // biome-ignore lint/suspicious/noControlCharactersInRegex: no colours, no progress in a pipe
    expect(ran.stdout + ran.stderr).not.toMatch(/[\u001b\r]/);
  });

  it("--json prints the content of summary.json and nothing else", async () => {
    const cwd = await emptyFolder();
    const ran = await pegline(["plan", GARDEN, "--json", "--out", "results"], { cwd });
    expect(ran.code).toBe(0);
    const written = JSON.parse(await readFile(join(cwd, "results/summary.json"), "utf8"));
    expect(ran.json()).toEqual(written);
    expect(written).toMatchObject({ tool: "pegline", profile: "medium" });
    expect(ran.stderr).toContain("Findings");
  });

  it("--quiet says nothing where all is well", async () => {
    const cwd = await emptyFolder();
    expect(await pegline(["plan", GARDEN, "--quiet"], { cwd })).toMatchObject({
      code: 0,
      stdout: "",
      stderr: "",
    });
  });

  it("gives the same bytes every time, and the same plan from every format", async () => {
    const cwd = await emptyFolder();
    const shapes = ["areas", "lines", "points"].map((name) => demo(`shapefile/${name}.shp`));
    const sets = [
      [GARDEN],
      [GARDEN],
      [demo("house-garden.kml")],
      [demo("house-garden-shapefile.zip")],
      shapes,
    ];
    const wires: number[][] = [];
    const bytes: string[] = [];
    for (const [i, inputs] of sets.entries()) {
      const ran = await pegline(["plan", ...inputs, "--json", "--out", `r${i}`], { cwd });
      expect(ran.code).toBe(0);
      wires.push(ran.json().loops.map((loop: { length_m: number }) => loop.length_m));
      bytes.push(await readFile(join(cwd, `r${i}/plan.geojson`), "utf8"));
    }
    expect(bytes[1]).toBe(bytes[0]);
    for (const lengths of wires.slice(2)) {
      expect(lengths).toHaveLength(wires[0]!.length);
      // 5 mm: the garden in UTM and in degrees is the same garden.
      lengths.forEach((length, k) => {
        expect(Math.abs(length - wires[0]![k]!)).toBeLessThan(0.005);
      });
    }
  });

  it("the side passage is shut for the medium machine and open for the small one", async () => {
    const cwd = await emptyFolder();
    const verdict = async (profile: string) => {
      const ran = await pegline(["plan", GARDEN, "--profile", profile, "--json"], { cwd });
      const { loops, passages } = ran.json();
      const side = passages.find((one: { width_m: number }) => Math.abs(one.width_m - 1.4) < 0.005);
      return [side?.verdict, loops.length];
    };
    expect(await verdict("medium")).toEqual(["shut", 2]);
    expect(await verdict("small")).toEqual(["drive", 1]);
  });

  it("takes a profile file, and says what it left to the built-in one", async () => {
    const cwd = await emptyFolder();
    const profile = { name: "mine", based_on: "small", setin_m: { open: 0.25 } };
    await writeFile(join(cwd, "mine.json"), JSON.stringify(profile));
    const ran = await pegline(["plan", GARDEN, "--profile", "mine.json", "--json"], { cwd });
    const summary = ran.json();
    expect(summary.profile).toBe("mine");
    expect(summary.profile_values.setin_m.open).toBe(0.25);
    expect(summary.findings.map((one: { code: string }) => one.code)).toContain("PROFILE_FILLED");
  });

  it("refuses a profile file with a mistake: exit 2, the field, nothing written", async () => {
    const cwd = await emptyFolder();
    await writeFile(join(cwd, "bad.json"), '{"name": "bad", "setin_m": {"opne": 0.2}}');
    const ran = await pegline(["plan", GARDEN, "--profile", "bad.json", "--json"], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.json().error).toMatchObject({ code: "PROFILE_INVALID", file: "bad.json" });
    expect(ran.json().error.message).toContain("did you mean open");
    expect(await readdir(cwd)).toEqual(["bad.json"]);
  });
});

describe("the output folder", () => {
  it("is replaced whole when it holds an earlier result", async () => {
    const cwd = await emptyFolder();
    await pegline(["plan", GARDEN, "--out", "r", "--quiet"], { cwd });
    const before = await readFile(join(cwd, "r/summary.json"), "utf8");
    const again = ["plan", GARDEN, "--out", "r", "--quiet", "--profile", "small"];
    expect((await pegline(again, { cwd })).code).toBe(0);
    expect(await readFile(join(cwd, "r/summary.json"), "utf8")).not.toBe(before);
    expect(await readdir(cwd)).toEqual(["r"]);
  });

  it("is refused when it holds anything else, and stays as it was", async () => {
    const cwd = await emptyFolder();
    await pegline(["plan", GARDEN, "--out", "r", "--quiet"], { cwd });
    await writeFile(join(cwd, "r/holiday.txt"), "mine");
    const ran = await pegline(["plan", GARDEN, "--out", "r", "--json"], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.json().error.code).toBe("OUT_NOT_OURS");
    expect((await readdir(join(cwd, "r"))).sort()).toEqual([...RESULT_FILES, "holiday.txt"].sort());
  });

  it.each([
    ["a summary.json of another tool", "summary.json", '{"tool": "other"}'],
    ["a plan without a summary", "plan.geojson", "{}"],
    ["a file with another name", "notes.md", "mine"],
  ])("is refused when it holds %s", async (_, name, text) => {
    const cwd = await emptyFolder();
    await mkdir(join(cwd, "r"));
    await writeFile(join(cwd, "r", name), text);
    const ran = await pegline(["plan", GARDEN, "--out", "r", "--json"], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.json().error.code).toBe("OUT_NOT_OURS");
    expect(await readFile(join(cwd, "r", name), "utf8")).toBe(text);
  });

  it("may be new with its parents, empty, or a link to a folder; not a file", async () => {
    const cwd = await emptyFolder();
    await mkdir(join(cwd, "empty"));
    await mkdir(join(cwd, "real"));
    await symlink("real", join(cwd, "link"));
    await writeFile(join(cwd, "file"), "mine");
    for (const out of ["a/b/c", "empty", "link"])
      expect((await pegline(["plan", GARDEN, "--out", out, "--quiet"], { cwd })).code).toBe(0);
    expect(await readdir(join(cwd, "real"))).toHaveLength(RESULT_FILES.length);
    const ran = await pegline(["plan", GARDEN, "--out", "file", "--json"], { cwd });
    expect(ran.json().error.code).toBe("OUT_NOT_OURS");
  });

  it("is not left half-written or empty when an input fails", async () => {
    const cwd = await emptyFolder();
    await writeFile(join(cwd, "broken.geojson"), '{"type": "FeatureColl');
    expect((await pegline(["plan", "broken.geojson", "--out", "r"], { cwd })).code).toBe(3);
    expect(await readdir(cwd)).toEqual(["broken.geojson"]);
  });
});

describe("a shapefile", () => {
  it("is read with its parts whatever the case of their endings, and from a shell's glob", async () => {
    const cwd = await emptyFolder();
    const parts = ["shp", "DBF", "PRJ", "cpg", "shx"];
    for (const part of parts)
      await copyFile(demo(`shapefile/areas.${part.toLowerCase()}`), join(cwd, `areas.${part}`));
    const glob = await readdir(cwd);
    const ran = await pegline(["inspect", ...glob, "--json"], { cwd });
    expect(ran.code).toBe(0);
    const { inputs } = ran.json();
    expect(inputs).toHaveLength(1);
    expect(inputs[0].layers[0]).toMatchObject({ crs_from: ".prj", features: 8 });
    expect(inputs[0].layers[0].fields).toContain("role");
  });
});
