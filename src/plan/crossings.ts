/**
 * Flush paths between two lawns that the machine crosses: the stretch of path between them joins the
 * lawns, so that one loop spans both and its wire crosses the path.
 *
 * Each lawn's front along the path is swept square across it; the stretch is what both sweeps have
 * of the path. So it ends straight across, where the first of the two lawns ends.
 */
import { AreaIndex } from "../geometry/area-index.ts";
import { grow } from "../geometry/offset.ts";
import { areasFromRings, difference, intersection, union } from "../geometry/overlay.ts";
import { anticlockwise, areaM2, boxOf, totalAreaM2, vertexAt } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { segmentsMeet } from "../geometry/segments.ts";
import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import type { Thing } from "../model/site.ts";

/** Wider paving between two lawns is no path that a machine crosses by itself, metres. */
const PATH_MAX_M = 3;
/** A path that lies this near to a lawn lies along it: digitising, metres. */
const GAP_M = 0.1;
/** A lawn's edge is looked at in pieces of this length, metres. */
const PIECE_M = 0.25;
/** Sweeps of neighbouring pieces are joined where the edge turns by no more than this, degrees. */
const TURN_MAX_DEG = 100;
/** Lawn that both sides must have along the stretch, metres. */
const FRONT_MIN_M = 0.5;

export interface Crossing {
  /** Its place in the list of all crossings of a site. */
  readonly number: number;
  /** Paths it crosses. */
  readonly paths: readonly Thing[];
  /** Path (and gap) between the lawns, and path drawn over them there. */
  readonly stretch: readonly AreaM[];
  /** The part of it that no lawn is drawn on. */
  readonly between: readonly AreaM[];
}

/**
 * @param lawn lawns united
 * @param flush flush paving that does not lie inside a lawn nor part one
 * @returns a crossing for each stretch of path that joins two lawns
 */
export function findCrossings(lawn: readonly AreaM[], flush: readonly Thing[]): Crossing[] {
  if (lawn.length < 2 || flush.length === 0) return [];
  const crossings: Crossing[] = [];
  for (const path of union(flush.flatMap((thing) => thing.areas))) {
    const wide = grow([path], GAP_M, "mitre");
    const near = lawn.filter((area) => boxesMeet(area, wide) && meets([area], wide));
    if (near.length < 2) continue;
    for (const stretch of stretchesOf(near, wide)) {
      const paths = flush.filter((thing) => meets(thing.areas, [stretch]));
      crossings.push({
        number: crossings.length,
        paths,
        stretch: [stretch],
        between: difference([stretch], near),
      });
    }
  }
  return crossings;
}

/** Ground on both sides of a crossing is looked for this far from it, metres. */
const BESIDE_M = 0.01;

/**
 * Crossings over which nothing drives: something on the path is in the way, or the path is too
 * short for the machine between the wires, or of the lawn beyond the wires leave less than the
 * machine covers where it stands. They would be dead ends of paving inside the wire.
 *
 * @param parts what the machine reaches inside the wires
 * @param driveM what the machine drives through, metres
 */
export function deadEnds(
  crossings: readonly Crossing[],
  lawn: readonly AreaM[],
  parts: readonly AreaM[],
  driveM: number,
): Crossing[] {
  const leastM2 = (Math.PI / 4) * driveM ** 2;
  return crossings.filter(({ stretch, between }) => {
    const near = lawn.filter((area) => boxesMeet(area, grow(stretch, BESIDE_M, "mitre")));
    const reached = parts.filter((part) => meets([part], between));
    const worth = near.filter((area) => totalAreaM2(intersection(reached, [area])) >= leastM2);
    return !intersection(reached, between).some((piece) => {
      const wide = grow([piece], BESIDE_M, "mitre");
      return worth.filter((area) => meets([area], wide)).length > 1;
    });
  });
}

/** Pieces of a path between lawns that have at least two of them along it. */
function stretchesOf(lawns: readonly AreaM[], path: readonly AreaM[]): AreaM[] {
  const along = new AreaIndex(path);
  const pieces = lawns.map((lawn) => piecesAlong(lawn, along));
  const edges = lawns.map((lawn) => new SegmentIndex([lawn.shell, ...lawn.holes]));
  const found: AreaM[] = [];
  for (let i = 0; i < lawns.length; i++) {
    for (let j = i + 1; j < lawns.length; j++) {
      const one = sweepOf(pieces[i]!, edges[j]!);
      const other = sweepOf(pieces[j]!, edges[i]!);
      for (const piece of intersection(intersection(one, other), path)) {
        const bare = difference([piece], lawns);
        const joins = [lawns[i]!, lawns[j]!].every((lawn) => frontM(lawn, bare) >= FRONT_MIN_M);
        if (joins) found.push(piece);
      }
    }
  }
  return union(found);
}

interface Piece {
  readonly from: PointM;
  readonly to: PointM;
  /** Unit vector out of the lawn. */
  readonly out: PointM;
  /** Whether it lies along the path. */
  readonly along: boolean;
}

