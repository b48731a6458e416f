import type { CrsDeclaration } from "../model/features.ts";
import { done, type Finding, failed, type Outcome } from "../model/finding.ts";
import { buildCrs, type XY } from "./build-crs.ts";
import { areaLike } from "./match-register.ts";
import type { EpsgRecord, EpsgRegistry } from "./registry.ts";
import type { SourceCrs } from "./source-crs.ts";
import { horizontalWkt, isWkt, wktEpsgCode, wktName } from "./wkt.ts";
import { wktToProj } from "./wkt-to-proj.ts";

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
 * taken as WGS 84. Of a datum's several published shifts the one for the place of `at` is taken, a pair
 * of the coordinates in question. Fails with kind `input` where there is no CRS or it cannot be understood.
 */
export function resolveCrs(
  declaration: CrsDeclaration,
  registry: EpsgRegistry,
  at?: XY,
): Outcome<SourceCrs> {
  switch (declaration.kind) {
    case "wgs84":
      return done(WGS84);
    case "epsg":
      return resolveEpsg(declaration.code, registry, at);
    case "definition":
      return resolveDefinition(declaration.text, registry, at);
    case "none":
      return problem("CRS_MISSING", "nothing says which coordinate reference system it is in");
  }
}

function resolveEpsg(code: number, registry: EpsgRegistry, at?: XY): Outcome<SourceCrs> {
  if (code === 4326) return done(WGS84);
  const record = registry(code);
  if (record === undefined) {
    return problem("CRS_UNKNOWN", `EPSG:${code} is not in the register of the EPSG dataset`);
  }
  const name = `EPSG:${code} ${record.name}`;
  if (/PROJCRS/.test(record.kind ?? "") && record.proj4 === null) {
    const read = record.wkt === null ? undefined : wktToProj(record.wkt);
    const method = read !== undefined && "methodMissing" in read ? ` ${read.methodMissing}` : "";
    return problem(
      "CRS_METHOD_MISSING",
      `${name} is in a projection that is not known here${method}`,
      "Reproject the file to WGS 84 (EPSG:4326) first.",
    );
  }
  const definition = record.proj4 ?? (record.wkt === null ? undefined : projOf(record.wkt));
  if (definition === undefined || /\+proj=geocent/.test(definition)) {
    return problem("CRS_NOT_FLAT", `${name} is no system of plane or lon/lat coordinates`);
  }
  // Coordinates under a geographic system of grads are grads; the register's string speaks of degrees.
  const degreesPerUnit = record.unit === "grad" && /\+proj=longlat/.test(definition) ? 0.9 : 1;
  const built = buildCrs({ name, definition, at, record, degreesPerUnit });
  const isMore = /COMPOUND|GEOG3D/.test(record.kind ?? "");
  return isMore ? withFinding(built, horizontalOnly(name)) : built;
}

/** The PROJ string for the horizontal part of the register's WKT. */
function projOf(wkt: string): string | undefined {
  const read = wktToProj(horizontalWkt(wkt) ?? "");
  return read !== undefined && "definition" in read ? read.definition : undefined;
}

function withFinding(outcome: Outcome<SourceCrs>, finding: Finding): Outcome<SourceCrs> {
  return { ...outcome, findings: [...outcome.findings, finding] };
}

function horizontalOnly(name: string): Finding {
  return {
    code: "CRS_HORIZONTAL_PART",
    severity: "info",
    message: `${name} holds heights too: its horizontal part is used, and heights are kept as they are`,
    remedy: "Nothing to do.",
  };
}

/** Longest name that is shown, letters; names of systems have fewer, definitions in full seldom more. */
const NAME_MAX = 300;

function shortName(name: string): string {
  return name.length > NAME_MAX ? `${name.slice(0, NAME_MAX)}…` : name;
}

function resolveDefinition(text: string, registry: EpsgRegistry, at?: XY): Outcome<SourceCrs> {
  const trimmed = text.replace(/^\uFEFF/, "").trim();
  const code = /^EPSG:(\d+)$/i.exec(trimmed)?.[1];
  if (code !== undefined) return resolveEpsg(Number(code), registry, at);
  if (trimmed.startsWith("+")) {
    const area = areaLike(registry, trimmed, trimmed);
    return buildCrs({ name: shortName(trimmed), definition: trimmed, at, area });
  }
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
  const outcome = resolveHorizontal(horizontal, registry, at);
  const isMore = /\b(COMPD_?CS|COMPOUNDCRS|VERTCS|VERTCRS|CS\s*\[\s*ellipsoidal\s*,\s*3)/i.test(
    trimmed,
  );
  const name = outcome.ok ? outcome.value.name : "";
  return isMore && outcome.ok ? withFinding(outcome, horizontalOnly(name)) : outcome;
}

function resolveHorizontal(wkt: string, registry: EpsgRegistry, at?: XY): Outcome<SourceCrs> {
  const epsg = wktEpsgCode(wkt);
  const record: EpsgRecord | undefined = epsg === undefined ? undefined : registry(epsg);
  if (record !== undefined && record.proj4 !== null && !/towgs84/i.test(wkt)) {
    return resolveEpsg(Number(record.code), registry, at);
  }
  const own = shortName(wktName(wkt, "\\w+") ?? "unnamed");
  const name = epsg === undefined ? own : `EPSG:${epsg} ${own}`;
  const read = wktToProj(wkt);
  if (read === undefined) {
    return problem(
      "CRS_NOT_UNDERSTOOD",
      `the definition of ${name} is broken or lacks its ellipsoid`,
    );
  }
  if ("methodMissing" in read) {
    return problem(
      "CRS_METHOD_MISSING",
      `${name} is in the projection ${shortName(read.methodMissing || "(not named)")}, which is not known here`,
      "Reproject the file to WGS 84 (EPSG:4326) first.",
    );
  }
  const { definition, degreesPerUnit } = read;
  const area = record === undefined ? areaLike(registry, definition, own) : undefined;
  return buildCrs({ name, definition, at, record, wkt, degreesPerUnit, area });
}
