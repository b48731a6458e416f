import type { CrsDeclaration } from "../model/features.ts";
import { done, failed, type Outcome } from "../model/finding.ts";
import { chooseShift } from "./choose-shift.ts";
import { helmertToWgs84, type Projection, parseProjection } from "./projection.ts";
import type { EpsgRecord, EpsgRegistry } from "./registry.ts";
import type { SourceCrs } from "./source-crs.ts";
import {
  horizontalWkt,
  isWkt,
  withSwissMercator,
  wktEpsgCode,
  wktName,
  wktRadiansPerUnit,
} from "./wkt.ts";

const DEGREE_RAD = Math.PI / 180;

/** WGS 84 itself, longitude first. */
const WGS84: SourceCrs = {
  name: "EPSG:4326 WGS 84",
  epsg: 4326,
  definition: "+proj=longlat +datum=WGS84 +no_defs",
  isDegrees: true,
  unitName: "degree",
  metresPerUnit: 1,
  accuracyM: 0,
  toWgs84: (x, y) => [x, y],
};

const REMEDY =
  "Pass --crs EPSG:N with the number of the system that the coordinates are in (whoever made the file knows it).";

function problem<T>(code: string, message: string, remedy = REMEDY): Outcome<T> {
  return failed({ code, kind: "input", message, remedy });
}

/**
 * The coordinate reference system that a declaration names.
 *
 * Accuracy: projections as proj4 computes them (well below 1 mm for the usual ones, see docs/crs.md);
 * datum shifts by seven or three parameters, with a finding that states their accuracy where the
 * datum is not WGS 84 or one within a metre or two of it (ETRS89, NAD83, GDA, NZGD2000…), which are
 * taken as WGS 84. Fails with kind `input` where there is no CRS or it cannot be understood.
 */
export function resolveCrs(
  declaration: CrsDeclaration,
  registry: EpsgRegistry,
): Outcome<SourceCrs> {
  switch (declaration.kind) {
    case "wgs84":
      return done(WGS84);
    case "epsg":
      return resolveEpsg(declaration.code, registry);
    case "definition":
      return resolveDefinition(declaration.text, registry);
    case "none":
      return problem("CRS_MISSING", "nothing says which coordinate reference system it is in");
  }
}

function resolveEpsg(code: number, registry: EpsgRegistry): Outcome<SourceCrs> {
  if (code === 4326) return done(WGS84);
  const record = registry(code);
  if (record === undefined) {
    return problem("CRS_UNKNOWN", `EPSG:${code} is not in the register of the EPSG dataset`);
  }
  // Compound systems and heights: the horizontal part is what counts here.
  const definition = record.proj4 ?? (record.wkt === null ? undefined : horizontalWkt(record.wkt));
  if (definition === undefined || /\+proj=geocent/.test(definition)) {
    return problem(
      "CRS_NOT_FLAT",
      `EPSG:${code} (${record.name}) is no system of plane or lon/lat coordinates`,
    );
  }
  return build(`EPSG:${code} ${record.name}`, definition, record);
}

function resolveDefinition(text: string, registry: EpsgRegistry): Outcome<SourceCrs> {
  const trimmed = text.replace(/^\uFEFF/, "").trim();
  const code = /^EPSG:(\d+)$/i.exec(trimmed)?.[1];
  if (code !== undefined) return resolveEpsg(Number(code), registry);
  if (trimmed.startsWith("+")) return build(trimmed, trimmed);
  if (!isWkt(trimmed)) {
    return problem(
      "CRS_NOT_UNDERSTOOD",
      `"${trimmed.slice(0, 60)}" names no coordinate reference system that is known here`,
    );
  }
  const horizontal = horizontalWkt(trimmed);
  if (horizontal === undefined) {
    return problem(
      "CRS_LOCAL",
      "its coordinate reference system is a local one, without a place on earth",
    );
  }
  const unit = wktRadiansPerUnit(horizontal);
  if (unit !== undefined && Math.abs(unit / DEGREE_RAD - 1) > 1e-6) {
    return problem(
      "CRS_ANGLE_UNIT",
      "its coordinate reference system counts angles in another unit than degrees (grads)",
    );
  }
  const epsg = wktEpsgCode(horizontal);
  const record = epsg === undefined ? undefined : registry(epsg);
  const name = wktName(horizontal, "\\w+") ?? "unnamed";
  if (record !== undefined && record.proj4 !== null && !/towgs84/i.test(horizontal)) {
    return resolveEpsg(Number(record.code), registry);
  }
  const definition = withSwissMercator(horizontal);
  if (definition === undefined) {
    return problem(
      "CRS_NOT_UNDERSTOOD",
      `the oblique projection of ${name} cannot be read from this form of WKT`,
    );
  }
  return build(epsg === undefined ? name : `EPSG:${epsg} ${name}`, definition, record, horizontal);
}

function unitName(projection: Projection): string {
  if (projection.isDegrees) return "degree";
  const { metresPerUnit } = projection;
  const known: readonly [string, number][] = [
    ["metre", 1],
    ["US survey foot", 1200 / 3937],
    ["foot", 0.3048],
    ["kilometre", 1000],
  ];
  const match = known.find(([, metres]) => Math.abs(metresPerUnit / metres - 1) < 1e-8);
  return match?.[0] ?? `${metresPerUnit} m`;
}

function build(
  name: string,
  definition: string,
  record?: EpsgRecord,
  wkt?: string,
): Outcome<SourceCrs> {
  let projection: Projection;
  try {
    projection = parseProjection(definition);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return problem(
      "CRS_NOT_UNDERSTOOD",
      `the coordinate reference system ${name} cannot be used (${why.slice(0, 120)})`,
      "Reproject the file to WGS 84 (EPSG:4326) first, or pass --crs EPSG:N.",
    );
  }
  const shift = chooseShift({ projection, name, definition, wkt, ...(record && { record }) });
  const { toOwnDegrees } = projection;
  const helmert =
    shift.toWgs84 && helmertToWgs84(projection.semiMajorM, projection.semiMinorM, shift.toWgs84);
  const [north, west, south, east] = record?.bbox ?? [];
  const crs: SourceCrs = {
    name,
    ...(record === undefined ? {} : { epsg: Number(record.code) }),
    definition,
    isDegrees: projection.isDegrees,
    unitName: unitName(projection),
    metresPerUnit: projection.metresPerUnit,
    accuracyM: shift.accuracyM,
    ...(east === undefined
      ? {}
      : { areaOfUse: { west: west!, south: south!, east, north: north! } }),
    toWgs84: helmert ? (x, y) => helmert(toOwnDegrees(x, y)) : toOwnDegrees,
  };
  return done(crs, shift.finding === undefined ? [] : [shift.finding]);
}
