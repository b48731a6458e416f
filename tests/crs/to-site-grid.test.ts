import type { Geometry, Position } from "geojson";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { toSiteGrid } from "../../src/crs/to-site-grid.ts";
import type { CrsDeclaration, RawLayer } from "../../src/model/features.ts";
import { PROJ_REFERENCES } from "./proj-reference.ts";

const RFC: CrsDeclaration = { kind: "wgs84", from: "RFC 7946" };

function layer(
  coordinates: Position[],
  crs: CrsDeclaration = RFC,
  more: Partial<RawLayer> = {},
): RawLayer {
  const geometry: Geometry = { type: "LineString", coordinates };
  return {
    file: "site.geojson",
    format: "geojson",
    layer: "site",
    features: [{ number: 1, geometry, properties: {} }],
    fields: [],
    crs,
    ...more,
  };
}

const grid = (layers: RawLayer[], crsOverride?: number | string) =>
  toSiteGrid(layers, {
    registry: epsgRegistry,
    ...(crsOverride === undefined ? {} : { crsOverride }),
  });
function gridded(layers: RawLayer[], crsOverride?: number | string) {
  const outcome = grid(layers, crsOverride);
  if (!outcome.ok) throw new Error(`${outcome.problem.code}: ${outcome.problem.message}`);
  return { ...outcome.value, codes: outcome.findings.map((finding) => finding.code) };
}
function problem(layers: RawLayer[], crsOverride?: number | string) {
  const outcome = grid(layers, crsOverride);
  if (outcome.ok) throw new Error("was accepted, though it should not have been");
  return outcome.problem;
}
const line = (geometry: Geometry | null | undefined) =>
  geometry?.type === "LineString" ? geometry.coordinates : [];

describe("layers in the site grid", () => {
  it("puts the origin amid all layers and keeps heights", () => {
    const west = layer([[10, 50, 7]]);
    const east = layer([[10.002, 50.001]], RFC, { layer: "east" });
    const { layers, codes, grid: site } = gridded([west, east]);
    expect(site.origin).toEqual([10.001, 50.0005]);
    expect(codes).toEqual([]);
    const [[e0, n0, height]] = line(layers[0]?.features[0]?.geometry) as [number[]];
    const [[e1, n1]] = line(layers[1]?.features[0]?.geometry) as [number[]];
    expect(height).toBe(7);
    expect(e0! + e1!).toBeCloseTo(0, 2);
    expect(n0! + n1!).toBeCloseTo(0, 2);
    expect(layers[0]).toMatchObject({ crsName: "EPSG:4326 WGS 84", crsFrom: "RFC 7946" });
  });

  it("brings national systems to the same metres as degrees do, within the datum shift", () => {
    for (const { epsg, x, y, lonDeg, latDeg } of PROJ_REFERENCES) {
      const crs: CrsDeclaration = { kind: "epsg", code: epsg, from: "crs member" };
      const { layers } = gridded([
        layer([[lonDeg, latDeg]]),
        layer([[x, y]], crs, { layer: "same" }),
      ]);
      const [[e0, n0]] = line(layers[0]?.features[0]?.geometry) as [number[]];
      const [[e1, n1]] = line(layers[1]?.features[0]?.geometry) as [number[]];
      expect(Math.hypot(e1! - e0!, n1! - n0!), `EPSG:${epsg}`).toBeLessThan(0.002);
    }
  });

  it("takes US survey feet for what they are: 100 ft are 30.480 m on the ground", () => {
    // EPSG:2278 has a scale of about 0.9999 here: 100 US survey feet are 30.48 m within 5 mm.
    const { x, y } = PROJ_REFERENCES.find(({ epsg }) => epsg === 2278)!;
    const { layers } = gridded(
      [
        layer([
          [x, y],
          [x + 100, y],
        ]),
      ],
      "EPSG:2278",
    );
    const [a, b] = line(layers[0]?.features[0]?.geometry) as [number[], number[]];
    expect(Math.abs(Math.hypot(b[0]! - a[0]!, b[1]! - a[1]!) - 30.48006)).toBeLessThan(0.005);
  });

  it("keeps features without geometry, and layers without coordinates", () => {
    const none: RawLayer = {
      ...layer([], { kind: "none" }),
      features: [{ number: 1, geometry: null, properties: {} }],
    };
    const { layers } = gridded([layer([[10, 50]]), none]);
    expect(layers[1]?.features[0]?.geometry).toBeNull();
  });
});