/** A lawn's edge in short pieces, ring by ring. */
function piecesAlong(lawn: AreaM, path: AreaIndex): Piece[][] {
  return [lawn.shell, ...lawn.holes].map((ring) =>
    piecesOf(ring).map((piece) => {
      const [e, n] = [(piece.from[0] + piece.to[0]) / 2, (piece.from[1] + piece.to[1]) / 2];
      return { ...piece, along: path.locate(e, n) !== -1 };
    }),
  );
}

/** Pieces that turn by no more than about 30° from each other go straight on. */
const STRAIGHT_COSINE = 0.87;
/** How far the other lawn may lie, metres. */
const REACH_M = PATH_MAX_M + GAP_M;

/** What a lawn's front sweeps, moved square to itself either way, where the other lawn faces it. */
function sweepOf(rings: readonly (readonly Piece[])[], other: SegmentIndex): AreaM[] {
  const swept: RingM[] = [];
  for (const pieces of rings) {
    const facing = pieces.map((piece) => piece.along && faces(piece, other));
    const count = pieces.length;
    // Neighbours straight on too, so that the other lawn's end cuts the sweep, not a piece's end.
    const isFront = pieces.map(
      (piece, i) =>
        piece.along &&
        [i, (i + 1) % count, (i + count - 1) % count].some(
          (k) => facing[k] && cosineOf(piece.out, pieces[k]!.out) > STRAIGHT_COSINE,
        ),
    );
    pieces.forEach(({ from, to, out }, i) => {
      if (!isFront[i]) return;
      const corners = [
        moved(from, out, -REACH_M),
        moved(to, out, -REACH_M),
        moved(to, out, REACH_M),
        moved(from, out, REACH_M),
      ];
      swept.push(anticlockwise(Float64Array.from(corners.flat())));
      const next = pieces[(i + 1) % count]!;
      const sine = out[0] * next.out[1] - out[1] * next.out[0];
      const cosine = cosineOf(out, next.out);
      const turnDeg = (Math.atan2(sine, cosine) * 180) / Math.PI;
      // Where the lawn is convex the two sweeps part: the wedge between them belongs to them.
      if (!isFront[(i + 1) % count] || turnDeg < 1e-6 || turnDeg > TURN_MAX_DEG) return;
      const tip = moved(to, [out[0] + next.out[0], out[1] + next.out[1]], REACH_M / (1 + cosine));
      const wedge = [to, moved(to, out, REACH_M), tip, moved(to, next.out, REACH_M)];
      swept.push(anticlockwise(Float64Array.from(wedge.flat())));
    });
  }
  return areasFromRings(swept, "non-zero");
}

function cosineOf(a: PointM, b: PointM): number {
  return a[0] * b[0] + a[1] * b[1];
}

function moved([e, n]: PointM, [de, dn]: PointM, by: number): [number, number] {
  return [e + by * de, n + by * dn];
}

/** Whether going straight out of a piece's middle leads to the other lawn within the widest path. */
function faces({ from, to, out }: Piece, other: SegmentIndex): boolean {
  const a: PointM = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  const b = moved(a, out, REACH_M);
  return other
    .inBox(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1]))
    .some((s) => segmentsMeet(a, b, other.from(s), other.to(s)));
}

/** A ring's edge in short pieces, each with its direction out of the lawn (to the right). */
function piecesOf(ring: RingM): { from: PointM; to: PointM; out: PointM }[] {
  const count = ring.length >> 1;
  return Array.from({ length: count }, (_, i) => {
    const a = vertexAt(ring, i);
    const b = vertexAt(ring, (i + 1) % count);
    const lengthM = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (lengthM === 0) return [];
    const out: PointM = [(b[1] - a[1]) / lengthM, -(b[0] - a[0]) / lengthM];
    const steps = Math.ceil(lengthM / PIECE_M);
    const at = (k: number): PointM => [
      a[0] + ((b[0] - a[0]) * k) / steps,
      a[1] + ((b[1] - a[1]) * k) / steps,
    ];
    return Array.from({ length: steps }, (_, k) => ({ from: at(k), to: at(k + 1), out }));
  }).flat();
}

/** Length along which a lawn borders on areas that do not overlap it, about. */
function frontM(lawn: AreaM, areas: readonly AreaM[]): number {
  const stepM = 0.01;
  return totalAreaM2(intersection([lawn], grow(areas, stepM, "mitre"))) / stepM;
}

function meets(a: readonly AreaM[], b: readonly AreaM[]): boolean {
  return intersection(a, b).some((area) => areaM2(area) > 1e-4);
}

function boxesMeet(area: AreaM, others: readonly AreaM[]): boolean {
  const a = boxOf(area.shell);
  const b = boxOf(...others.map((other) => other.shell));
  return a.minE <= b.maxE && a.maxE >= b.minE && a.minN <= b.maxN && a.maxN >= b.minN;
}
