import { arcPoints, bulgePoints, chordCount, type Point3, sweepBetween } from "../chords.ts";
import { closed, hatchRings } from "./hatch.ts";
import type { Entity, Xyz } from "./parse-drawing.ts";
import { facingOf, type Group, numberOf } from "./raw-entity.ts";
import { isSound, type Spline, splinePoints } from "./spline.ts";
import { apply, cross, planeToSpace } from "./transform.ts";

/** What an entity is made of: points of a line (a closed one repeats its first), rings, or a place. */
export interface Piece {
  readonly kind: "line" | "rings" | "point";
  readonly parts: readonly (readonly Point3[])[];
  /** True where chords stand for a curve. */
  readonly curved: boolean;
}

const FULL_TURN = 2 * Math.PI;

function p3({ x, y, z }: Xyz): Point3 {
  return [x, y, z ?? 0];
}

function facing(entity: Entity): Point3 {
  if (entity.extrusionDirection) return p3(entity.extrusionDirection);
  return [
    entity.extrusionDirectionX ?? 0,
    entity.extrusionDirectionY ?? 0,
    entity.extrusionDirectionZ ?? 1,
  ];
}

function line(points: readonly Point3[], curved = false): Piece {
  return { kind: "line", parts: [points], curved };
}

/** The same points in the drawing's space, from a plane that faces in the given direction. */
function fromPlane(points: readonly Point3[], direction: Point3): Point3[] {
  const map = planeToSpace(direction);
  return points.map((point) => apply(map, point));
}

/**
 * The shape of one entity in the drawing's (or its block's) space; undefined for those that hold no
 * outline, such as meshes. `tolerance` is the greatest sagitta of a chord, in drawing units.
 */
export function pieceOf(entity: Entity, tolerance: number): Piece | undefined {
  const { groups = [] } = entity;
  switch (entity.type) {
    case "LINE":
      return line((entity.vertices ?? []).map(p3));
    case "POINT":
      return entity.position && { kind: "point", parts: [[p3(entity.position)]], curved: false };
    case "SOLID":
      return solid(entity);
    case "ARC":
      return arc(entity, tolerance);
    case "CIRCLE":
      return circle(groups, tolerance);
    case "ELLIPSE":
      return ellipse(groups, tolerance);
    case "LWPOLYLINE":
      return lightPolyline(groups, tolerance);
    case "POLYLINE":
      return polyline(entity, tolerance);
    case "SPLINE":
      return spline(groups, tolerance);
    case "HATCH":
      return hatch(groups, tolerance);
    default:
      return undefined;
  }
}

function arc(entity: Entity, tolerance: number): Piece | undefined {
  if (!entity.center) return undefined;
  const start = entity.startAngle ?? 0;
  const sweep = sweepBetween(start, entity.endAngle ?? FULL_TURN);
  const points = arcPoints(p3(entity.center), entity.radius ?? 0, start, sweep, tolerance);
  return line(fromPlane(points, facing(entity)), true);
}

function circle(groups: readonly Group[], tolerance: number): Piece {
  const centre: Point3 = [numberOf(groups, 10), numberOf(groups, 20), numberOf(groups, 30, 0)];
  const points = arcPoints(centre, numberOf(groups, 40), 0, FULL_TURN, tolerance);
  points[points.length - 1] = points[0]!;
  return line(fromPlane(points, facingOf(groups)), true);
}

/** The axes of an ellipse are in space; the minor one is N × major, times the ratio. */
function ellipse(groups: readonly Group[], tolerance: number): Piece {
  const [x, y, z] = [numberOf(groups, 10), numberOf(groups, 20), numberOf(groups, 30, 0)];
  const major: Point3 = [numberOf(groups, 11), numberOf(groups, 21), numberOf(groups, 31, 0)];
  const ratio = numberOf(groups, 40, 1);
  const [n0, n1, n2] = facingOf(groups);
  const length = Math.hypot(n0, n1, n2) || 1;
  const minor = cross([n0 / length, n1 / length, n2 / length], major);
  const start = numberOf(groups, 41, 0);
  const sweep = sweepBetween(start, numberOf(groups, 42, FULL_TURN));
  const count = chordCount(Math.hypot(...major), sweep, tolerance);
  const points = Array.from({ length: count + 1 }, (_, i) => {
    const t = start + (sweep * i) / count;
    const [c, s] = [Math.cos(t), Math.sin(t) * ratio];
    return [
      x + major[0] * c + minor[0] * s,
      y + major[1] * c + minor[1] * s,
      z + major[2] * c + minor[2] * s,
    ] as const;
  });
  if (Math.abs(sweep - FULL_TURN) < 1e-9) points[count] = points[0]!;
  return line(points, true);
}

