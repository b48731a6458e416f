/** The reference system that a plan is written in. */
import proj4 from "proj4";
import type { XY } from "../../crs/build-crs.ts";
import { overrideDeclaration } from "../../crs/choose.ts";
import { inverseOf } from "../../crs/inverse.ts";
import { isNear } from "../../crs/place.ts";
import type { EpsgRegistry } from "../../crs/registry.ts";
import { resolveCrs } from "../../crs/resolve.ts";
import type { SourceCrs } from "../../crs/source-crs.ts";
import { isWkt } from "../../crs/wkt.ts";
import { done, type Finding, failed, type Outcome } from "../../model/finding.ts";
import type { LonLat } from "../../model/geometry.ts";
import type { SiteGrid } from "../../model/site.ts";
import { type OutCrs, SITE_GRID } from "./out-crs.ts";
import { wktOfProj } from "./proj-to-wkt.ts";

export interface TargetCrs {
  /** As shown to people. */
  readonly name: string;
  /** As this program and others read it back: `EPSG:N`, a PROJ string or WKT. */
  readonly definition: string;
  readonly epsg?: number | undefined;
  /** WKT 1 of the system. */
  readonly wkt: string;
  readonly isDegrees: boolean;
  /** Metres in one unit; 1 for degrees. */
  readonly metresPerUnit: number;
  readonly unitName: string;
  /** From degrees of WGS 84 to easting and northing, or longitude and latitude; NaN where there is no place. */
  readonly fromWgs84: (lonDeg: number, latDeg: number) => readonly [number, number];
}

const WGS84_WKT =
  'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AUTHORITY["EPSG","4326"]]';

export const WGS84_TARGET: TargetCrs = {
  name: "EPSG:4326 WGS 84",
  definition: "EPSG:4326",
  epsg: 4326,
  wkt: WGS84_WKT,
  isDegrees: true,
  metresPerUnit: 1,
  unitName: "degree",
  fromWgs84: (lonDeg, latDeg) => [lonDeg, latDeg],
};

/** The site grid: metres east and north of the middle of the site. */
export function siteGridTarget(grid: SiteGrid): TargetCrs {
  return {
    name: "site grid (metres east and north of its origin)",
    definition: grid.projString,
    wkt: wktOfProj(grid.projString, "pegline site grid")!,
    isDegrees: false,
    metresPerUnit: 1,
    unitName: "metre",
    fromWgs84: (lonDeg, latDeg) => grid.forward([lonDeg, latDeg]),
  };
}

/**
 * Finds the system to write in.
 *
 * @param place where the plan lies, degrees: datum shifts are chosen for it
 * @returns the system with findings of its accuracy; problems of kind `usage` for one that is not
 *   known (`OUT_CRS_UNKNOWN`), has no WKT (`OUT_CRS_NO_WKT`) or has no place for the site
 *   (`OUT_CRS_NO_PLACE`)
 */
export function targetCrs(
  out: OutCrs,
  registry: EpsgRegistry,
  place: LonLat,
  grid: SiteGrid,
): Outcome<TargetCrs> {
  if (out === SITE_GRID) return done(siteGridTarget(grid));
  const declaration = { ...overrideDeclaration(out), from: "--out-crs" } as const;
  const first = resolveCrs(declaration, registry);
  if (!first.ok) return unknown(out, first.problem.message);
  if (first.value.epsg === 4326) return done(WGS84_TARGET);
  const at = towards(first.value)(...place);
  if (!at.every(Number.isFinite)) return noPlace(first.value.name);
  // Once more for the place itself: a datum may have several shifts, each for its own area.
  const resolved = resolveCrs(declaration, registry, at);
  if (!resolved.ok) return unknown(out, resolved.problem.message);
  const crs = resolved.value;
  const record = crs.epsg === undefined ? undefined : registry(crs.epsg);
  const wkt = record?.wkt ?? wktOf(out, crs);
  if (wkt === undefined) return noWkt(crs.name);
  const findings = resolved.findings.map(asWritten);
  if (crs.areaOfUse && !isNear(place, crs.areaOfUse)) findings.push(farAway(crs.name));
  return done(
    {
      name: crs.name,
      definition: crs.epsg === undefined ? crs.definition : `EPSG:${crs.epsg}`,
      epsg: crs.epsg,
      wkt,
      isDegrees: crs.isDegrees,
      metresPerUnit: crs.metresPerUnit,
      unitName: crs.unitName,
      fromWgs84: towards(crs),
    },
    findings,
  );
}

