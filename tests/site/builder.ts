import type { Geometry, Position } from "geojson";
import Coordinate from "jsts/org/locationtech/jts/geom/Coordinate.js";
import GeometryFactory from "jsts/org/locationtech/jts/geom/GeometryFactory.js";
import IsValidOp from "jsts/org/locationtech/jts/operation/valid/IsValidOp.js";
import { siteGridAt } from "../../src/crs/site-grid.ts";
import type { GridLayer } from "../../src/model/features.ts";
import type { Finding, Outcome } from "../../src/model/finding.ts";
import type { AreaM, RingM } from "../../src/model/geometry.ts";
import type { Role } from "../../src/model/roles.ts";
import type { Site } from "../../src/model/site.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { buildSite } from "../../src/site/build-site.ts";

export const grid = siteGridAt([10, 50]);

export type Drawn = readonly [Geometry | null, Record<string, unknown>?];

export function layer(name: string, drawn: readonly Drawn[], format = "kml"): GridLayer {
  return {
    file: `${name}.test`,
    format,
    layer: name,
    features: drawn.map(([geometry, properties], i) => ({
      number: i + 1,
      geometry,
      properties: properties ?? {},
    })),
    fields: [],
    crs: { kind: "none" },
    crsName: "site grid",
    crsFrom: "test",
  };
}

/** A closed ring from corners. */
export function ring(...corners: Position[]): Position[] {
  return [...corners, corners[0]!];
}

export function polygon(...rings: Position[][]): Geometry {
  return { type: "Polygon", coordinates: rings };
}

/** Rectangle with its lower left corner at (e, n). */
export function box(e: number, n: number, width: number, height = width): Position[] {
  return ring([e, n], [e + width, n], [e + width, n + height], [e, n + height]);
}

export function rect(e: number, n: number, width: number, height = width): Geometry {
  return polygon(box(e, n, width, height));
}

export function line(...points: Position[]): Geometry {
  return { type: "LineString", coordinates: points };
}

export function point(e: number, n: number): Geometry {
  return { type: "Point", coordinates: [e, n] };
}

export function build(
  layers: readonly GridLayer[],
  roleRules: Readonly<Record<string, Role>> = {},
): Outcome<Site> {
  return buildSite({ name: "test", layers, grid, profile: builtInProfile(), roleRules });
}

/** The site of one layer named so that its name says nothing. */
export function siteOf(...drawn: Drawn[]): { site: Site; findings: readonly Finding[] } {
  const outcome = build([layer("survey", drawn)]);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return { site: outcome.value, findings: outcome.findings };
}

export function codes(findings: readonly Finding[]): string[] {
  return findings.map((finding) => finding.code).sort();
}

const factory = new GeometryFactory();

/** Judged by jsts (IsValidOp: OGC Simple Features), one polygon at a time. */
export function isValidArea(area: AreaM): boolean {
  const toRing = (flat: RingM) => {
    const coordinates = [];
    for (let i = 0; i <= flat.length; i += 2) {
      const at = i % flat.length;
      coordinates.push(new Coordinate(flat[at]!, flat[at + 1]!));
    }
    return factory.createLinearRing(coordinates);
  };
  const shape = factory.createPolygon(toRing(area.shell), area.holes.map(toRing));
  return new IsValidOp(shape).isValid();
}
