/** The lawn's edge as stretches between corners, and the nearest places on it. */
import type { PointM } from "../../model/geometry.ts";
import type { FlatM, PageModel } from "../model/page-model.ts";

/** A turn of more than this is a corner, radians. */
const CORNER = (30 * Math.PI) / 180;

/** A stretch of a lawn's edge from corner to corner, in the order of its ring. */
export interface EdgeStretch {
  readonly line: readonly PointM[];
  readonly lengthM: number;
}

/** All stretches of all lawns, in the order of the model. A ring without corners is one stretch. */
export function edgeStretches(model: Pick<PageModel, "shapes">): EdgeStretch[] {
  return rings(model).flatMap(stretchesOf);
}

/** The stretch nearest to a place, by its number in the list; -1 where there is none. */
export function nearestStretch(stretches: readonly EdgeStretch[], at: PointM): number {
  let best = -1;
  let bestM = Number.POSITIVE_INFINITY;
  stretches.forEach(({ line }, i) => {
    const { distanceM } = nearestOn(line, at);
    if (distanceM < bestM) [best, bestM] = [i, distanceM];
  });
  return best;
}

/** The place on the edges of lawns that is nearest to a place; the place itself where there are none. */
export function nearestOnEdge(model: Pick<PageModel, "shapes">, at: PointM): PointM {
  let best = { at, distanceM: Number.POSITIVE_INFINITY };
  for (const ring of rings(model)) {
    const found = nearestOn([...ring, ring[0]!], at);
    if (found.distanceM < best.distanceM) best = found;
  }
  return best.at;
}

function rings({ shapes }: Pick<PageModel, "shapes">): PointM[][] {
  return shapes.flatMap(({ kind, place }) =>
    kind === "lawn" && place.form === "area" ? place.areas.flatMap((area) => area.map(points)) : [],
  );
}

function points(flat: FlatM): PointM[] {
  const out: PointM[] = [];
  for (let i = 0; i + 1 < flat.length; i += 2) out.push([flat[i]!, flat[i + 1]!]);
  return out;
}

function stretchesOf(ring: readonly PointM[]): EdgeStretch[] {
  const n = ring.length;
  const corners = ring.flatMap((_, i) => (turnAt(ring, i) > CORNER ? [i] : []));
  if (corners.length === 0) return n < 3 ? [] : [stretch([...ring, ring[0]!])];
  return corners.map((from, k) => {
    const to = corners[(k + 1) % corners.length]!;
    const count = (to - from + n - 1) % n;
    return stretch(Array.from({ length: count + 2 }, (_, i) => ring[(from + i) % n]!));
  });
}

function turnAt(ring: readonly PointM[], i: number): number {
  const [a, b, c] = [-1, 0, 1].map((step) => ring[(i + step + ring.length) % ring.length]!) as [
    PointM,
    PointM,
    PointM,
  ];
  const before = Math.atan2(b[1] - a[1], b[0] - a[0]);
  const after = Math.atan2(c[1] - b[1], c[0] - b[0]);
  const turn = Math.abs(after - before);
  return Math.min(turn, 2 * Math.PI - turn);
}

function stretch(line: readonly PointM[]): EdgeStretch {
  const lengthM = line.slice(1).reduce((sum, [e, n], i) => {
    return sum + Math.hypot(e - line[i]![0], n - line[i]![1]);
  }, 0);
  return { line, lengthM };
}

function nearestOn(line: readonly PointM[], [e, n]: PointM): { at: PointM; distanceM: number } {
  let best: { at: PointM; distanceM: number } = { at: [e, n], distanceM: Number.POSITIVE_INFINITY };
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    const [de, dn] = [b[0] - a[0], b[1] - a[1]];
    const square = de * de + dn * dn;
    const share = square === 0 ? 0 : ((e - a[0]) * de + (n - a[1]) * dn) / square;
    const t = Math.max(0, Math.min(1, share));
    const at: PointM = [a[0] + t * de, a[1] + t * dn];
    const distanceM = Math.hypot(e - at[0], n - at[1]);
    if (distanceM < best.distanceM) best = { at, distanceM };
  }
  return best;
}
