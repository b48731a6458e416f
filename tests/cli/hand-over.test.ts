import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { RESULT_FILES, siteFolder } from "./lawn.ts";
import { pegline } from "./run.ts";

const plan = (...more: string[]) => ["plan", "lawn.geojson", "--out", "r", "--quiet", ...more];

describe("the lists of pegline plan", () => {
  it("are written when they are asked for, in the language and unit asked for", async () => {
    const cwd = await siteFolder();
    const more = ["--lists", "ties,points", "--lists", "reels", "--language", "de"];
    const ran = await pegline(plan(...more, "--units", "feet"), { cwd });
    expect(ran.code).toBe(0);
    const lists = ["controls.csv", "points.csv", "points.txt", "reel-sizes.csv", "reels.csv"];
    expect(await readdir(join(cwd, "r"))).toEqual([...RESULT_FILES, ...lists, "ties.csv"].sort());
    const guide = await readFile(join(cwd, "r/guide.txt"), "utf8");
    expect(guide).toMatch(/^Verlegeanleitung: lawn\n/);
    expect(guide).toMatch(/\d+ ft/);
    expect(await readFile(join(cwd, "r/ties.csv"), "utf8")).toContain('"tape_1_ft"');
    // A folder with lists is a result of ours; those no longer asked for go with it.
    expect((await pegline(plan(), { cwd })).code).toBe(0);
    expect(await readdir(join(cwd, "r"))).toEqual(RESULT_FILES);
  });

  it("may stand in the site file; the command line wins and says so", async () => {
    const cwd = await siteFolder();
    const file = {
      inputs: ["lawn.geojson"],
      out: "r",
      lists: ["gpx"],
      language: "de",
      units: "ft",
    };
    await writeFile(join(cwd, "pegline.json"), JSON.stringify(file));
    const ran = await pegline(["plan", "pegline.json", "--language", "en"], { cwd });
    expect(ran.code).toBe(0);
    expect(ran.stderr).toContain("--language in place of language");
    expect(await readFile(join(cwd, "r/guide.txt"), "utf8")).toMatch(/^Laying guide: lawn\n/);
    expect(await readdir(join(cwd, "r"))).toContain("pegs.gpx");
  });

  it.each([
    [["--lists", "tise"], "LISTS_OPTION_INVALID", "Did you mean ties?"],
    [["--language", "fr"], "LANGUAGE_OPTION_INVALID", ""],
    [["--units", "yd"], "UNITS_OPTION_INVALID", ""],
  ])("%j is refused with %s", async (more, code, remedy) => {
    const cwd = await siteFolder();
    const ran = await pegline([...plan(...more), "--json"], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.json().error.code).toBe(code);
    expect(ran.json().error.remedy).toContain(remedy);
    expect(await readdir(cwd)).toEqual(["lawn.geojson"]);
  });
});
