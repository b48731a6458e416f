import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { demo, emptyFolder, pegline } from "./run.ts";

describe("pegline inspect", () => {
  it("--json has the shape of the contract", async () => {
    const ran = await pegline(["inspect", demo("house-garden.kml"), "--json"]);
    expect(ran.code).toBe(0);
    const found = ran.json();
    expect(Object.keys(found)).toEqual(["tool", "version", "inputs", "extent_m", "findings"]);
    const [input] = found.inputs;
    expect(input).toMatchObject({ file: demo("house-garden.kml"), format: "kml" });
    const beds = input.layers.find((layer: { name: string }) => layer.name === "bed");
    expect(beds).toMatchObject({ features: 3, geometries: { Polygon: 3 }, role: "bed" });
    // The garden is drawn from 1.2 to 20.4 m east and from 1.2 to 41.05 m north (make-demo.mjs).
    expect(found.extent_m[0]).toBeCloseTo(19.2, 2);
    expect(found.extent_m[1]).toBeCloseTo(39.85, 2);
  });

  it("tells people layers, reference system, roles and attributes", async () => {
    const ran = await pegline(["inspect", demo("shapefile/areas.shp")]);
    expect(ran.code).toBe(0);
    expect(ran.stdout).toContain("8 features (8 Polygon)");
    expect(ran.stdout).toContain("from .prj");
    expect(ran.stdout).toContain("1 lawn");
  });

  it("counts null geometries and exits 1 where there is no lawn", async () => {
    const cwd = await emptyFolder();
    const bed = { type: "Feature", properties: { role: "bed" }, geometry: null };
    const ring = [
      [-28.5, 47.25],
      [-28.4999, 47.25],
      [-28.4999, 47.2501],
      [-28.5, 47.25],
    ];
    const features = [bed, { ...bed, geometry: { type: "Polygon", coordinates: [ring] } }];
    await writeFile(
      join(cwd, "beds.geojson"),
      JSON.stringify({ type: "FeatureCollection", features }),
    );
    const ran = await pegline(["inspect", "beds.geojson", "--json"], { cwd });
    expect(ran.code).toBe(1);
    const { inputs, findings } = ran.json();
    expect(inputs[0].layers[0]).toMatchObject({
      features: 2,
      geometries: { null: 1, Polygon: 1 },
      vertices: 4,
    });
    expect(findings.some((one: { severity: string }) => one.severity === "error")).toBe(true);
  });
});

describe("pegline profiles", () => {
  it("lists the three, marked as invented", async () => {
    const ran = await pegline(["profiles"]);
    expect(ran.code).toBe(0);
    expect(ran.stdout).toMatch(/small\s+medium\s+large/);
    expect(ran.stdout).toContain("invented and typical");
    const { profiles, default: chosen } = (await pegline(["profiles", "--json"])).json();
    expect(profiles.map((one: { name: string }) => one.name)).toEqual(["small", "medium", "large"]);
    expect(chosen).toBe("medium");
  });

  it("prints one as a file that --profile takes without a finding", async () => {
    const cwd = await emptyFolder();
    const { stdout } = await pegline(["profiles", "small"]);
    await writeFile(join(cwd, "mine.json"), stdout);
    const args = ["plan", demo("house-garden.geojson"), "--profile", "mine.json", "--json"];
    const ran = await pegline(args, { cwd });
    expect(ran.code).toBe(0);
    const codes = ran.json().findings.map((one: { code: string }) => one.code);
    expect(codes).not.toContain("PROFILE_FILLED");
  });
});
