import { readFileSync } from "node:fs";
import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { epsgRegistry } from "../../cli/epsg-registry.ts";
import { parseProjection } from "../../src/crs/projection.ts";
import { resolveCrs } from "../../src/crs/resolve.ts";
import type { SourceCrs } from "../../src/crs/source-crs.ts";
import type { CrsDeclaration } from "../../src/model/features.ts";
import type { Finding } from "../../src/model/finding.ts";

/** x, y; degrees on the own datum from Greenwich; degrees of WGS 84: see scripts/make-crs-expectations.mjs. */
type Row = readonly [
  x: number,
  y: number,
  ownLon: number,
  ownLat: number,
  lon: number,
  lat: number,
];
interface System {
  readonly method: string;
  readonly epsg: number;
  readonly name: string;
  readonly points: readonly Row[];
}

const read = (name: string) => JSON.parse(readFileSync(`tests/fixtures/crs/${name}`, "utf8"));
const systems: System[] = read("systems.json").systems;
const dialects: (Record<string, string> & { epsg: number })[] = read("dialects.json").systems;

/** proj4's Cassini series ends a term early: 11 mm at 180 km from the meridian of EPSG:8045. */
const PROJECTION_MISSES: ReadonlyMap<number, number> = new Map([[8045, 0.012]]);
/** Definitions that leave out that the axes point south and west. */
const AXES_LEFT_OUT = new Set(["2065 WKT1:GDAL", "8045 WKT1:GDAL", "8045 WKT1:ESRI", "8045 PROJ"]);
/** Where the place that PROJ finds is farther away than we say, metres, and why. */
const SHIFT_MISSES: ReadonlyMap<number, number> = new Map([
  // NZGD49: the published accuracy of 4 m is a mean; the grid that PROJ has differs by more offshore.
  [27200, 6.3],
  // Timbalai 1948: PROJ takes another one of the published shifts where their areas overlap.
  [29871, 4],
  [29873, 4],
  // CH1903 and Carthage: a metre is the published accuracy, PROJ's grid or second shift differs by 1.1 m.
  [21782, 1.2],
  [22392, 1.2],
  // S-JTSK from Ferro: PROJ 9.1.1 has no shift for it and takes degrees as they are; ours is S-JTSK's.
  [2065, 148],
  [5221, 148],
]);

function apartM(a: readonly [number, number], b: readonly [number, number]): number {
  return geodesic.Geodesic.WGS84.Inverse(a[1], a[0], b[1], b[0]).s12 ?? Number.NaN;
}

function resolved(
  declaration: CrsDeclaration,
  at: readonly [number, number],
  registry = epsgRegistry,
): { crs: SourceCrs; findings: readonly Finding[] } {
  const outcome = resolveCrs(declaration, registry, at);
  if (!outcome.ok) throw new Error(`${outcome.problem.code}: ${outcome.problem.message}`);
  return { crs: outcome.value, findings: outcome.findings };
}

describe("200 projected systems against PROJ 9.1.1 (EPSG dataset v10.076)", () => {
  it("are drawn across the methods of surveys", () => {
    expect(systems).toHaveLength(200);
    expect(new Set(systems.map(({ method }) => method)).size).toBeGreaterThanOrEqual(15);
    expect(new Set(systems.map(({ epsg }) => epsg)).size).toBe(200);
  });

  it.each(systems)("EPSG:$epsg $name: projection within 1 mm", ({ epsg, points }) => {
    const { crs } = resolved({ kind: "epsg", code: epsg, from: "test" }, [0, 0]);
    const { toOwnDegrees } = parseProjection(crs.definition);
    for (const [x, y, ownLon, ownLat] of points) {
      const apart = apartM(toOwnDegrees(x, y), [ownLon, ownLat]);
      expect(apart).toBeLessThan(PROJECTION_MISSES.get(epsg) ?? 0.001);
    }
  });

  it("place within 1 mm, or, where the datum's shift differs, within what is said", () => {
    let [exact, withinMetre, said] = [0, 0, 0];
    const beyond: string[] = [];
    for (const { epsg, points } of systems) {
      let worst = 0;
      for (const [x, y, , , lon, lat] of points) {
        const { crs, findings } = resolved({ kind: "epsg", code: epsg, from: "test" }, [x, y]);
        const apart = apartM(crs.toWgs84(x, y), [lon, lat]);
        worst = Math.max(worst, apart);
        if (apart < (PROJECTION_MISSES.get(epsg) ?? 0.001)) continue;
        // Whatever is off by more has a finding that states its accuracy in metres.
        expect(findings.map(({ message }) => message).join(), `EPSG:${epsg}`).toMatch(
          /\d+ m\b|hundred metres/,
        );
        const allowed = Math.max(1, crs.accuracyM, SHIFT_MISSES.get(epsg) ?? 0);
        if (apart > allowed) beyond.push(`EPSG:${epsg} ${apart.toFixed(2)} m, said ${allowed} m`);
      }
      if (worst < 0.001) exact++;
      else if (worst <= 1) withinMetre++;
      else said++;
    }
    expect(beyond).toEqual([]);
    expect(exact).toBeGreaterThanOrEqual(160);
    expect(exact + withinMetre + said).toBe(200);
  });
});

describe("definitions in each dialect, without looking anything up", () => {
  const cases = dialects.flatMap(({ epsg, ...texts }) =>
    Object.entries(texts)
      .filter(([dialect]) => !AXES_LEFT_OUT.has(`${epsg} ${dialect}`))
      .map(([dialect, text]) => ({ epsg, dialect, text: String(text) })),
  );
  it.each(cases)("EPSG:$epsg as $dialect", ({ epsg, text }) => {
    const { points } = systems.find((system) => system.epsg === epsg)!;
    const declaration = { kind: "definition", text, from: ".prj" } as const;
    const { crs } = resolved(declaration, [points[0]![0], points[0]![1]], () => undefined);
    const { toOwnDegrees } = parseProjection(crs.definition);
    for (const [x, y, ownLon, ownLat] of points) {
      const apart = apartM(toOwnDegrees(x, y), [ownLon, ownLat]);
      expect(apart).toBeLessThan(PROJECTION_MISSES.get(epsg) ?? 0.001);
    }
  });
});
