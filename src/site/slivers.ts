/** Strips of lawn too narrow to be any: drawing errors beside a thing. */
import { EdgeIndex } from "../geometry/edge-index.ts";
import { grow, growLines, shrink } from "../geometry/offset.ts";
import { difference, intersection, union } from "../geometry/overlay.ts";
import { areaM2, interiorPoint, ringLengthM, totalAreaM2, vertexAt } from "../geometry/rings.ts";
import { pointSegmentM } from "../geometry/segments.ts";
import { soundAreas } from "../geometry/sound-areas.ts";
import { stretchWithin } from "../geometry/stretch.ts";
import type { AreaM, LineM, PointM } from "../model/geometry.ts";
import type { Role } from "../model/roles.ts";
import type { Lawn, Thing } from "../model/site.ts";
import { counted, listed, type Note, squareMetres } from "./notes.ts";

/** Nearer than this a thing touches the lawn's edge and leaves no strip, metres. */
const TOUCH_M = 0.001;

/** Things beside which a strip of lawn may be a drawing error. */
const SOLID: ReadonlySet<Role> = new Set<Role>([
  "bed",
  "water",
  "gravel",
  "paving",
  "building",
  "firm",
  "keep-out",
]);

/** A strip shorter than this many of its widths is a gap between corners, not a sliver. */
const SLIVER_LENGTHS = 3;

/**
 * Gives strips of lawn that are narrower than `widthM` between a thing and the lawn's edge, or
 * between two things, to the thing, as if it had been drawn to there. n log n in the vertices;
 * nothing but an index is made where there is no such strip.
 *
 * @param lawnEdges the edges of the lawns
 * @returns the things, those beside a strip widened over it
 */
export function fillSlivers(
  things: readonly Thing[],
  lawns: readonly Lawn[],
  lawnEdges: EdgeIndex,
  widthM: number,
  note: Note,
): Thing[] {
  if (widthM <= TOUCH_M) return [...things];
  const solid = things.map((thing) => (SOLID.has(thing.role) ? thing.areas : []));
  // Owner of an edge: the number of the thing, or one more than the last for the lawns.
  const edges = new EdgeIndex([...solid, lawns.map((lawn) => lawn.area)]);
  const fronts = solid.map((areas, own) => frontsOf(areas, own, edges, lawnEdges, widthM));
  const lines = fronts.flat();
  if (lines.length === 0) return [...things];
  const strips = intersection(
    growLines(lines, widthM + 0.0001, "butt", "mitre"),
    lawns.map((lawn) => lawn.area),
  );
  const beside = things.filter((_, t) => fronts[t]!.length > 0);
  const pieces = difference(
    strips,
    beside.flatMap((thing) => thing.areas),
  );
  const given = new Map<Thing, AreaM[]>();
  for (const piece of pieces) {
    const owner = ownerOf(piece, edges, things.length);
    if (owner === undefined) continue;
    const thing = things[owner]!;
    given.set(thing, [...(given.get(thing) ?? []), piece]);
  }
  if (given.size === 0) return [...things];
  const widened = [...given.values()].flat();
  note({
    code: "SLIVERS_FILLED",
    severity: "info",
    message: `${counted(widened.length, "strip")} of lawn at most ${Number((100 * widthM).toFixed(2))} cm wide beside a thing, ${squareMetres(totalAreaM2(widened))} in all, taken as part of the thing: ${listed([...given.keys()].map((thing) => thing.name))}.`,
    remedy: "Nothing to do; draw the thing to the edge. repair.sliver_width_m sets the width.",
    atM: vertexAt(widened[0]!.shell, 0),
    ...[...given.keys()][0]!.source,
  });
  return things.map((thing) => {
    const more = given.get(thing);
    if (!more) return thing;
    return {
      ...thing,
      areas: soundAreas(union([...thing.areas, ...grow(more, 0.00005, "mitre")])),
    };
  });
}

