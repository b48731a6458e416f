import type { Geometry } from "geojson";
import type { RawFeature } from "../model/features.ts";
import { splitCollection } from "./members.ts";
import { firstUnsound } from "./positions.ts";
import type { FindingList } from "./reader.ts";

/** Why a geometry that is rightly built as GeoJSON cannot be used; undefined where it can. */
function faultOf(geometry: Geometry): { code: string; message: string } | undefined {
  const unsound = firstUnsound(geometry);
  if (unsound !== undefined) {
    return {
      code: "COORDINATE_NOT_A_NUMBER",
      message: `position ${unsound.place} is [${unsound.position.slice(0, 2).join(", ")}]`,
    };
  }
  return shortFault(geometry);
}

function shortFault(geometry: Geometry): { code: string; message: string } | undefined {
  const short = (what: string) => ({ code: "TOO_FEW_POSITIONS", message: `a ${what}` });
  const line = (positions: readonly unknown[]) =>
    positions.length < 2 ? short("line has fewer than two positions") : undefined;
  // Three positions are a triangle left open, which is closed when the site is repaired.
  const ring = (positions: readonly unknown[]) =>
    positions.length < 3 ? short("ring has fewer than three positions") : undefined;
  const first = <T>(
    parts: readonly T[],
    check: (part: T) => ReturnType<typeof short> | undefined,
  ) => {
    for (const part of parts) {
      const fault = check(part);
      if (fault !== undefined) return fault;
    }
    return undefined;
  };
  switch (geometry.type) {
    case "LineString":
      return line(geometry.coordinates);
    case "MultiLineString":
      return first(geometry.coordinates, line);
    case "Polygon":
      return first(geometry.coordinates, ring);
    case "MultiPolygon":
      return first(geometry.coordinates, (polygon) => first(polygon, ring));
    case "GeometryCollection":
      return first(geometry.geometries, shortFault);
    default:
      return undefined;
  }
}

/**
 * The feature as features that can be used: none (with a finding) where its geometry has a
 * coordinate that is no number or a part with too few positions, several for a collection.
 */
export function takeFeature(raw: RawFeature, findings: FindingList, layer: string): RawFeature[] {
  const fault = raw.geometry === null ? undefined : faultOf(raw.geometry);
  if (fault === undefined) return splitCollection(raw, findings, layer);
  findings.add({
    code: fault.code,
    // A ring of two corners encloses nothing: nothing of the site is lost with it.
    severity: fault.code === "TOO_FEW_POSITIONS" ? "warning" : "error",
    layer,
    feature: `#${raw.number}`,
    message: `feature ${raw.number} is left out: ${fault.message}`,
    remedy: "Correct or remove that feature in the file.",
  });
  return [];
}
