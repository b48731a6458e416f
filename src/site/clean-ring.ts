import type { PointM, RingM } from "../model/geometry.ts";

/** Vertices nearer to each other than this are one, metres. */
export const MERGE_M = 0.001;

/** What was done to a ring on the way to a clean one. */
export interface CleanedRing {
  /** Without closing point, doubled points and spikes. May have fewer than three vertices. */
  readonly ring: RingM;
  /** Distance from the last point to the first where the ring was not closed, metres. */
  readonly openByM?: number;
  /** Points that stood on the same place as their predecessor. */
  readonly doubled: number;
  readonly doubledAtM?: PointM;
  /** Tips of the spikes that were taken off, and how far they stuck out, metres. */
  readonly spikes: readonly { readonly atM: PointM; readonly lengthM: number }[];
}

/**
 * Takes off what no edge of a lawn has: points that repeat, and spikes (out and back within
 * `MERGE_M`). Everything else stays where it was. Linear in the vertices.
 *
 * @param flat the ring as read, closing point repeated or not
 */
export function cleanRing(flat: Float64Array): CleanedRing {
  const points: PointM[] = [];
  let doubled = 0;
  let doubledAtM: PointM | undefined;
  const count = flat.length >> 1;
  let openByM: number | undefined;
  let last = count;
  if (count > 1) {
    const gap = Math.hypot(flat[0]! - flat[2 * count - 2]!, flat[1]! - flat[2 * count - 1]!);
    if (gap <= MERGE_M) last = count - 1;
    else openByM = gap;
  }
  for (let i = 0; i < last; i++) {
    const point: PointM = [flat[2 * i]!, flat[2 * i + 1]!];
    const before = points.at(-1);
    if (before && distance(before, point) <= MERGE_M) {
      if (distance(before, point) === 0) {
        doubled++;
        doubledAtM ??= point;
      }
      continue;
    }
    points.push(point);
  }
  while (points.length > 1 && distance(points[0]!, points.at(-1)!) <= MERGE_M) points.pop();
  const spikes: { atM: PointM; lengthM: number }[] = [];
  const kept = withoutSpikes(points, spikes);
  const ring = new Float64Array(2 * kept.length);
  kept.forEach(([e, n], i) => {
    ring[2 * i] = e;
    ring[2 * i + 1] = n;
  });
  return {
    ring,
    doubled,
    spikes,
    ...(doubledAtM && { doubledAtM }),
    ...(openByM !== undefined && { openByM }),
  };
}

/** Walks the ring with a stack; a removed tip may lay bare another, so the walk steps back. */
function withoutSpikes(
  points: readonly PointM[],
  spikes: { atM: PointM; lengthM: number }[],
): PointM[] {
  const stack: PointM[] = [];
  const push = (point: PointM): void => {
    while (stack.length >= 2) {
      const reach = spikeLength(stack.at(-2)!, stack.at(-1)!, point);
      if (reach === 0) break;
      spikes.push({ atM: stack.pop()!, lengthM: reach });
    }
    if (stack.length === 0 || distance(stack.at(-1)!, point) > MERGE_M) stack.push(point);
  };
  for (const point of points) push(point);
  // The seam: the last and the first vertices have neighbours across it.
  for (let looked = 0; looked < 2 && stack.length > 3; ) {
    const n = stack.length;
    const atEnd = spikeLength(stack[n - 2]!, stack[n - 1]!, stack[0]!);
    const atStart = spikeLength(stack[n - 1]!, stack[0]!, stack[1]!);
    if (atEnd > 0) spikes.push({ atM: stack.pop()!, lengthM: atEnd });
    else if (atStart > 0) spikes.push({ atM: stack.shift()!, lengthM: atStart });
    else if (distance(stack[0]!, stack[n - 1]!) <= MERGE_M) stack.pop();
    else looked = 2;
  }
  return stack;
}

/** How far `tip` sticks out where the way from `before` to `after` goes out and back; else 0. */
function spikeLength(before: PointM, tip: PointM, after: PointM): number {
  const [ue, un] = [before[0] - tip[0], before[1] - tip[1]];
  const [ve, vn] = [after[0] - tip[0], after[1] - tip[1]];
  const along = ue * ve + un * vn;
  if (along <= 0) return 0;
  const u = Math.hypot(ue, un);
  const v = Math.hypot(ve, vn);
  const width = Math.abs(ue * vn - un * ve) / Math.max(u, v);
  return width <= MERGE_M ? Math.min(u, v) : 0;
}

function distance(a: PointM, b: PointM): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
