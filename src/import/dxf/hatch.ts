import { arcPoints, bulgePoints, chordCount, type Point3, sweepBetween } from "../chords.ts";
import { type Group, GroupCursor } from "./raw-entity.ts";
import { isSound, splinePoints } from "./spline.ts";

const RADIANS = Math.PI / 180;

/** The rings of a hatch's boundary in its own plane, and whether any of it was a curve. */
export interface HatchRings {
  readonly rings: readonly Point3[][];
  readonly curved: boolean;
}

/**
 * Reads the boundary paths of a HATCH (DXF reference, "HATCH" and "Boundary Path Data"): polylines
 * with bulges, or chains of lines, circular arcs, elliptic arcs and splines. Patterns are left out.
 */
export function hatchRings(groups: readonly Group[], tolerance: number): HatchRings {
  const cursor = new GroupCursor(groups);
  const rings: Point3[][] = [];
  let curved = false;
  if (!cursor.seek(30)) return { rings, curved };
  const z = cursor.take(30, 0);
  if (!cursor.seek(91)) return { rings, curved };
  const paths = cursor.take(91, 0);
  for (let i = 0; i < paths && cursor.seek(92); i++) {
    const isPolyline = (cursor.take(92, 0) & 2) !== 0;
    const path = isPolyline ? polylinePath(cursor, z, tolerance) : edgePath(cursor, z, tolerance);
    curved ||= path.curved;
    if (path.ring.length >= 3) rings.push(path.ring);
  }
  return { rings, curved };
}

interface Path {
  readonly ring: Point3[];
  readonly curved: boolean;
}

function polylinePath(cursor: GroupCursor, z: number, tolerance: number): Path {
  cursor.take(72);
  cursor.take(73);
  const count = cursor.take(93, 0);
  const corners: { at: Point3; bulge: number }[] = [];
  for (let i = 0; i < count && cursor.is(10); i++) {
    const at: Point3 = [cursor.take(10), cursor.take(20), z];
    corners.push({ at, bulge: cursor.take(42, 0) });
  }
  return {
    ring: closed(corners, tolerance),
    curved: corners.some(({ bulge }) => bulge !== 0),
  };
}

/** A ring through corners, each with the bulge of the arc that leaves it; not closed at the end. */
export function closed(
  corners: readonly { at: Point3; bulge: number }[],
  tolerance: number,
): Point3[] {
  return corners.flatMap(({ at, bulge }, i) => [
    at,
    ...bulgePoints(at, corners[(i + 1) % corners.length]!.at, bulge, tolerance),
  ]);
}

function edgePath(cursor: GroupCursor, z: number, tolerance: number): Path {
  const count = cursor.take(93, 0);
  const ring: Point3[] = [];
  let curved = false;
  for (let i = 0; i < count && cursor.code === 72; i++) {
    const type = cursor.take(72);
    const points = edgePoints(type, cursor, z, tolerance);
    curved ||= type !== 1;
    appendEdge(ring, points);
  }
  return { ring, curved };
}

/** Adds an edge to the ring, turned round where its far end is the one that meets the ring. */
function appendEdge(ring: Point3[], points: Point3[]): void {
  const last = ring.at(-1);
  const [first, end] = [points[0], points.at(-1)];
  if (last === undefined || first === undefined || end === undefined) {
    for (const point of points) ring.push(point);
    return;
  }
  const gap = (p: Point3) => Math.hypot(p[0] - last[0], p[1] - last[1]);
  const ordered = gap(end) < gap(first) ? [...points].reverse() : points;
  ring.push(...(gap(ordered[0]!) < 1e-9 ? ordered.slice(1) : ordered));
}

function edgePoints(type: number, cursor: GroupCursor, z: number, tolerance: number): Point3[] {
  if (type === 1) {
    const from: Point3 = [cursor.take(10), cursor.take(20), z];
    return [from, [cursor.take(11), cursor.take(21), z]];
  }
  if (type === 2) {
    const centre: Point3 = [cursor.take(10), cursor.take(20), z];
    const radius = cursor.take(40);
    const { start, sweep } = sweepOf(cursor);
    return arcPoints(centre, radius, start, sweep, tolerance);
  }
  if (type === 3) return ellipseEdge(cursor, z, tolerance);
  if (type === 4) return splineEdge(cursor, z, tolerance);
  return [];
}

/** Start and sweep of an arc edge; the angles of a clockwise one are counted clockwise. */
function sweepOf(cursor: GroupCursor): { start: number; sweep: number } {
  const start = cursor.take(50, 0) * RADIANS;
  const sweep = sweepBetween(start, cursor.take(51, 360) * RADIANS);
  return cursor.take(73, 1) === 0 ? { start: -start, sweep: -sweep } : { start, sweep };
}

function ellipseEdge(cursor: GroupCursor, z: number, tolerance: number): Point3[] {
  const [x, y] = [cursor.take(10), cursor.take(20)];
  const [mx, my] = [cursor.take(11), cursor.take(21)];
  const ratio = cursor.take(40, 1);
  const { start, sweep } = sweepOf(cursor);
  // Angles are as seen from the centre; the parameter of an ellipse runs ahead of or behind them.
  const parameter = (angle: number) => {
    const turns = Math.round(angle / (2 * Math.PI)) * 2 * Math.PI;
    const rest = angle - turns;
    return turns + Math.atan2(Math.sin(rest) / ratio, Math.cos(rest));
  };
  const [from, to] = [parameter(start), parameter(start + sweep)];
  const count = chordCount(Math.hypot(mx, my), to - from, tolerance);
  return Array.from({ length: count + 1 }, (_, i) => {
    const t = from + ((to - from) * i) / count;
    const [c, s] = [Math.cos(t), Math.sin(t) * ratio];
    return [x + mx * c - my * s, y + my * c + mx * s, z] as const;
  });
}

function splineEdge(cursor: GroupCursor, z: number, tolerance: number): Point3[] {
  const degree = cursor.take(94);
  cursor.take(73);
  cursor.take(74);
  const knotCount = cursor.take(95, 0);
  const controlCount = cursor.take(96, 0);
  const knots: number[] = [];
  while (knots.length < knotCount && cursor.is(40)) knots.push(cursor.take(40));
  const controls: Point3[] = [];
  const weights: number[] = [];
  while (controls.length < controlCount && cursor.is(10)) {
    controls.push([cursor.take(10), cursor.take(20), z]);
    if (cursor.is(42)) weights.push(cursor.take(42));
  }
  skipFitPoints(cursor);
  const spline = { degree, knots, controls, ...(weights.length > 0 && { weights }) };
  return isSound(spline) ? splinePoints(spline, tolerance) : controls;
}

/** Fit points of a spline edge: their count shares its code with the count of source objects. */
function skipFitPoints(cursor: GroupCursor): void {
  if (cursor.code !== 97) return;
  const isOwn = [11, 72, 97].includes(cursor.codeAfter(1) ?? 0);
  if (!isOwn) return;
  cursor.at++;
  while ([11, 21, 12, 22, 13, 23].includes(cursor.code ?? 0)) cursor.at++;
}
