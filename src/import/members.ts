import type { Geometry } from "geojson";
import type { RawFeature } from "../model/features.ts";
import { packedOf } from "./position-store.ts";
import { positionCount } from "./positions.ts";
import type { FindingList } from "./reader.ts";

function flatten(geometry: Geometry): Geometry[] {
  return geometry.type === "GeometryCollection" ? geometry.geometries.flatMap(flatten) : [geometry];
}

/**
 * A feature of a GeometryCollection as one feature a member, with the same number and properties;
 * any other feature as it is. The split is a finding.
 */
export function splitCollection(
  feature: RawFeature,
  findings: FindingList,
  layer: string,
): RawFeature[] {
  if (feature.geometry?.type !== "GeometryCollection") return [feature];
  const members = flatten(feature.geometry);
  if (members.length === 0) return [{ ...feature, geometry: null }];
  findings.add({
    code: "COLLECTION_SPLIT",
    severity: "info",
    layer,
    feature: `#${feature.number}`,
    message: `feature ${feature.number} holds a collection of ${members.length} shapes; each is taken as a feature with the same attributes`,
    remedy:
      "Nothing to do, unless the shapes have different roles: then give them one feature each.",
  });
  const { measures, ...rest } = feature;
  let from = 0;
  return members.map((geometry, index) => {
    const member = { ...rest, geometry, part: index + 1 };
    if (measures === undefined) return member;
    const to = from + positionCount(geometry);
    const own = measures.slice(from, to);
    from = to;
    return { ...member, measures: own };
  });
}

/** Attribute names in order of first appearance. */
export function fieldsOf(features: readonly RawFeature[]): string[] {
  const names = new Set<string>();
  for (const feature of features) for (const name in feature.properties) names.add(name);
  return [...names];
}

/** One finding for all features of a layer that have no geometry. */
export function reportNullGeometries(
  features: readonly RawFeature[],
  findings: FindingList,
  layer: string,
): void {
  // A packed feature has a shape; asking for it would build it.
  const empty = features.filter((one) => packedOf(one) === undefined && one.geometry === null);
  const first = empty[0];
  if (first === undefined) return;
  findings.add({
    code: "GEOMETRY_MISSING",
    severity: "info",
    layer,
    feature: `#${first.number}`,
    message:
      empty.length === 1
        ? `feature ${first.number} has no geometry and takes no part`
        : `${empty.length} features have no geometry and take no part; the first is feature ${first.number}`,
    remedy: "Draw the missing shapes if they matter to the site.",
  });
}
