import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { parseProjection } from "../../src/crs/projection.ts";
import { resolveCrs } from "../../src/crs/resolve.ts";
import type { SourceCrs } from "../../src/crs/source-crs.ts";
import type { CrsDeclaration } from "../../src/model/features.ts";
import { PROJ_REFERENCES } from "./proj-reference.ts";

function resolved(declaration: CrsDeclaration): SourceCrs {
  const outcome = resolveCrs(declaration, epsgRegistry);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.value;
}
const byCode = (code: number) => resolved({ kind: "epsg", code, from: "test" });
const byText = (text: string) => resolved({ kind: "definition", text, from: ".prj" });

/** Ground distance in metres between two near places in degrees. */
function apartM(a: readonly [number, number], b: readonly [number, number]): number {
  const east = (a[0] - b[0]) * Math.cos((a[1] * Math.PI) / 180);
  return Math.hypot(east, a[1] - b[1]) * 111_320;
}

describe("coordinate reference systems against PROJ 9.1.1", () => {
  // Systems tied to WGS 84 by a Helmert shift agree to 2 mm: PROJ was run at height 0 on WGS 84, we
  // start from height 0 on the national ellipsoid, some 50 m above or below.
  it.each(PROJ_REFERENCES)("EPSG:$epsg by its code", ({ epsg, x, y, lonDeg, latDeg }) => {
    const crs = byCode(epsg);
    const toleranceM = crs.accuracyM === 0 ? 0.0001 : 0.002;
    expect(apartM(crs.toWgs84(x, y), [lonDeg, latDeg])).toBeLessThan(toleranceM);
  });

  it.each(PROJ_REFERENCES.filter((reference) => reference.esriWkt))(
    "EPSG:$epsg by a .prj in ESRI's dialect",
    ({ esriWkt, x, y, lonDeg, latDeg }) => {
      const crs = byText(esriWkt!);
      const toleranceM = crs.accuracyM === 0 ? 0.0001 : 0.002;
      expect(apartM(crs.toWgs84(x, y), [lonDeg, latDeg])).toBeLessThan(toleranceM);
    },
  );
});

describe("projections against the examples of EPSG Guidance Note 7-2 (recomputed with PROJ 9.1.1)", () => {
  it("Transverse Mercator: OSGB 1936 / British National Grid", () => {
    // 50°30′ N 0°30′ E on the Airy datum.
    const [lon, lat] = parseProjection(epsgRegistry(27700)!.proj4!).toOwnDegrees(
      577_274.984,
      69_740.492,
    );
    expect(apartM([lon, lat], [0.5, 50.5])).toBeLessThan(0.002);
  });

  it("Lambert Conic Conformal 2SP: NAD27 / Texas South Central, US survey feet", () => {
    // 28°30′ N 96°00′ W on NAD27.
    const [lon, lat] = parseProjection(epsgRegistry(32040)!.proj4!).toOwnDegrees(
      2_963_503.913,
      254_759.801,
    );
    expect(apartM([lon, lat], [-96, 28.5])).toBeLessThan(0.001);
  });
});

describe("units", () => {
  it("tells US survey feet, international feet and metres (NIST SP 811: 1200/3937 m, 0.3048 m)", () => {
    expect(byCode(2278)).toMatchObject({ unitName: "US survey foot" });
    expect(byCode(2278).metresPerUnit).toBeCloseTo(1200 / 3937, 12);
    expect(byCode(2222)).toMatchObject({ unitName: "foot", metresPerUnit: 0.3048 });
    expect(byCode(32140)).toMatchObject({ unitName: "metre", metresPerUnit: 1 });
    expect(byCode(4258)).toMatchObject({ unitName: "degree", isDegrees: true });
  });

  it("keeps both feet apart in ESRI's dialect too", () => {
    const feet = PROJ_REFERENCES.filter(({ epsg }) => epsg === 2278 || epsg === 2222);
    const names = feet.map(({ esriWkt }) => byText(esriWkt!).unitName);
    expect(names.sort()).toEqual(["US survey foot", "foot"].sort());
  });
});