function wktOf(out: OutCrs, crs: SourceCrs): string | undefined {
  if (typeof out === "string" && isWkt(out)) return out.trim();
  return wktOfProj(crs.definition, "unnamed");
}

/** Steps of the differences and tolerance of the inverse, degrees: 1 µm on the ground at most. */
const TOLERANCE_DEG = 1e-12;

/**
 * The way from WGS 84 into a system: the inverse of the way out of it, so that what is written reads
 * back to the same place whatever the datum shift.
 */
function towards(crs: SourceCrs): (lonDeg: number, latDeg: number) => readonly [number, number] {
  const plain = crs.isDegrees ? undefined : withoutShift(crs.definition);
  const differ = crs.isDegrees ? 1e-6 : 0.1 / crs.metresPerUnit;
  let start: XY | undefined;
  return (lonDeg, latDeg) => {
    // From one start for all, so that the two ends of a ring come out the same to the last digit.
    start ??= startOf(plain, lonDeg, latDeg);
    const [x, y] = inverseOf(crs.toWgs84, start, differ, TOLERANCE_DEG)(lonDeg, latDeg);
    return [x!, y!];
  };
}

type Plain = (at: [number, number]) => readonly number[];

/** The projection alone, some hundred metres off at most: shifts may ask for files that nobody has. */
function withoutShift(definition: string): Plain {
  const text = definition.replace(/\+(nadgrids|towgs84)=\S+/g, "");
  const converter = proj4("+proj=longlat +ellps=WGS84 +no_defs", text);
  const enforceAxis = /\+axis=\S*[ws]/.test(text);
  return (at) => converter.forward(at, enforceAxis);
}

function startOf(plain: Plain | undefined, lonDeg: number, latDeg: number): XY {
  if (plain === undefined) return [lonDeg, latDeg];
  try {
    const [x, y] = plain([lonDeg, latDeg]);
    return [x!, y!];
  } catch {
    return [Number.NaN, Number.NaN];
  }
}

/** What reading says of a system, said of writing. */
function asWritten(finding: Finding): Finding {
  return { ...finding, message: `--out-crs: ${finding.message}` };
}

function unknown(out: OutCrs, why: string): Outcome<TargetCrs> {
  return failed({
    code: "OUT_CRS_UNKNOWN",
    kind: "usage",
    message: `--out-crs ${String(out).slice(0, 60)} cannot be used: ${why}.`,
    remedy: "Write it like --out-crs EPSG:27700, or give a PROJ string, WKT or site-grid.",
  });
}

function noPlace(name: string): Outcome<TargetCrs> {
  return failed({
    code: "OUT_CRS_NO_PLACE",
    kind: "usage",
    message: `The site has no place in ${name}.`,
    remedy: "Choose a system for the country in which the site lies.",
  });
}

function noWkt(name: string): Outcome<TargetCrs> {
  return failed({
    code: "OUT_CRS_NO_WKT",
    kind: "usage",
    message: `${name} cannot be written as WKT here, which the files need.`,
    remedy: "Give an EPSG code or the system's WKT with --out-crs.",
  });
}

function farAway(name: string): Finding {
  return {
    code: "OUT_CRS_FAR",
    severity: "warning",
    message: `The site lies outside the area for which ${name} is made; lengths and places in it may be off.`,
    remedy: "Choose a system for the country in which the site lies.",
  };
}
