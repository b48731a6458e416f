/** Places to tape from: those that the user gives, corners of houses, corners of the lawn. */
import { anticlockwise, vertexAt, vertexCount } from "../../geometry/rings.ts";
import type { PointM, RingM } from "../../model/geometry.ts";
import type { Site } from "../../model/site.ts";

export interface ControlPoint {
  /** `P1`, `P2`, … in the order in which they serve. */
  readonly number: string;
  /** The feature's name, or what it is a corner of and on which side of that. */
  readonly name: string;
  readonly atM: PointM;
  /**
   * `given` by the user; a corner of a `building`, of something `firm`, of the `lawn`; or the lawn's
   * farthest place to one side, on its `edge`; a `mark` on the line between two of these.
   */
  readonly kind: ControlKind;
  /** Where on the thing the corner is, e.g. `NE`; undefined for given ones. */
  readonly side: CompassSide | undefined;
  /** Of a `mark`: the line that it stands on, by the numbers of its ends. */
  readonly mark?: MarkPlace | undefined;
}

/** Where a mark stands on its line. */
export interface MarkPlace {
  readonly from: string;
  readonly to: string;
  /** From the first end, metres; and the whole line. */
  readonly alongM: number;
  readonly lengthM: number;
}

export type ControlKind = "given" | "building" | "firm" | "lawn" | "edge" | "mark";
export const COMPASS_SIDES = ["N", "NE", "E", "SE", "S", "SW", "W", "NW"] as const;
export type CompassSide = (typeof COMPASS_SIDES)[number];
export type Candidate = Omit<ControlPoint, "number" | "mark">;

/** A corner turns by an angle in this range, degrees, and has sides of this length, metres. */
const CORNER_DEG = [50, 130] as const;
const SIDE_LEAST_M = 1;
/** Corners to choose from, at most; the sharpest of each thing come first. */
const CANDIDATES_MAX = 120;

/**
 * All places that serve, best sort first: given ones, outer corners of buildings, of firm things,
 * corners of lawns, and the lawns' farthest places by compass for where there are no corners.
 */
export function controlCandidates(site: Site): Candidate[] {
  const given = site.controls.map(
    ({ name, atM }): Candidate => ({ name, atM, kind: "given", side: undefined }),
  );
  const things = (kind: "building" | "firm", roles: readonly string[]) =>
    site.things
      .filter(({ role }) => roles.includes(role))
      .flatMap(({ name, areas }) =>
        areas.flatMap((area) => cornersOf(area.shell, name, kind, false)),
      );
  const lawns = site.lawns.flatMap(({ name, area }) => cornersOf(area.shell, name, "lawn", true));
  const found = [
    ...given,
    ...things("building", ["building"]),
    ...things("firm", ["firm", "paving"]),
    ...lawns,
  ].slice(0, Math.max(CANDIDATES_MAX, given.length));
  return [...found, ...extremes(site).slice(0, CANDIDATES_MAX)];
}

/** Outer corners of a ring, largest sides first. */
function cornersOf(ring: RingM, name: string, kind: ControlKind, inner: boolean): Candidate[] {
  const wound = anticlockwise(ring);
  const n = vertexCount(wound);
  const middle = meanOf(wound);
  const corners: { at: PointM; sideM: number }[] = [];
  for (let i = 0; i < n; i++) {
    const a = vertexAt(wound, (i + n - 1) % n);
    const b = vertexAt(wound, i);
    const c = vertexAt(wound, (i + 1) % n);
    const before = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const after = Math.hypot(c[0] - b[0], c[1] - b[1]);
    const turn = turnDeg(a, b, c);
    const size = inner ? Math.abs(turn) : turn;
    if (Math.min(before, after) < SIDE_LEAST_M) continue;
    if (size < CORNER_DEG[0] || size > CORNER_DEG[1]) continue;
    corners.push({ at: b, sideM: Math.min(before, after) });
  }
  return corners
    .sort((a, b) => b.sideM - a.sideM)
    .map(({ at }) => ({ name, atM: at, kind, side: compassSide(middle, at) }));
}

/** The lawn's farthest places to the west, east, south and north. */
function extremes(site: Site): Candidate[] {
  return site.lawns.flatMap(({ name, area }) => {
    const points = Array.from({ length: vertexCount(area.shell) }, (_, i) =>
      vertexAt(area.shell, i),
    );
    const most = (measure: (p: PointM) => number) =>
      points.reduce((best, p) => (measure(p) > measure(best) ? p : best));
    const places: [CompassSide, PointM][] = [
      ["W", most(([e]) => -e)],
      ["E", most(([e]) => e)],
      ["S", most(([, n]) => -n)],
      ["N", most(([, n]) => n)],
    ];
    return places.map(([side, atM]): Candidate => ({ name, atM, kind: "edge", side }));
  });
}

function turnDeg(a: PointM, b: PointM, c: PointM): number {
  const [ue, un] = [b[0] - a[0], b[1] - a[1]];
  const [ve, vn] = [c[0] - b[0], c[1] - b[1]];
  return (Math.atan2(ue * vn - un * ve, ue * ve + un * vn) * 180) / Math.PI;
}

function meanOf(ring: RingM): PointM {
  const n = vertexCount(ring);
  let [e, north] = [0, 0];
  for (let i = 0; i < n; i++) {
    e += ring[2 * i]! / n;
    north += ring[2 * i + 1]! / n;
  }
  return [e, north];
}

/** Where a place lies seen from a middle: one of eight sides. */
export function compassSide(middle: PointM, at: PointM): CompassSide {
  const bearing = Math.atan2(at[0] - middle[0], at[1] - middle[1]);
  return COMPASS_SIDES[(Math.round(bearing / (Math.PI / 4)) + 8) % 8]!;
}