describe("datum shifts", () => {
  const findingsOf = (declaration: CrsDeclaration) =>
    resolveCrs(declaration, epsgRegistry).findings.map((finding) => finding.code);

  it("says that the grid shift of EPSG:27700 is missing, and how far off that may be", () => {
    const outcome = resolveCrs({ kind: "epsg", code: 27700, from: "--crs" }, epsgRegistry);
    expect(outcome.findings).toHaveLength(1);
    expect(outcome.findings[0]).toMatchObject({
      code: "CRS_GRID_SHIFT_MISSING",
      severity: "warning",
    });
    expect(outcome.findings[0]?.message).toMatch(/about 2 m.*lengths are not affected/);
  });

  it("says nothing of datums that are taken as WGS 84", () => {
    for (const code of [4326, 4258, 2278, 25832, 2154, 2193, 3857]) {
      expect(findingsOf({ kind: "epsg", code, from: "test" })).toEqual([]);
    }
  });

  it("puts NAD27 within the 7 m of the shift for its place (PROJ with its grid: 1.4 m away)", () => {
    // echo "40 -100" | cs2cs -f "%.9f" EPSG:4326 EPSG:4267 (PROJ 9.1.1, conus grid)
    const crs = byCode(4267);
    expect(crs.accuracyM).toBe(7);
    expect(apartM(crs.toWgs84(-99.999584427, 40.000003116), [-100, 40])).toBeLessThan(7);
  });

  it("does not fall for the register's shift of EPSG:28992, which is in microradians", () => {
    expect(epsgRegistry(28992)?.proj4).toContain("1.9342");
    const { x, y, lonDeg, latDeg } = PROJ_REFERENCES.find(({ epsg }) => epsg === 28992)!;
    expect(apartM(byCode(28992).toWgs84(x, y), [lonDeg, latDeg])).toBeLessThan(0.002);
  });

  it("warns where no shift is known", () => {
    const text =
      'GEOGCS["Made up",DATUM["Made_up",SPHEROID["Bessel 1841",6377397.155,299.1528128]],PRIMEM["Greenwich",0],UNIT["Degree",0.0174532925199433]]';
    expect(findingsOf({ kind: "definition", text, from: ".prj" })).toEqual([
      "CRS_DATUM_SHIFT_UNKNOWN",
    ]);
  });
});

describe("what cannot be resolved", () => {
  const problemOf = (declaration: CrsDeclaration) => {
    const outcome = resolveCrs(declaration, epsgRegistry);
    return outcome.ok ? undefined : outcome.problem;
  };

  it.each([
    ["CRS_MISSING", { kind: "none" }],
    ["CRS_UNKNOWN", { kind: "epsg", code: 99999, from: "--crs" }],
    ["CRS_NOT_FLAT", { kind: "epsg", code: 4978, from: "--crs" }],
    ["CRS_NOT_UNDERSTOOD", { kind: "definition", text: "somewhere", from: ".prj" }],
    ["CRS_LOCAL", { kind: "definition", text: 'LOCAL_CS["Plant",UNIT["metre",1]]', from: ".prj" }],
    ["CRS_METHOD_MISSING", { kind: "definition", text: "+proj=nowhere", from: "--crs" }],
    ["CRS_METHOD_MISSING", { kind: "definition", text: "+proj=tmerc +ellps=egg", from: "--crs" }],
    ["CRS_METHOD_MISSING", { kind: "epsg", code: 3145, from: "--crs" }],
  ] as const)("%s, with a remedy", (code, declaration) => {
    const problem = problemOf(declaration as CrsDeclaration);
    expect(problem).toMatchObject({ code, kind: "input" });
    expect(problem?.remedy).toMatch(/EPSG/);
  });

  it("reads the horizontal part of compound systems", () => {
    const text = PROJ_REFERENCES.find(({ epsg }) => epsg === 2278)!.esriWkt!;
    const vertical =
      'VERTCS["NAVD_1988",VDATUM["North_American_Vertical_Datum_1988"],UNIT["Foot_US",0.3048006096012192]]';
    const { x, y, lonDeg, latDeg } = PROJ_REFERENCES.find(({ epsg }) => epsg === 2278)!;
    for (const both of [`${text},${vertical}`, `COMPD_CS["both",${text},${vertical}]`]) {
      expect(apartM(byText(both).toWgs84(x, y), [lonDeg, latDeg])).toBeLessThan(0.0001);
    }
  });
});
