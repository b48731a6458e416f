import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { FeatureCollection, LineString } from "geojson";
import { describe, expect, it } from "vitest";
import { RULE_IDS } from "../../src/index.ts";
import { demo, emptyFolder, pegline } from "./run.ts";

const GARDEN = demo("house-garden.geojson");

async function planned(): Promise<string> {
  const cwd = await emptyFolder();
  expect((await pegline(["plan", GARDEN, "--quiet", "--out", "garden"], { cwd })).code).toBe(0);
  return cwd;
}

async function change(cwd: string, edit: (plan: FeatureCollection) => void): Promise<string> {
  const plan = JSON.parse(await readFile(join(cwd, "garden/plan.geojson"), "utf8"));
  edit(plan);
  await writeFile(join(cwd, "edited.geojson"), JSON.stringify(plan));
  return "edited.geojson";
}

describe("pegline check", () => {
  it("holds a plan of ours, from its file or its folder, and prints a table", async () => {
    const cwd = await planned();
    const ran = await pegline(["check", "garden", GARDEN], { cwd });
    expect(ran.code).toBe(0);
    expect(ran.stdout).toContain("The plan holds in all that could be measured");
    for (const rule of ["set-in", "on-lawn", "pair-gap", "mown-area"]) {
      expect(ran.stdout).toMatch(new RegExp(`^  ${rule} .* holds `, "m"));
    }
    const json = (
      await pegline(["check", "garden/plan.geojson", GARDEN, "--json"], { cwd })
    ).json();
    expect(json).toMatchObject({ tool: "pegline", verdict: "holds" });
    expect(json.measures.map((one: { rule: string }) => one.rule)).toEqual(RULE_IDS);
    const summary = JSON.parse(await readFile(join(cwd, "garden/summary.json"), "utf8"));
    expect(summary.check.verdict).toBe("holds");
  });

  it("says where an edited wire is too near to an edge, by how much, and exits 1", async () => {
    const cwd = await planned();
    const edited = await change(cwd, (plan) => {
      const wire = plan.features.find((one) => one.properties?.kind === "boundary-wire")!;
      const line = wire.geometry as LineString;
      // Half a metre north: over an edge somewhere, whatever the garden looks like.
      for (const at of line.coordinates) at[1]! += 4.5e-6;
    });
    const ran = await pegline(["check", edited, GARDEN, "--json"], { cwd });
    expect(ran.code).toBe(1);
    const { verdict, measures, findings } = ran.json();
    expect(verdict).toBe("broken");
    expect(measures.find((one: { rule: string }) => one.rule === "set-in")).toMatchObject({
      holds: false,
      allowed: -0.01,
      bound: "at least",
      unit: "m",
    });
    const finding = findings.find((one: { code: string }) => one.code === "WIRE_TOO_NEAR_EDGE");
    expect(finding).toMatchObject({
      severity: "error",
      at: [expect.any(Number), expect.any(Number)],
    });
    expect(finding.message).toMatch(/lies \d\.\d{3} m from .*, where \d\.\d\d m are asked/);
  });

  it("measures a bare line with what it has, and says what it cannot measure", async () => {
    const cwd = await planned();
    const drawn = await change(cwd, (plan) => {
      plan.features = plan.features
        .filter((one) => one.properties?.kind === "boundary-wire")
        .map((one) => ({ ...one, properties: {} }));
    });
    const ran = await pegline(["check", drawn, GARDEN, "--json"], { cwd });
    const { verdict, measures } = ran.json();
    expect([ran.code, verdict]).toEqual([0, "holds"]);
    const of = (rule: string) => measures.find((one: { rule: string }) => one.rule === rule);
    expect(of("spans")).toMatchObject({
      measured: null,
      holds: null,
      note: "the plan has no pegs",
    });
    expect(of("station").holds).toBe(null);
    expect(of("set-in").holds).toBe(true);
    expect(of("shut-out").holds).toBe(true);
    expect(of("pair-gap").holds).toBe(true);
  });

  it("reads wire from KML too, and refuses a plan without wire and a missing plan", async () => {
    const cwd = await planned();
    const plan: FeatureCollection = JSON.parse(
      await readFile(join(cwd, "garden/plan.geojson"), "utf8"),
    );
    const wire = plan.features.find((one) => one.properties?.kind === "boundary-wire")!;
    const line = (wire.geometry as LineString).coordinates.map((at) => at.join(",")).join(" ");
    await writeFile(
      join(cwd, "wire.kml"),
      `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Placemark><LineString><coordinates>${line}</coordinates></LineString></Placemark></kml>`,
    );
    const ran = await pegline(["check", "wire.kml", GARDEN], { cwd });
    expect([ran.code, ran.stdout.includes("not measured")]).toEqual([0, true]);
    const point = { type: "Point", coordinates: [0, 0] };
    await writeFile(
      join(cwd, "none.geojson"),
      JSON.stringify({ type: "Feature", properties: {}, geometry: point }),
    );
    const none = await pegline(["check", "none.geojson", GARDEN, "--json"], { cwd });
    expect([none.code, none.json().error.code]).toEqual([3, "PLAN_WITHOUT_WIRE"]);
    const missing = await pegline(["check", "--json"], { cwd });
    expect([missing.code, missing.json().error.code]).toEqual([2, "INPUT_MISSING"]);
  });
});
