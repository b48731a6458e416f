import { done, failed, type Outcome } from "../model/finding.ts";
import type { LonLat } from "../model/geometry.ts";
import { chooseShift } from "./choose-shift.ts";
import { mendDefinition } from "./mend-definition.ts";
import { isNear, middleOf } from "./place.ts";
import { helmertToWgs84, type Projection, parseProjection } from "./projection.ts";
import type { EpsgRecord } from "./registry.ts";
import type { LonLatExtent } from "./site-grid.ts";
import type { SourceCrs } from "./source-crs.ts";

/** Source coordinates as files hold them: easting or longitude first. */
export type XY = readonly [x: number, y: number];

/** What a system is made from. */
export interface CrsParts {
  /** As shown to people. */
  readonly name: string;
  /** A PROJ string. */
  readonly definition: string;
  /** A pair of the coordinates in question: the datum shift is chosen for its place. */
  readonly at?: XY | undefined;
  readonly record?: EpsgRecord | undefined;
  /** WKT that the definition was read from; it names the datum. */
  readonly wkt?: string | undefined;
  /** Degrees in one unit of a geographic system: 0.9 for grads. */
  readonly degreesPerUnit?: number;
  /** Area of use, where it is known from elsewhere than the record. */
  readonly area?: LonLatExtent | undefined;
}

function unitName({ isDegrees, metresPerUnit }: Projection, degreesPerUnit: number): string {
  if (isDegrees) return Math.abs(degreesPerUnit - 0.9) < 1e-9 ? "grad" : "degree";
  const known: readonly [string, number][] = [
    ["metre", 1],
    ["US survey foot", 1200 / 3937],
    ["foot", 0.3048],
    ["kilometre", 1000],
  ];
  const match = known.find(([, metres]) => Math.abs(metresPerUnit / metres - 1) < 1e-8);
  return match?.[0] ?? `${metresPerUnit} m`;
}

/** Where to choose the shift for: the coordinates' own place, else the middle of the area of use. */
function placeOf(
  toOwnDegrees: (x: number, y: number) => LonLat,
  at: XY | undefined,
  area: LonLatExtent | undefined,
): { place?: LonLat } {
  if (at !== undefined) {
    const place = toOwnDegrees(at[0], at[1]);
    const isSound = Number.isFinite(place[0]) && Math.abs(place[1]) <= 90;
    if (isSound && (area === undefined || isNear(place, area))) return { place };
  }
  return area === undefined ? {} : { place: middleOf(area) };
}

function areaOf({ record, area }: CrsParts): LonLatExtent | undefined {
  const [north, west, south, east] = record?.bbox ?? [];
  return east === undefined ? area : { west: west!, south: south!, east, north: north! };
}

/** A system that coordinates can be taken out of, from its definition; see `resolveCrs`. */
export function buildCrs(parts: CrsParts): Outcome<SourceCrs> {
  const { name, record, at, degreesPerUnit = 1 } = parts;
  const mended = mendDefinition(
    parts.definition,
    record === undefined ? undefined : Number(record.code),
  );
  if ("unknown" in mended) {
    return failed({
      code: "CRS_METHOD_MISSING",
      kind: "input",
      message: `the coordinate reference system ${name} needs ${mended.unknown}, which is not known here`,
      remedy: "Reproject the file to WGS 84 (EPSG:4326) first.",
    });
  }
  const { definition } = mended;
  let projection: Projection;
  try {
    projection = parseProjection(definition);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return failed({
      code: "CRS_NOT_UNDERSTOOD",
      kind: "input",
      message: `the coordinate reference system ${name} cannot be used (${why.slice(0, 120)})`,
      remedy: "Reproject the file to WGS 84 (EPSG:4326) first, or pass --crs EPSG:N.",
    });
  }
  const area = areaOf(parts);
  const scaled = projection.isDegrees && degreesPerUnit !== 1;
  const toOwnDegrees = scaled
    ? (x: number, y: number) => projection.toOwnDegrees(x * degreesPerUnit, y * degreesPerUnit)
    : projection.toOwnDegrees;
  const shift = chooseShift({
    projection,
    name,
    definition,
    wkt: parts.wkt,
    ...(record && { record }),
    ...placeOf(toOwnDegrees, at, area),
  });
  const helmert =
    shift.toWgs84 && helmertToWgs84(projection.semiMajorM, projection.semiMinorM, shift.toWgs84);
  const crs: SourceCrs = {
    name,
    ...(record === undefined ? {} : { epsg: Number(record.code) }),
    definition,
    isDegrees: projection.isDegrees,
    unitName: unitName(projection, degreesPerUnit),
    metresPerUnit: projection.metresPerUnit,
    accuracyM: shift.accuracyM,
    ...(area === undefined ? {} : { areaOfUse: area }),
    toWgs84: helmert ? (x, y) => helmert(toOwnDegrees(x, y)) : toOwnDegrees,
  };
  return done(crs, shift.finding === undefined ? [] : [shift.finding]);
}
