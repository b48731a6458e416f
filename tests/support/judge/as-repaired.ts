/**
 * What is left of drawn outlines once docs/repair.md has been read to its letter: spikes of at most a
 * millimetre are no edge, and neither is the seam of two lawns that meet along 0.10 m or more with at
 * most 2 cm between them. Told here a second time, by other means than the program's (JTS for the
 * seams), so that a plan can be held against a drawing that needs those two repairs. Idempotent: an
 * outline as the program read it comes back as it is.
 */
import type { Xy } from "../plane.ts";
import { distance, nearestOn } from "../segments.ts";
import {
  bufferOf,
  intersectionOf,
  type Polygon,
  polygonShape,
  polygonsOf,
  type Shape,
  unionOfShapes,
} from "../topology.ts";

/** A spike's way out and way back lie no farther apart, metres; a twentieth more for rounding. */
const SPIKE_M = 0.00105;
/** Points nearer to each other are one, metres. */
const MERGE_M = 0.001;
/** Lawns are joined over a gap of this, metres, along fronts of at least so much. */
const SEAM_M = 0.02;
const FRONT_M = 0.1;
/** Rounding of what is written, and of chords for arcs, metres. */
const ROUNDING_M = 0.0004;

/** A closed ring (first point repeated) without points that repeat and without spikes; closed too. */
export function withoutSpikes(ring: readonly Xy[]): Xy[] {
  let points = ring.slice(0, -1);
  for (let before = Infinity; points.length < before && points.length > 3; ) {
    before = points.length;
    points = points.filter((p, i) => i === 0 || distance(points[i - 1]!, p) > MERGE_M);
    const k = points.findIndex((tip, i) => {
      const a = points.at(i - 1)!;
      const b = points[(i + 1) % points.length]!;
      return isSpike(a, tip, b);
    });
    if (k !== -1) points = points.filter((_, i) => i !== k);
  }
  return [...points, points[0]!];
}

function isSpike(a: Xy, tip: Xy, b: Xy): boolean {
  if ((a[0] - tip[0]) * (b[0] - tip[0]) + (a[1] - tip[1]) * (b[1] - tip[1]) <= 0) return false;
  const [near, far] = distance(a, tip) < distance(b, tip) ? [a, b] : [b, a];
  return distance(near, nearestOn(near, tip, far)) <= SPIKE_M;
}

/** @returns outlines of lawns with the seams between them filled, closed rings, shells first */
export function seamsFilled(lawns: readonly (readonly (readonly Xy[])[])[]): Xy[][][] {
  const shapes = lawns.map((rings) => bufferOf(polygonShape(rings as Polygon), 0));
  const boxes = lawns.map(([shell]) => boxOf(shell!));
  const seams: Shape[] = [];
  for (let i = 0; i < shapes.length; i++) {
    for (let j = i + 1; j < shapes.length; j++) {
      if (!boxesMeet(boxes[i]!, boxes[j]!, SEAM_M + ROUNDING_M)) continue;
      const reach = [i, j].map((k) => bufferOf(shapes[k]!, SEAM_M + ROUNDING_M, 8));
      const near = intersectionOf(reach[0]!, reach[1]!);
      if (near.isEmpty()) continue;
      const half = SEAM_M / 2 + ROUNDING_M;
      const both = bufferOf(unionOfShapes([shapes[i]!, shapes[j]!]), half, 8);
      const seam = intersectionOf(bufferOf(both, -half, 8), near);
      for (const rings of polygonsOf(seam)) {
        const [x0, y0, x1, y1] = boxOf(rings[0]!);
        if (Math.hypot(x1 - x0, y1 - y0) < FRONT_M - ROUNDING_M) continue;
        // A hair wider, so that no slit of rounding stays between seam and lawns.
        seams.push(bufferOf(polygonShape(rings), ROUNDING_M / 4, 8));
      }
    }
  }
  return polygonsOf(unionOfShapes([...shapes, ...seams]));
}

type Box = readonly [x0: number, y0: number, x1: number, y1: number];

function boxOf(ring: readonly Xy[]): Box {
  const all = (k: 0 | 1): number[] => ring.map((p) => p[k]);
  return [Math.min(...all(0)), Math.min(...all(1)), Math.max(...all(0)), Math.max(...all(1))];
}

function boxesMeet(a: Box, b: Box, by: number): boolean {
  return a[0] <= b[2] + by && b[0] <= a[2] + by && a[1] <= b[3] + by && b[1] <= a[3] + by;
}
