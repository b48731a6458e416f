/** Which part each given station serves. */
import { SegmentIndex } from "../geometry/segment-index.ts";
import type { AreaM, PointM } from "../model/geometry.ts";
import type { PlacedPoint } from "../model/site.ts";

/**
 * Each station goes to the part whose outer edge is nearest; where two want one part the nearer wins.
 *
 * @returns for each part the place wanted, and the stations left over
 */
export function shareStations(
  parts: readonly AreaM[],
  stations: readonly PlacedPoint[],
): { wanted: (PointM | undefined)[]; unused: PlacedPoint[] } {
  const wanted: (PointM | undefined)[] = parts.map(() => undefined);
  const unused: PlacedPoint[] = [];
  if (stations.length === 0 || parts.length === 0) return { wanted, unused: [...stations] };
  const index = new SegmentIndex(parts.map((part) => part.shell));
  const claims = stations
    .map((station) => {
      const near = index.nearest(station.atM[0], station.atM[1], Infinity)!;
      return { station, part: index.ringOf[near.segment]!, distanceM: near.distanceM };
    })
    .sort((a, b) => a.distanceM - b.distanceM);
  for (const claim of claims) {
    if (wanted[claim.part]) unused.push(claim.station);
    else wanted[claim.part] = claim.station.atM;
  }
  return { wanted, unused };
}
