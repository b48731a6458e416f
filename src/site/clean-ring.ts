import type { PointM, RingM } from "../model/geometry.ts";
import { REPAIR_TOLERANCES } from "../model/site-rules.ts";

/** Vertices nearer to each other than this are one, metres. */
export const MERGE_M = 0.001;

/** A tip that was taken off: where, how far it stuck out, and the area of its triangle. */
export interface Spike {
  readonly atM: PointM;
  readonly lengthM: number;
  readonly areaM2: number;
}

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
  readonly spikes: readonly Spike[];
}

/**
 * Takes off what no edge of a lawn has: points that repeat, and spikes (out and back within
 * the width given). Everything else stays where it was. Linear in the vertices.
 *
 * @param flat the ring as read, closing point repeated or not
 */
export function cleanRing(
  flat: Float64Array,
  spikeWidthM = REPAIR_TOLERANCES.spikeWidthM,
): CleanedRing {
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
  const spikes: Spike[] = [];
  const kept = withoutSpikes(points, spikes, spikeWidthM);
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
function withoutSpikes(points: readonly PointM[], spikes: Spike[], widthM: number): PointM[] {
  const stack: PointM[] = [];
  const push = (point: PointM): void => {
    while (stack.length >= 2) {
      const spike = spikeAt(stack.at(-2)!, stack.at(-1)!, point, widthM);
      if (!spike) break;
      spikes.push(spike);
      stack.pop();
    }
    if (stack.length === 0 || distance(stack.at(-1)!, point) > MERGE_M) stack.push(point);
  };
  for (const point of points) push(point);
  // The seam: the last and the first vertices have neighbours across it.
  for (let looked = 0; looked < 2 && stack.length > 3; ) {
    const n = stack.length;
    const atEnd = spikeAt(stack[n - 2]!, stack[n - 1]!, stack[0]!, widthM);
    const atStart = spikeAt(stack[n - 1]!, stack[0]!, stack[1]!, widthM);
    if (atEnd) {
      spikes.push(atEnd);
      stack.pop();
    } else if (atStart) {
      spikes.push(atStart);
      stack.shift();
    } else if (distance(stack[0]!, stack[n - 1]!) <= MERGE_M) stack.pop();
    else looked = 2;
  }
  return stack;
}

/** The spike at `tip`, where the way from `before` to `after` goes out and back; else nothing. */
function spikeAt(before: PointM, tip: PointM, after: PointM, widthM: number): Spike | undefined {
  const [ue, un] = [before[0] - tip[0], before[1] - tip[1]];
  const [ve, vn] = [after[0] - tip[0], after[1] - tip[1]];
  const along = ue * ve + un * vn;
  if (along <= 0) return undefined;
  const u = Math.hypot(ue, un);
  const v = Math.hypot(ve, vn);
  const twiceM2 = Math.abs(ue * vn - un * ve);
  if (twiceM2 / Math.max(u, v) > widthM) return undefined;
  // A short way in a round corner is no spike, however thin: it must be longer than it is wide.
  if (widthM > MERGE_M && Math.min(u, v) < 3 * widthM) return undefined;
  return { atM: tip, lengthM: Math.min(u, v), areaM2: twiceM2 / 2 };
}

function distance(a: PointM, b: PointM): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