/** Stretches of a thing's rim that run in a lawn beside its edge, or another thing, within the width. */
function frontsOf(
  areas: readonly AreaM[],
  own: number,
  edges: EdgeIndex,
  lawnEdges: EdgeIndex,
  widthM: number,
): LineM[] {
  const fronts: LineM[] = [];
  let lengthM = 0;
  for (const { shell } of areas) {
    const count = shell.length >> 1;
    for (let s = 0; s < count; s++) {
      const a = vertexAt(shell, s);
      const b = vertexAt(shell, (s + 1) % count);
      const near = edges
        .edgesNear(a, b, widthM)
        .filter((k) => edges.owner(k) !== own)
        .map((k) => edges.edge(k));
      for (const [c, d] of near) {
        const stretch = isAlong(a, b, c, d) && stretchWithin(a, b, c, d, widthM);
        if (!stretch) continue;
        const at = (t: number): PointM => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
        const middle = at((stretch[0] + stretch[1]) / 2);
        if (!isBeside(middle, c, d)) continue;
        const touches = near.some(([e, f]) => pointSegmentM(...middle, ...e, ...f) <= TOUCH_M);
        if (touches || !lawnEdges.contains(...middle)) continue;
        const [from, to] = [at(stretch[0]), at(stretch[1])];
        fronts.push(Float64Array.of(...from, ...to));
        lengthM += Math.hypot(to[0] - from[0], to[1] - from[1]);
      }
    }
  }
  return lengthM >= SLIVER_LENGTHS * widthM ? fronts : [];
}

/** Segments count as side by side up to this angle (sine of 20°). */
const ALONG_SINE = Math.sin((20 * Math.PI) / 180);

/** Whether the foot of the perpendicular from a point lies on a segment. */
function isBeside(p: PointM, c: PointM, d: PointM): boolean {
  const along = (p[0] - c[0]) * (d[0] - c[0]) + (p[1] - c[1]) * (d[1] - c[1]);
  return along >= 0 && along <= (d[0] - c[0]) ** 2 + (d[1] - c[1]) ** 2;
}

function isAlong(a: PointM, b: PointM, c: PointM, d: PointM): boolean {
  const [ue, un, ve, vn] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  return Math.abs(ue * vn - un * ve) <= ALONG_SINE * Math.hypot(ue, un) * Math.hypot(ve, vn);
}

/**
 * The thing along whose rim most corners of a strip lie; none where the strip does not reach from
 * one rim to another, as on the far side of a thing thinner than the width.
 *
 * @param lawnOwner the owner of the lawns' edges
 */
function ownerOf({ shell }: AreaM, edges: EdgeIndex, lawnOwner: number): number | undefined {
  const counts = new Map<number, number>();
  for (let i = 0; i < shell.length; i += 2) {
    const at: PointM = [shell[i]!, shell[i + 1]!];
    const owners = new Set(edges.edgesNear(at, at, TOUCH_M).map((k) => edges.owner(k)));
    for (const owner of owners) counts.set(owner, (counts.get(owner) ?? 0) + 1);
  }
  if (counts.size < 2) return undefined;
  counts.delete(lawnOwner);
  return [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]?.[0];
}

/** Lawns without those that are nowhere as wide as a sliver may be; told with their area. */
export function withoutSliverLawns<T extends Lawn>(
  lawns: readonly T[],
  widthM: number,
  note: Note,
): T[] {
  const isSliver = ({ area }: Lawn): boolean => {
    // Twice area over perimeter is at least half the width of a strip: most lawns need no more.
    if (areaM2(area) > widthM * ringLengthM(area.shell)) return false;
    return shrink([area], widthM / 2, "mitre").length === 0;
  };
  const slivers = lawns.filter(isSliver);
  const [first] = slivers;
  if (!first || slivers.length === lawns.length) return [...lawns];
  note({
    code: "SLIVER_LAWNS",
    severity: "info",
    message: `${counted(slivers.length, "lawn")} nowhere wider than ${Number((100 * widthM).toFixed(2))} cm left out, ${squareMetres(totalAreaM2(slivers.map((one) => one.area)))} in all: ${listed(slivers.map((one) => one.name))}.`,
    remedy:
      "Nothing to do; remove what was left between two outlines. repair.sliver_width_m sets it.",
    atM: interiorPoint(first.area),
    ...first.source,
  });
  return lawns.filter((lawn) => !isSliver(lawn));
}