describe("which CRS holds", () => {
  it("--crs before the file's own, with a finding", () => {
    const { x, y } = PROJ_REFERENCES.find(({ epsg }) => epsg === 25832)!;
    const declared: CrsDeclaration = { kind: "epsg", code: 32633, from: ".prj" };
    const { layers, codes } = gridded([layer([[x, y]], declared)], "EPSG:25832");
    expect(layers[0]).toMatchObject({
      crsName: "EPSG:25832 ETRS89 / UTM zone 32N",
      crsFrom: "--crs",
    });
    expect(codes).toEqual(["CRS_OVERRIDDEN"]);
  });

  it("KML and GeoJSON in degrees keep theirs beside a layer that needs --crs", () => {
    const { x, y, lonDeg, latDeg } = PROJ_REFERENCES.find(({ epsg }) => epsg === 25832)!;
    const { layers, codes } = gridded(
      [
        layer([[lonDeg, latDeg]], { kind: "wgs84", from: "KML" }, { format: "kml" }),
        layer([[lonDeg, latDeg]], RFC),
        layer([[x, y]], { kind: "none" }, { format: "shapefile" }),
      ],
      25832,
    );
    expect(layers.map(({ crsFrom }) => crsFrom)).toEqual(["KML", "RFC 7946", "--crs"]);
    expect(codes).toEqual(["CRS_OVERRIDE_NOT_USED", "CRS_OVERRIDE_NOT_USED"]);
  });
});

describe("what cannot be placed", () => {
  it("no CRS: says what to pass and what the numbers look like", () => {
    const none: CrsDeclaration = { kind: "none" };
    const metres = problem([layer([[530_000, 180_000]], none)]);
    expect(metres).toMatchObject({ code: "CRS_MISSING", kind: "input", file: "site.geojson" });
    expect(metres.message).toMatch(/metres/);
    expect(metres.remedy).toContain("--crs EPSG:N");
    expect(problem([layer([[10, 50]], none)]).remedy).toContain("--crs EPSG:4326");
  });

  it("coordinates that cannot be degrees: names feature, likely unit and --crs", () => {
    const bad = problem([layer([[530_591, 179_571]])]);
    expect(bad).toMatchObject({ code: "COORDINATES_NOT_DEGREES", kind: "input", feature: "#1" });
    expect(bad.message).toMatch(/metres of a national grid/);
    expect(bad.remedy).toContain("--crs EPSG:N");
  });

  it("longitude and latitude swapped, where that is certain", () => {
    const swapped = problem([layer([[50, 100.5]])]);
    expect(swapped.code).toBe("COORDINATES_SWAPPED");
  });

  it.each([
    ["CRS_UNKNOWN", "EPSG:99999"],
    ["CRS_NOT_UNDERSTOOD", "Atlantis"],
  ])("%s for --crs %s, with the file", (code, crs) => {
    expect(problem([layer([[1, 2]])], crs)).toMatchObject({ code, file: "site.geojson" });
  });

  it("a place that the projection does not have", () => {
    const bad = problem([layer([[1e12, 1e12]])], "EPSG:25832");
    expect(bad.code).toBe("PROJECTION_FAILED");
  });

  it("no coordinates at all", () => {
    const empty = { ...layer([]), features: [] };
    expect(problem([empty]).code).toBe("NO_COORDINATES");
    expect(problem([]).code).toBe("NO_COORDINATES");
  });
});

describe("sites that are too wide", () => {
  it("names the stray feature and its likely cause", () => {
    const site = layer([
      [10, 50],
      [10.001, 50.001],
    ]);
    const point: Geometry = { type: "Point", coordinates: [0, 0] };
    const features = [1, 2, 3].map((number) => ({ ...site.features[0]!, number }));
    features.push({ number: 4, geometry: point, properties: {} });
    const outcome = grid([{ ...site, features }]);
    expect(outcome.findings).toHaveLength(1);
    expect(outcome.findings[0]).toMatchObject({
      code: "SITE_TOO_WIDE",
      severity: "error",
      feature: "#4",
    });
    expect(outcome.findings[0]?.message).toMatch(/0 degrees, 0 degrees/);
  });

  it("tells a swapped layer from one that is merely elsewhere", () => {
    const home = layer([[10, 50]]);
    const swapped = layer([[50, 10.001]], RFC, { layer: "swapped" });
    const elsewhere = layer([[12, 40]], RFC, { layer: "elsewhere" });
    expect(gridded([home, swapped]).codes).toEqual(["LAYERS_SWAPPED", "SITE_TOO_WIDE"]);
    expect(gridded([home, elsewhere]).codes).toEqual(["LAYERS_FAR_APART", "SITE_TOO_WIDE"]);
  });

  it("warns of a layer outside the area of its CRS", () => {
    const { codes } = gridded([layer([[500_000, 180_000]])], "EPSG:2056");
    expect(codes).toContain("CRS_OUTSIDE_AREA");
  });
});
