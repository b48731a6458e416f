import { PositionStore, packedOf } from "../import/position-store.ts";
import type { GridLayer, RawFeature, RawLayer } from "../model/features.ts";
import type { Problem } from "../model/finding.ts";
import type { SiteGrid } from "../model/site.ts";
import { forEachXYOf, mapGeometry } from "./convert.ts";
import { ExtentOf } from "./site-grid.ts";
import type { SourceCrs } from "./source-crs.ts";
import type { PlacedFeature } from "./spread.ts";
import { TILE_DEG, TILE_M, TileCounts, TiledTransform } from "./tiled-transform.ts";

/** How far a position may be from where the projections themselves put it. */
const TOLERANCE_M = 5e-6;
/** The same in degrees. */
const TOLERANCE_DEG = TOLERANCE_M / 111_320;

/** A layer with the system that its coordinates are in. */
export interface Resolved {
  /** Its coordinates in the system's own unit and order. */
  readonly layer: RawLayer;
  readonly crs: SourceCrs;
  readonly from: string;
}

/** How many positions each tile of each system holds; layers of one system share their tiles. */
export function countTiles(resolved: readonly Resolved[]): Map<SourceCrs, TileCounts> {
  const tiles = new Map<SourceCrs, TileCounts>();
  for (const { layer, crs } of resolved) {
    const counts =
      tiles.get(crs) ?? new TileCounts(crs.isDegrees ? TILE_DEG : TILE_M / crs.metresPerUnit);
    tiles.set(crs, counts);
    for (const feature of layer.features) forEachXYOf(feature, (x, y) => counts.add(x, y));
  }
  return tiles;
}

/** Where every feature lies in degrees, or the first that its CRS has no place for. */
export function placeFeatures(
  resolved: readonly Resolved[],
  tiles: ReadonlyMap<SourceCrs, TileCounts>,
): PlacedFeature[] | Problem {
  const placed: PlacedFeature[] = [];
  const lonLat = new Float64Array(2);
  for (const { layer, crs } of resolved) {
    const toLonLat = new TiledTransform(crs.toWgs84, tiles.get(crs)!, TOLERANCE_DEG);
    for (const feature of layer.features) {
      const gathered = new ExtentOf();
      let unsound: string | undefined;
      forEachXYOf(feature, (x, y) => {
        // Degrees of WGS 84 are taken as they are, to the last digit.
        if (crs.epsg === 4326) [lonLat[0], lonLat[1]] = [x, y];
        else toLonLat.write(x, y, lonLat, 0);
        const [lon, lat] = [lonLat[0]!, lonLat[1]!];
        const isSound = Number.isFinite(lon) && Number.isFinite(lat) && Math.abs(lat) <= 90;
        if (isSound) gathered.add(lon, lat);
        else unsound ??= `x ${x}, y ${y}`;
      });
      if (unsound !== undefined) return noPlace(layer, feature, unsound, crs);
      const { extent } = gathered;
      if (extent !== undefined) placed.push({ layer, number: feature.number, extent });
    }
  }
  return placed;
}

function noPlace(layer: RawLayer, feature: RawFeature, where: string, crs: SourceCrs): Problem {
  return {
    file: layer.file,
    layer: layer.layer,
    feature: `#${feature.number}`,
    code: "PROJECTION_FAILED",
    kind: "input",
    message: `${where} has no place on earth in ${crs.name}`,
    remedy: "Pass the right system with --crs EPSG:N, or correct that feature.",
  };
}

/** A layer in the site grid. */
export function inGrid(
  { layer, crs, from }: Resolved,
  grid: SiteGrid,
  tiles: ReadonlyMap<SourceCrs, TileCounts>,
): GridLayer {
  const exact = (x: number, y: number) => grid.forward(crs.toWgs84(x, y));
  const toGrid = new TiledTransform(exact, tiles.get(crs)!, TOLERANCE_M);
  const store = new PositionStore();
  const change = (x: number, y: number) => toGrid.at(x, y);
  const write = (x: number, y: number, into: Float64Array, index: number) =>
    toGrid.write(x, y, into, index);
  const features = layer.features.map((feature) => {
    const packed = packedOf(feature);
    if (packed !== undefined) return store.moved(packed, write);
    const { geometry } = feature;
    return geometry === null ? feature : { ...feature, geometry: mapGeometry(geometry, change) };
  });
  const isMetric = crs.isDegrees || crs.metresPerUnit === 1 || layer.unitM !== undefined;
  const unit = isMetric ? {} : { heightUnitM: crs.metresPerUnit };
  return { ...layer, features, crsName: crs.name, crsFrom: from, ...unit };
}
