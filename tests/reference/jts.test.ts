/**
 * JTS's own test cases put to this program's geometry: validity and repair, overlay, buffers,
 * distances, predicates, hulls. Every case passes, fails by name, or does not apply for a reason.
 */
import { readdirSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { convexHull } from "../../src/geometry/detour.ts";
import { loadEngine } from "../../src/geometry/engine.ts";
import { grow, growLines, shrink } from "../../src/geometry/offset.ts";
import { difference, intersection, union } from "../../src/geometry/overlay.ts";
import { areaContains, interiorPoint, totalAreaM2 } from "../../src/geometry/rings.ts";
import { nearestOfSegments } from "../../src/geometry/segments.ts";
import type { AreaM, PointM } from "../../src/model/geometry.ts";
import { repairPolygon } from "../../src/site/repair-polygon.ts";
import { multiPolygonOf, pointOf } from "../support/jsts.ts";
import { areaOf, differenceOf, invalidity, polygonsOf, type Shape } from "../support/topology.ts";
import {
  areasOf,
  casesOf,
  isAreal,
  JTS_FOLDER,
  JTS_IS_HERE,
  JTS_REASON,
  type JtsCase,
  shapeOf,
  Tally,
} from "./jts-cases.ts";

/** `passed` (also where more is told than JTS asks), `failed: …` or `not applicable: …`. */
type Verdict = string;

const NO_OPERATION: Verdict = "not applicable: no such operation here";
const OTHER_SHAPES: Verdict = "not applicable: takes areas alone";
const UNREAD: Verdict = "not applicable: jsts cannot read the geometry";

const closed = (ring: Float64Array): [number, number][] => {
  const points: [number, number][] = [];
  for (let i = 0; i < ring.length; i += 2) points.push([ring[i]!, ring[i + 1]!]);
  return [...points, points[0]!];
};
const ringsOf = ({ shell, holes }: AreaM) => [closed(shell), ...holes.map(closed)];

/** Area in one of two shapes alone. */
function apartM2(ours: readonly AreaM[], theirs: Shape): number {
  if (ours.length === 0) return theirs.getArea();
  const mine = multiPolygonOf(ours);
  if (theirs.isEmpty()) return mine.getArea();
  // The engine's results touch at points, which a MultiPolygon may; lines and points have no area.
  const areal = theirs.getGeometryType() === "GeometryCollection" ? theirs.buffer(0) : theirs;
  return areaOf(differenceOf(mine, areal)) + areaOf(differenceOf(areal, mine));
}

/** A defect of a polygon is told, and what is left of it is valid; a valid one comes back whole. */
function validity({ a, expected }: JtsCase): Verdict {
  if (a === undefined) return UNREAD;
  if (!isAreal(a)) return OTHER_SHAPES;
  const [polygon, another] = polygonsOf(a);
  if (another) return "not applicable: parts of a MultiPolygon are features of a site";
  const codes: string[] = [];
  const { areas } = repairPolygon(polygon!, {}, ({ code }) => void codes.push(code));
  if (areas.length > 0 && invalidity(areas.map(ringsOf)) !== undefined)
    return "failed: not valid when repaired";
  if (expected === "true") {
    if (apartM2(areas, a) > 1e-6) return "failed: a valid polygon is changed";
    return codes.length === 0 ? "passed" : `passed, though told: ${[...new Set(codes)].join(", ")}`;
  }
  if (codes.length > 0) return "passed";
  return "failed: mended, but not told";
}

function overlay({ operation, a, b, expected }: JtsCase): Verdict {
  if (!isAreal(a) || !isAreal(b)) return OTHER_SHAPES;
  const [one, other] = [areasOf(a), areasOf(b)];
  const results: Record<string, () => AreaM[]> = {
    union: () => union([...one, ...other]),
    intersection: () => intersection(one, other),
    difference: () => difference(one, other),
    symdifference: () => union([...difference(one, other), ...difference(other, one)]),
  };
  const apart = apartM2(results[operation]!(), shapeOf(expected));
  return apart < 1e-6 ? "passed" : `failed: ${apart} m² differ`;
}

/** Arcs of the expected result are chords, so many to a quarter turn where the case says nothing. */
const QUADRANT_SEGMENTS = 8;

function buffer({ operation, a, args, expected }: JtsCase): Verdict {
  if (a === undefined) return UNREAD;
  if (isAreal(a) && !(a.getArea() > 0)) return "not applicable: a polygon without area is left out";
  const distance = Number(args[0]);
  const theirs = shapeOf(expected);
  const isMitred = operation === "buffermitredjoin";
  const ours = buffered(a, distance, isMitred ? "mitre" : "round");
  if (ours === undefined)
    return "not applicable: buffers of points, or of lines by nothing or less";
  const apart = apartM2(ours, theirs);
  // Chords lie inside their arc by its rise, 1 − cos(π/4q) of the distance; ours by half a millimetre.
  const quarter = Number(args[1] ?? QUADRANT_SEGMENTS);
  const rise = isMitred ? 0 : 1 - Math.cos(Math.PI / (4 * quarter));
  const allowed = (rise * Math.abs(distance) + 0.0005) * theirs.getLength() + 1e-9;
  return apart <= allowed ? "passed" : `failed: ${apart} m² differ, ${allowed} are allowed`;
}

function buffered(shape: Shape, distance: number, join: "mitre" | "round"): AreaM[] | undefined {
  if (isAreal(shape)) {
    const areas = polygonsOf(shape).flatMap(
      (rings) => repairPolygon(rings, {}, () => undefined).areas,
    );
    if (distance > 0) return grow(areas, distance, join);
    return distance < 0 ? shrink(areas, -distance, join) : [...areas];
  }
  if (!/Line/.test(shape.getGeometryType()) || !(distance > 0)) return undefined;
  return growLines(linesOf(shape), distance, "round", "round");
}

function linesOf(shape: Shape): Float64Array[] {
  return Array.from({ length: shape.getNumGeometries() }, (_, i) =>
    Float64Array.from(
      shape
        .getGeometryN(i)
        .getCoordinates()
        .flatMap(({ x, y }: { x: number; y: number }) => [x, y]),
    ),
  );
}

/** Segments of a shape; a point is one without length. */
function segmentsOf(shape: Shape): [PointM, PointM][] {
  const found: [PointM, PointM][] = [];
  for (let i = 0; i < shape.getNumGeometries(); i++) {
    const part = shape.getGeometryN(i);
    if (part.isEmpty()) continue;
    const lines = isAreal(part)
      ? polygonsOf(part).flat()
      : [part.getCoordinates().map(({ x, y }: { x: number; y: number }) => [x, y])];
    for (const line of lines as PointM[][]) {
      if (line.length === 1) found.push([line[0]!, line[0]!]);
      for (let k = 1; k < line.length; k++) found.push([line[k - 1]!, line[k]!]);
    }
  }
  return found;
}

function distanceOf(a: Shape, b: Shape): number {
  const [one, other] = [segmentsOf(a), segmentsOf(b)];
  const holds = (outer: Shape, inner: readonly [PointM, PointM][]) =>
    isAreal(outer) &&
    areasOf(outer).some((area) => inner.some(([at]) => areaContains(area, at[0], at[1])));
  if (holds(a, other) || holds(b, one)) return 0;
  return Math.min(
    ...one.flatMap(([p, q]) => other.map(([r, s]) => nearestOfSegments(p, q, r, s).distanceM)),
  );
}

function distance({ operation, a, b, args, expected }: JtsCase): Verdict {
  if (a === undefined || b === undefined) return UNREAD;
  if (a.isEmpty() || b.isEmpty()) return "not applicable: nothing is near to nothing";
  const is = distanceOf(a, b);
  if (operation === "distance")
    return Math.abs(is - Number(expected)) < 1e-9 ? "passed" : `failed: ${is}`;
  const within = is <= Number(args[1]);
  return String(within) === expected.toLowerCase() ? "passed" : `failed: ${within}`;
}

function relation(one: JtsCase): Verdict {
  const { operation, a, b, expected } = one;
  if (operation === "relate") return "not applicable: no matrix of relations here";
  const is =
    operation === "intersects"
      ? distanceOf(a, b) === 0
      : totalAreaM2(difference(areasOf(b), areasOf(a))) < 1e-9;
  return String(is) === expected.toLowerCase() ? "passed" : `failed: ${is}`;
}

/** Where the point lies is free; it has to lie inside. */
function innerPoint({ a }: JtsCase): Verdict {
  if (a === undefined) return UNREAD;
  if (!isAreal(a)) return OTHER_SHAPES;
  if (!(a.getArea() > 0)) return "not applicable: a polygon without area has no inside";
  const outside = areasOf(a).filter((area) => {
    const at = interiorPoint(area);
    return !(multiPolygonOf([area]) as Shape).contains(pointOf(...at));
  });
  return outside.length === 0 ? "passed" : "failed: not inside";
}

function hull({ a, expected }: JtsCase): Verdict {
  if (a === undefined) return UNREAD;
  const points = a.getCoordinates().map(({ x, y }: { x: number; y: number }): PointM => [x, y]);
  const ours = convexHull(points);
  const theirs = shapeOf(expected);
  if (!isAreal(theirs)) return ours.length <= 2 ? "passed" : `failed: ${ours.length} corners`;
  const ring = Float64Array.from(ours.flat());
  return apartM2([{ shell: ring, holes: [] }], theirs) < 1e-9 ? "passed" : "failed";
}

const JUDGES: Record<string, (one: JtsCase) => Verdict> = {
  isvalid: validity,
  union: overlay,
  intersection: overlay,
  difference: overlay,
  symdifference: overlay,
  buffer,
  buffermitredjoin: buffer,
  distance,
  iswithindistance: distance,
  intersects: relation,
  contains: relation,
  relate: relation,
  getinteriorpoint: innerPoint,
  convexhull: hull,
};

/** Counts by operation: a fall is seen, a rise too. */
const COUNTS: Record<string, Record<string, number>> = {
  buffer: {
    "not applicable: a polygon without area is left out": 3,
    "not applicable: buffers of points, or of lines by nothing or less": 12,
    "not applicable: jsts cannot read the geometry": 3,
    passed: 138,
  },
  buffermitredjoin: {
    passed: 5,
  },
  contains: {
    passed: 13,
  },
  convexhull: {
    passed: 13,
  },
  densify: {
    "not applicable: no such operation here": 14,
  },
  difference: {
    "not applicable: takes areas alone": 4,
    passed: 10,
  },
  distance: {
    "not applicable: nothing is near to nothing": 6,
    passed: 26,
  },
  getcentroid: {
    "not applicable: no such operation here": 38,
  },
  getinteriorpoint: {
    "not applicable: takes areas alone": 19,
    passed: 5,
  },
  intersection: {
    "not applicable: takes areas alone": 4,
    passed: 11,
  },
  intersects: {
    passed: 14,
  },
  isvalid: {
    "not applicable: jsts cannot read the geometry": 7,
    "not applicable: parts of a MultiPolygon are features of a site": 68,
    "not applicable: takes areas alone": 512,
    passed: 319,
    "passed, though told: DUPLICATE_POINTS": 7,
    "passed, though told: RING_TOO_FEW_POINTS": 3,
  },
  iswithindistance: {
    passed: 22,
  },
  minclearance: {
    "not applicable: no such operation here": 12,
  },
  minclearanceline: {
    "not applicable: no such operation here": 12,
  },
  relate: {
    "not applicable: no matrix of relations here": 14,
  },
  simplifydp: {
    "not applicable: no such operation here": 18,
  },
  simplifytp: {
    "not applicable: no such operation here": 18,
  },
  symdifference: {
    "not applicable: takes areas alone": 4,
    passed: 13,
  },
  union: {
    "not applicable: takes areas alone": 4,
    passed: 10,
  },
};

/** Every failure, by name. */
const FAILED: readonly string[] = [];

describe(`the test cases of JTS${JTS_REASON}`, () => {
  beforeAll(() => loadEngine());

  it.skipIf(!JTS_IS_HERE)(
    "pass, fail or do not apply as counted here",
    { timeout: 120_000 },
    () => {
      const tallies: Record<string, Tally> = {};
      const failed: string[] = [];
      const totals = new Tally();
      for (const file of readdirSync(JTS_FOLDER).sort()) {
        for (const one of casesOf(file)) {
          const verdict = (JUDGES[one.operation] ?? (() => NO_OPERATION))(one);
          tallies[one.operation] ??= new Tally();
          tallies[one.operation]!.add(verdict, one.name);
          totals.add(verdict.split(/[:,]/)[0]!, one.name);
          if (verdict.startsWith("failed")) failed.push(`${one.operation} ${one.name} ${verdict}`);
        }
      }
      console.info("JTS cases:", totals.counts);
      const counts = Object.fromEntries(Object.entries(tallies).map(([op, t]) => [op, t.counts]));
      expect({ counts, failed }).toEqual({ counts: COUNTS, failed: FAILED });
    },
  );
});
