import type { CrsDeclaration } from "../model/features.ts";
import type { FindingList } from "./reader.ts";

const RFC_7946: CrsDeclaration = { kind: "wgs84", from: "RFC 7946" };
const REMEDY = "Check that it is right; write it as --crs EPSG:N to be explicit.";

/** EPSG code in `EPSG:4326`, `urn:ogc:def:crs:EPSG::27700` or an opengis.net address. */
export function epsgCodeIn(name: string): number | undefined {
  const match = /EPSG(?::|\/)+(?:[\d.]*(?::|\/))?(\d+)$/i.exec(name.trim());
  return match ? Number(match[1]) : undefined;
}

/**
 * The CRS by the legacy `crs` member (GeoJSON 2008, section 3), else by RFC 7946 section 4: WGS 84,
 * longitude first. The use of a `crs` member is a finding, as RFC 7946 has done away with it.
 */
export function declaredCrs(root: object, findings: FindingList, layer: string): CrsDeclaration {
  if (!("crs" in root)) return RFC_7946;
  const member = root.crs as { type?: unknown; properties?: { name?: unknown } } | null;
  const say = (severity: "info" | "warning", message: string, remedy: string) =>
    findings.add({ code: "LEGACY_CRS_MEMBER", severity, layer, message, remedy });
  if (member === null) {
    say(
      "warning",
      'the file has "crs": null: it says that its coordinate reference system is unknown',
      "Pass --crs EPSG:N.",
    );
    return { kind: "none" };
  }
  const name = member?.properties?.name;
  if (member?.type !== "name" || typeof name !== "string") {
    say(
      "warning",
      "the file has a crs member that names no coordinate reference system",
      "Pass --crs EPSG:N if the coordinates are not degrees of WGS 84.",
    );
    return RFC_7946;
  }
  if (/CRS:?84$/i.test(name)) {
    say(
      "info",
      `the file has a legacy crs member (${name}), the same as RFC 7946`,
      "Nothing to do.",
    );
    return { kind: "wgs84", from: "crs member" };
  }
  const code = epsgCodeIn(name);
  say("info", `coordinates are taken as ${name}, by the file's legacy crs member`, REMEDY);
  return code === undefined
    ? { kind: "definition", text: name, from: "crs member" }
    : { kind: "epsg", code, from: "crs member" };
}