interface Corner {
  readonly at: Point3;
  readonly bulge: number;
}

function bulged(corners: readonly Corner[], isClosed: boolean, tolerance: number): Piece {
  const curved = corners.some(({ bulge }) => bulge !== 0);
  if (isClosed && corners.length > 0) {
    const ring = closed(corners, tolerance);
    return line([...ring, ring[0]!], curved);
  }
  const points = corners.flatMap(({ at, bulge }, i) => {
    const next = corners[i + 1];
    return next === undefined ? [at] : [at, ...bulgePoints(at, next.at, bulge, tolerance)];
  });
  return line(points, curved);
}

function lightPolyline(groups: readonly Group[], tolerance: number): Piece {
  const z = numberOf(groups, 38, 0);
  const corners: { at: Point3; bulge: number }[] = [];
  for (const [code, value] of groups) {
    const last = corners.at(-1);
    if (code === 10) corners.push({ at: [value, Number.NaN, z], bulge: 0 });
    else if (last && code === 20) last.at = [last.at[0], value, z];
    else if (last && code === 42) last.bulge = value;
  }
  const isClosed = (numberOf(groups, 70, 0) & 1) !== 0;
  const piece = bulged(corners, isClosed, tolerance);
  return { ...piece, parts: piece.parts.map((part) => fromPlane(part, facingOf(groups))) };
}

function polyline(entity: Entity, tolerance: number): Piece | undefined {
  if (entity.is3dPolygonMesh || entity.isPolyfaceMesh) return undefined;
  const isFlat = !entity.is3dPolyline;
  // The frame of control points round a fitted curve is no part of it.
  const corners = (entity.vertices ?? [])
    .filter((vertex) => !vertex.splineControlPoint)
    .map((vertex) => ({ at: p3(vertex), bulge: isFlat ? (vertex.bulge ?? 0) : 0 }));
  const piece = bulged(corners, entity.shape === true, tolerance);
  if (!isFlat) return piece;
  return { ...piece, parts: piece.parts.map((part) => fromPlane(part, facing(entity))) };
}

/** Points that three group codes give, the first of which begins one. */
function pointsOf(groups: readonly Group[], codeX: number): Point3[] {
  const points: [number, number, number][] = [];
  for (const [code, value] of groups) {
    const last = points.at(-1);
    if (code === codeX) points.push([value, Number.NaN, 0]);
    else if (last && code === codeX + 10) last[1] = value;
    else if (last && code === codeX + 20) last[2] = value;
  }
  return points;
}

function spline(groups: readonly Group[], tolerance: number): Piece | undefined {
  const valuesOf = (code: number) =>
    groups.filter(([each]) => each === code).map(([, value]) => value);
  const weights = valuesOf(41);
  const curve: Spline = {
    degree: numberOf(groups, 71, 3),
    knots: valuesOf(40),
    controls: pointsOf(groups, 10),
    ...(weights.length > 0 && { weights }),
  };
  if (isSound(curve)) return line(splinePoints(curve, tolerance), true);
  const fit = pointsOf(groups, 11);
  const isClosed = (numberOf(groups, 70, 0) & 1) !== 0;
  return fit.length >= 2 ? line(isClosed ? [...fit, fit[0]!] : fit, true) : undefined;
}

/** A SOLID's third and fourth corners are crosswise. */
function solid(entity: Entity): Piece | undefined {
  const [a, b, c, d] = (entity.points ?? []).map(p3);
  if (!a || !b || !c) return undefined;
  const ring = d ? [a, b, d, c, a] : [a, b, c, a];
  return { kind: "rings", parts: [fromPlane(ring, facing(entity))], curved: false };
}

function hatch(groups: readonly Group[], tolerance: number): Piece | undefined {
  const { rings, curved } = hatchRings(groups, tolerance);
  if (rings.length === 0) return undefined;
  const direction = facingOf(groups);
  const parts = rings.map((ring) => fromPlane([...ring, ring[0]!], direction));
  return { kind: "rings", parts, curved };
}
