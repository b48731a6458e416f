/** What is in the files of a site, before anything is planned. Pure: layers in, figures out. */
import type { Geometry, Position } from "geojson";
import type { GridLayer, RawFeature, RawLayer } from "../model/features.ts";
import type { Role } from "../model/roles.ts";
import type { LayerRoles } from "../site/layer-roles.ts";

export interface InspectedLayer {
  readonly name: string;
  /** How many the file holds, null geometries included. */
  readonly features: number;
  /** Count by GeoJSON type; null geometries under `null`. */
  readonly geometries: Readonly<Record<string, number>>;
  readonly vertices: number;
  /** Name of the reference system; null where it is not known. */
  readonly crs: string | null;
  /** Where that is said; null where it is not known. */
  readonly crs_from: string | null;
  /** The role of its features; `several` where they differ; null where none has one. */
  readonly role: string | null;
  /** Its features by role; those without one are not counted. */
  readonly roles: Readonly<Partial<Record<Role, number>>>;
  /** What says so, in words; null where no feature has a role. */
  readonly role_from: string | null;
  /** Width and height in the site grid, metres; null where it has no place on earth. */
  readonly extent_m: readonly [number, number] | null;
  readonly fields: readonly string[];
}

export interface InspectedInput {
  readonly file: string;
  readonly format: string;
  readonly layers: readonly InspectedLayer[];
}

/**
 * Lists layers by file.
 *
 * @param layers as read
 * @param placed the same layers in the site grid, where the reference system is known
 * @param roles what the features of each layer are, where it is known
 */
export function inspectLayers(
  layers: readonly RawLayer[],
  placed: readonly GridLayer[] | undefined,
  roles: readonly LayerRoles[] | undefined,
): InspectedInput[] {
  const inputs = new Map<string, { file: string; format: string; layers: InspectedLayer[] }>();
  layers.forEach((layer, i) => {
    const input = inputs.get(layer.file) ?? { file: layer.file, format: layer.format, layers: [] };
    input.layers.push(inspectLayer(layer, placed?.[i], roles?.[i]));
    inputs.set(layer.file, input);
  });
  return [...inputs.values()];
}

function inspectLayer(
  layer: RawLayer,
  placed: GridLayer | undefined,
  found: LayerRoles | undefined,
): InspectedLayer {
  const roles = found?.roles ?? {};
  const names = Object.keys(roles);
  return {
    name: layer.layer,
    features: layer.featuresInFile ?? new Set(layer.features.map((one) => one.number)).size,
    geometries: countOf(layer.features.map(geometryType)),
    vertices: layer.features.reduce((sum, one) => sum + verticesOf(one.geometry), 0),
    crs: placed?.crsName ?? null,
    crs_from: placed?.crsFrom ?? null,
    role: names.length > 1 ? "several" : (names[0] ?? null),
    roles,
    role_from: found?.because || null,
    extent_m: placed ? extentM([placed]) : null,
    fields: layer.fields,
  };
}

const geometryType = (feature: RawFeature) => feature.geometry?.type ?? "null";

function countOf(names: readonly string[]): Record<string, number> {
  const counts = new Map<string, number>();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return Object.fromEntries([...counts].sort(([a], [b]) => (a < b ? -1 : 1)));
}

function verticesOf(geometry: Geometry | null): number {
  if (!geometry) return 0;
  if (geometry.type === "GeometryCollection")
    return geometry.geometries.reduce((sum, one) => sum + verticesOf(one), 0);
  return positionsOf(geometry).length;
}

function positionsOf(geometry: Exclude<Geometry, { type: "GeometryCollection" }>): Position[] {
  switch (geometry.type) {
    case "Point":
      return [geometry.coordinates];
    case "MultiPoint":
    case "LineString":
      return geometry.coordinates;
    case "MultiLineString":
    case "Polygon":
      return geometry.coordinates.flat();
    case "MultiPolygon":
      return geometry.coordinates.flat(2);
  }
}

/** Width and height of everything in the site grid, metres; null where nothing has a place. */
export function extentM(layers: readonly GridLayer[]): [number, number] | null {
  let [minE, minN, maxE, maxN] = [Infinity, Infinity, -Infinity, -Infinity];
  const visit = (geometry: Geometry | null): void => {
    if (geometry?.type === "GeometryCollection") geometry.geometries.forEach(visit);
    else if (geometry) {
      for (const [east, north] of positionsOf(geometry)) {
        if (!Number.isFinite(east) || !Number.isFinite(north)) continue;
        minE = Math.min(minE, east!);
        maxE = Math.max(maxE, east!);
        minN = Math.min(minN, north!);
        maxN = Math.max(maxN, north!);
      }
    }
  };
  for (const layer of layers) for (const feature of layer.features) visit(feature.geometry);
  return minE === Infinity ? null : [maxE - minE, maxN - minN];
}
