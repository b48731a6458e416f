import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Feature, FeatureCollection, LineString, Point } from "geojson";
import { describe, expect, it } from "vitest";
import { demo, emptyFolder, pegline } from "./run.ts";

const GARDEN = demo("house-garden.geojson");

async function planned(): Promise<{ cwd: string; plan: FeatureCollection }> {
  const cwd = await emptyFolder();
  await pegline(["plan", GARDEN, "--quiet", "--out", "garden"], { cwd });
  return { cwd, plan: JSON.parse(await readFile(join(cwd, "garden/plan.geojson"), "utf8")) };
}

const ofKind = (plan: FeatureCollection, kind: string) =>
  plan.features.filter((one) => one.properties!.kind === kind);

describe("pegline compare", () => {
  it("a plan against itself: as planned, and the rules hold", async () => {
    const { cwd } = await planned();
    const ran = await pegline(["compare", "garden", "garden/plan.geojson", GARDEN, "--json"], {
      cwd,
    });
    expect(ran.code).toBe(0);
    const result = ran.json();
    expect(result.stretches).toEqual([]);
    expect(result.verdict).toBe("holds");
    const summary = JSON.parse(await readFile(join(cwd, "garden/summary.json"), "utf8"));
    result.loops.forEach((loop: { planned_m: number; laid_m: number }, i: number) => {
      expect(loop.planned_m).toBeCloseTo(summary.loops[i].length_m, 3);
      expect(loop.laid_m).toBeCloseTo(summary.loops[i].length_m, 3);
    });
  });

  it("surveyed pegs in a table: what was moved, the record, and that it can be read again", async () => {
    const { cwd, plan } = await planned();
    const pegs = ofKind(plan, "peg") as Feature<Point>[];
    const moved = pegs.find((one) => one.properties!.on === "straight")!;
    // 0.40 m north: a minute of latitude is 1,852.2 to 1,853.3 m long at these latitudes.
    const rows = pegs.map(({ geometry, properties }) => {
      const [lon, lat] = geometry.coordinates as [number, number];
      const north = properties!.number === moved.properties!.number ? 0.4 / 111_200 : 0;
      return `${properties!.number},${lon.toFixed(9)},${(lat + north).toFixed(9)}`;
    });
    const features = rows.map((row) => {
      const [number, lon, lat] = row.split(",");
      const coordinates = [Number(lon), Number(lat)];
      return {
        type: "Feature",
        properties: { number },
        geometry: { type: "Point", coordinates },
      };
    });
    const survey = { type: "FeatureCollection", features };
    await writeFile(join(cwd, "survey.geojson"), JSON.stringify(survey));
    const args = ["compare", "garden", "survey.geojson", "--out", "as-laid.geojson"];
    const ran = await pegline([...args, "--json"], { cwd });
    expect(ran.code).toBe(0);
    const { stretches, loops } = ran.json();
    expect(stretches).toHaveLength(1);
    expect(stretches[0].from).toBe(moved.properties!.number);
    expect(Math.abs(stretches[0].most_left_m)).toBeCloseTo(0.4, 2);
    const record = JSON.parse(await readFile(join(cwd, "as-laid.geojson"), "utf8"));
    const wire = ofKind(record, "boundary-wire")[0] as Feature<LineString>;
    expect(wire.properties!.length_m).toBe(loops[0].laid_m);
    const again = await pegline(["compare", "as-laid.geojson", "survey.geojson", "--json"], {
      cwd,
    });
    expect(again.json().stretches).toEqual([]);
    const search = await pegline(["break", "as-laid.geojson", "--loop", "A", "--json"], { cwd });
    expect(search.json().wire_m).toBe(loops[0].laid_m);
    const twice = await pegline([...args, "--json"], { cwd });
    expect([twice.code, twice.json().error.code]).toEqual([2, "RECORD_FILE_EXISTS"]);
    expect((await pegline([...args, "--force", "--quiet"], { cwd })).code).toBe(0);
  });

  it("an edited wire that comes too near the edge: broken, exit 1, in words too", async () => {
    const { cwd, plan } = await planned();
    const wire = ofKind(plan, "boundary-wire")[0] as Feature<LineString>;
    const at = wire.geometry.coordinates;
    // One vertex half a metre aside.
    const out = at.map(([lon, lat], i) => (i === 9 ? [lon! + 4e-6, lat! + 4e-6] : [lon, lat]));
    wire.geometry.coordinates = out as number[][];
    await writeFile(join(cwd, "edited.geojson"), JSON.stringify(plan));
    const ran = await pegline(["compare", "garden", "edited.geojson", GARDEN], { cwd });
    expect(ran.stdout).toContain("Off the plan");
    const json = (
      await pegline(["compare", "garden", "edited.geojson", GARDEN, "--json"], { cwd })
    ).json();
    expect(json.stretches.length).toBeGreaterThan(0);
    // Half a metre aside, so that spans, and the set-in on one side, are too long or too short.
    expect([ran.code, json.verdict]).toEqual([1, "broken"]);
    expect(ran.stdout).toContain("BROKEN");
  });

  it("refuses with a code", async () => {
    const { cwd } = await planned();
    await writeFile(join(cwd, "far.geojson"), far);
    const cases: [string[], number, string][] = [
      [["compare", "garden"], 2, "INPUT_MISSING"],
      [["compare", "garden", "far.geojson"], 3, "TRACK_ELSEWHERE"],
      [["compare", "garden", "garden", "--noise", "x"], 2, "NUMBER_INVALID"],
    ];
    for (const [args, exit, code] of cases) {
      const ran = await pegline([...args, "--json"], { cwd });
      expect([ran.code, ran.json().error.code]).toEqual([exit, code]);
    }
  });
});

const far = JSON.stringify({
  type: "Feature",
  properties: {},
  geometry: {
    type: "LineString",
    coordinates: [
      [3, 3],
      [3.0001, 3],
    ],
  },
});
