import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { demo, emptyFolder, pegline } from "./run.ts";

const GARDEN = demo("house-garden.geojson");

describe("pegline break", () => {
  it("leads from the first test to the stretch that is broken", async () => {
    const cwd = await emptyFolder();
    await pegline(["plan", GARDEN, "--quiet", "--out", "garden"], { cwd });
    const asked = ["break", "garden", "--loop", "A"];
    const breakM = 61.3;
    for (let tests = 0; tests < 12; tests++) {
      const ran = await pegline([...asked, "--json"], { cwd });
      expect(ran.code).toBe(0);
      const { next, found, tests_done } = ran.json();
      expect(tests_done).toBe(tests);
      if (found) {
        expect(found.from.chainage_m).toBeLessThan(breakM);
        expect(found.to.chainage_m).toBeGreaterThanOrEqual(breakM);
        const said = await pegline(asked, { cwd });
        expect(said.stdout).toContain(`The break is between ${found.from.peg} and`);
        expect(said.stdout).toContain("Supply unplugged");
        return;
      }
      const dead = next.from.chainage_m < breakM && breakM <= next.to.chainage_m;
      asked.push(dead ? "--dead" : "--good", `${next.from.peg}-${next.to.peg}`);
    }
    throw new Error("not found");
  });

  it("knows the joints of the plan, from its own file and from other formats", async () => {
    const cwd = await emptyFolder();
    const profile = await pegline(["profiles", "medium"], { cwd });
    const small = profile.stdout.replace(/"reel_m": [\d.]+/, '"reel_m": 60');
    expect(small).not.toBe(profile.stdout);
    await writeFile(join(cwd, "machine.json"), small);
    const plan = ["plan", GARDEN, "--quiet", "--out", "garden", "--profile", "machine.json"];
    await pegline([...plan, "--lists", "reels", "--format", "gpkg,shapefile,dxf,kml,csv"], { cwd });
    // The cut of the reels says where they lie.
    const cut = (await readFile(join(cwd, "garden/reels.csv"), "utf8")).trim().split("\r\n");
    const pegs = cut
      .slice(1)
      .map((row) => row.replaceAll('"', "").split(","))
      .flatMap((row) => (row[2] === "A" && row[3] === "boundary" && row[7] ? [row[7]] : []));
    expect(pegs.length).toBeGreaterThan(1);
    const files = ["", "plan.gpkg", "plan-shapefiles.zip", "plan.dxf", "plan.kml", "plan.csv"];
    for (const file of files) {
      const ran = await pegline(["break", join("garden", file), "--loop", "A", "--json"], { cwd });
      const { joints, next } = ran.json();
      expect([file, [...joints].sort()]).toEqual([file, [...pegs].sort()]);
      expect([file, next.why]).toEqual([file, "joint"]);
    }
    const said = await pegline(["break", "garden", "--loop", "A"], { cwd });
    expect(said.stdout).toContain(`Joints at ${pegs[0]}`);
  });

  it("refuses what does not fit, with a code and exit 2", async () => {
    const cwd = await emptyFolder();
    await pegline(["plan", GARDEN, "--quiet", "--out", "garden"], { cwd });
    const cases: [string[], string][] = [
      [["break"], "INPUT_MISSING"],
      [["break", "garden"], "LOOP_NOT_CHOSEN"],
      [["break", "garden", "--loop", "Q"], "LOOP_UNKNOWN"],
      [["break", "garden", "--loop", "A", "--dead", "A9"], "STRETCH_INVALID"],
      [["break", "garden", "--loop", "A", "--dead", "A9-A8"], "STRETCH_BACKWARDS"],
      [["break", "garden", "--loop", "A", "--good", "A9-A999"], "PEG_UNKNOWN"],
      [["break", "garden", "--loop", "A", "--good", "start-end"], "ANSWERS_CONTRADICT"],
      [["break", "garden", "--loop", "A", "--leak-ohm", "900,10"], "READINGS_IMPOSSIBLE"],
      [["break", "garden", "--loop", "A", "--nanofarad", "12"], "PAIR_INVALID"],
    ];
    for (const [args, code] of cases) {
      const ran = await pegline([...args, "--json"], { cwd });
      expect([ran.code, ran.json().error.code]).toEqual([2, code]);
    }
  });
});
