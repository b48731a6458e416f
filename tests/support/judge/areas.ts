import type { Degrees, Xy } from "../plane.ts";
import { lineLength, ringArea } from "../segments.ts";
import {
  areaOf,
  differenceOf,
  invalidity,
  type Polygon,
  polygonShape,
  unionOfShapes,
} from "../topology.ts";
import { type Court, ofKind, type PlanFeature, polygonsIn, type SiteTruth } from "./types.ts";

const KINDS = ["mown-area", "cut-off-area", "hand-trim"] as const;

/** Areas: valid polygons, true sizes, and together the ground. */
export function judgeAreas(court: Court, truth: SiteTruth | undefined): void {
  const place = (ring: readonly Degrees[]): Xy[] => ring.map((at) => court.plane.toPlane(at));
  for (const feature of court.plan.features) judgePolygons(court, feature);
  // Where the plan says that slivers are left out of the drawing, half a millimetre along the rims.
  const slivers = ofKind(court, "finding").some((f) => f.properties?.code === "SLIVERS_NOT_DRAWN");
  let drawn = 0;
  let stated = 0;
  let leftOut = 0;
  let rounding = 0;
  for (const kind of KINDS) {
    for (const feature of ofKind(court, kind)) {
      const size = polygonsIn(feature).reduce(
        (sum, rings) => sum + polygonArea(rings.map(place)),
        0,
      );
      const said = Number(feature.properties?.area_m2);
      const rim = polygonsIn(feature)
        .flatMap((rings) => rings.map((ring) => lineLength(place(ring))))
        .reduce((sum, length) => sum + length, 0);
      // Rounding to 9 decimals moves an edge by half of 0.11 mm at most.
      const tolerance = 0.001 + 0.00006 * rim;
      const spare = slivers ? 0.0005 * rim : 0;
      leftOut += spare;
      rounding += tolerance;
      if (!(said >= size - tolerance && said <= size + spare + tolerance)) {
        court.breach("area-size", { measured: said, allowed: size, loop: kind });
      }
      drawn += size;
      stated += said;
    }
  }
  const site = court.summary?.site as { area_m2: number } | undefined;
  // Stated areas are rounded to a square centimetre each; the overlay keeps 0.01 mm along the rims.
  if (site && !(Math.abs(site.area_m2 - stated) <= 0.01 + 1e-6 * stated)) {
    court.breach("areas-do-not-add-up", { measured: stated, allowed: site.area_m2 });
  }
  if (!truth) return;
  const shapes = (polygons: readonly Polygon[]) =>
    unionOfShapes(polygons.map((rings) => polygonShape(rings.map(place))));
  const lawn = shapes(truth.lawns.map((one) => one.polygon));
  const things = shapes(truth.things.flatMap((thing) => thing.polygons));
  const ground = areaOf(things.isEmpty() ? lawn : differenceOf(lawn, things));
  court.figures.groundErrorM2 = drawn - ground;
  if (!(drawn <= ground + rounding && drawn >= ground - leftOut - rounding)) {
    court.breach("ground-area", { measured: drawn, allowed: ground });
  }
}

function judgePolygons(court: Court, feature: PlanFeature): void {
  const polygons = polygonsIn(feature);
  if (polygons.length === 0) return;
  const first = court.plane.toPlane(polygons[0]![0]![0]!);
  const why = invalidity(polygons);
  if (why) court.breach("invalid-polygon", { at: first, measured: why });
  // RFC 7946 §3.1.6: exterior rings anticlockwise, interior rings clockwise.
  for (const rings of polygons) {
    rings.forEach((ring, i) => {
      const turn = ringArea(ring.slice(0, -1) as unknown as Xy[]);
      if (i === 0 ? turn <= 0 : turn >= 0) {
        court.breach("ring-winding", {
          at: first,
          measured: turn * 1.2e10,
          loop: feature.properties?.kind,
        });
      }
    });
  }
}

function polygonArea(rings: readonly (readonly Xy[])[]): number {
  return rings.reduce((sum, ring, i) => {
    const size = Math.abs(ringArea(ring.slice(0, -1)));
    return sum + (i === 0 ? size : -size);
  }, 0);
}
