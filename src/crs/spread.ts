import type { RawLayer } from "../model/features.ts";
import type { Finding } from "../model/finding.ts";
import type { LonLat } from "../model/geometry.ts";
import { roughDistanceM } from "./convert.ts";
import { extentOf, type LonLatExtent } from "./site-grid.ts";

/** Wider sites get a finding: no lawn is, and the scale of the grid grows with the distance. */
export const SITE_WIDTH_MAX_M = 20_000;

/** Where one feature lies, degrees. */
export interface PlacedFeature {
  readonly layer: RawLayer;
  readonly number: number;
  readonly extent: LonLatExtent;
}

function middle(extent: LonLatExtent): LonLat {
  return [(extent.west + extent.east) / 2, (extent.south + extent.north) / 2];
}

function median(values: number[]): number {
  values.sort((a, b) => a - b);
  return values[values.length >> 1] ?? 0;
}

/** Larger of the two sides of an extent, metres (roughly). */
export function widthM(extent: LonLatExtent): number {
  const { west, south, east, north } = extent;
  const mid = (south + north) / 2;
  const across = Math.min(east - west, 180);
  return Math.max(
    roughDistanceM([west, mid], [west + across / 2, mid]) * 2,
    roughDistanceM([west, south], [west, north]),
  );
}

function layerExtents(placed: readonly PlacedFeature[]): Map<RawLayer, LonLatExtent> {
  const corners = new Map<RawLayer, LonLat[]>();
  for (const { layer, extent } of placed) {
    const list = corners.get(layer) ?? [];
    list.push([extent.west, extent.south], [extent.east, extent.north]);
    corners.set(layer, list);
  }
  return new Map([...corners].map(([layer, list]) => [layer, extentOf(list)!]));
}

/** Layers that lie far from the first one: swapped axes where swapping brings them home. */
function strayLayers(placed: readonly PlacedFeature[]): Finding[] {
  const extents = [...layerExtents(placed)];
  const home = extents[0];
  if (home === undefined) return [];
  const findings: Finding[] = [];
  for (const [layer, extent] of extents.slice(1)) {
    const here = middle(extent);
    const awayM = roughDistanceM(middle(home[1]), here);
    if (awayM <= SITE_WIDTH_MAX_M) continue;
    const isSwapped =
      Math.abs(here[0]) <= 90 &&
      roughDistanceM(middle(home[1]), [here[1], here[0]]) <= SITE_WIDTH_MAX_M;
    const where = { file: layer.file, layer: layer.layer };
    const distance = `${Math.round(awayM / 1000)} km from layer ${home[0].layer} of ${home[0].file}`;
    findings.push(
      isSwapped
        ? {
            ...where,
            code: "LAYERS_SWAPPED",
            severity: "error",
            message: `layer ${layer.layer} lies ${distance}, but beside it if longitude and latitude are swapped: one of the two has them in the wrong order`,
            remedy: "Export the wrong one again with longitude first.",
          }
        : {
            ...where,
            code: "LAYERS_FAR_APART",
            severity: "error",
            message: `layer ${layer.layer} lies ${distance}: they are not one site, or one has the wrong coordinate reference system`,
            remedy: "Plan them apart, or correct the .prj or --crs of the wrong one.",
          },
    );
  }
  return findings;
}

/** What is odd about the size of the site, with the likely cause. */
export function spreadFindings(placed: readonly PlacedFeature[], extent: LonLatExtent): Finding[] {
  const width = widthM(extent);
  if (width <= SITE_WIDTH_MAX_M) return [];
  const findings = strayLayers(placed);
  const centre: LonLat = [
    median(placed.map((feature) => middle(feature.extent)[0])),
    median(placed.map((feature) => middle(feature.extent)[1])),
  ];
  let far = placed[0]!;
  let farM = -1;
  for (const feature of placed) {
    const awayM = roughDistanceM(centre, middle(feature.extent));
    if (awayM > farM) [far, farM] = [feature, awayM];
  }
  const [lon, lat] = middle(far.extent);
  const isNullIsland = Math.abs(lon) < 0.01 && Math.abs(lat) < 0.01;
  const cause = isNullIsland
    ? "it lies at 0 degrees, 0 degrees, where shapes without a place end up"
    : "it may be a stray shape, or the file a whole region rather than one site";
  const sizeKm = Math.round(width / 1000);
  findings.push({
    code: "SITE_TOO_WIDE",
    severity: width > 5 * SITE_WIDTH_MAX_M ? "error" : "warning",
    file: far.layer.file,
    layer: far.layer.layer,
    feature: `#${far.number}`,
    at: [lon, lat],
    message: `the site is about ${sizeKm} km wide; feature ${far.number} lies ${Math.round(farM / 1000)} km from most others: ${cause}. Lengths at the rim are off by about ${Math.max(1, Math.round(((width / 2) ** 2 / (2 * 6.37e6 ** 2)) * 1e6))} parts per million`,
    remedy: "Take out what does not belong to the site, or plan its places one by one.",
  });
  return findings;
}
