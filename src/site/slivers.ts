/** Strips of lawn too narrow to be any: drawing errors between a thing and the lawn's edge. */
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
 * Gives strips of lawn that are narrower than `widthM` between a thing and the lawn's edge to the
 * thing, as if it had been drawn to the edge. n log n in the vertices; nothing but an index is made
 * where there is no such strip.
 *
 * @returns the things, those beside a strip widened to the edge
 */
export function fillSlivers(
  things: readonly Thing[],
  lawns: readonly Lawn[],
  edges: EdgeIndex,
  widthM: number,
  note: Note,
): Thing[] {
  if (widthM <= TOUCH_M) return [...things];
  const fronts = things.map((thing) =>
    SOLID.has(thing.role) ? frontsOf(thing, edges, widthM) : [],
  );
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
  ).filter((piece) => edges.reaches(piece.shell, true, TOUCH_M));
  const owners = new EdgeIndex(beside.map((thing) => thing.areas));
  const given = new Map<Thing, AreaM[]>();
  for (const piece of pieces) {
    const owner = ownerOf(piece, owners);
    if (owner === undefined) continue;
    const thing = beside[owner]!;
    given.set(thing, [...(given.get(thing) ?? []), piece]);
  }
  if (given.size === 0) return [...things];
  const widened = [...given.values()].flat();
  note({
    code: "SLIVERS_FILLED",
    severity: "info",
    message: `${counted(widened.length, "strip")} of lawn at most ${Number((100 * widthM).toFixed(2))} cm wide between a thing and the lawn's edge, ${squareMetres(totalAreaM2(widened))} in all, taken as part of the thing: ${listed([...given.keys()].map((thing) => thing.name))}.`,
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

/** Stretches of a thing's rim that run beside the lawn's edge at less than the width. */
function frontsOf(thing: Thing, edges: EdgeIndex, widthM: number): LineM[] {
  const fronts: LineM[] = [];
  let lengthM = 0;
  for (const { shell } of thing.areas) {
    if (!edges.reaches(shell, true, widthM)) continue;
    const count = shell.length >> 1;
    for (let s = 0; s < count; s++) {
      const a = vertexAt(shell, s);
      const b = vertexAt(shell, (s + 1) % count);
      const near = edges.edgesNear(a, b, widthM).map((k) => edges.edge(k));
      for (const [c, d] of near) {
        const stretch = isAlong(a, b, c, d) && stretchWithin(a, b, c, d, widthM);
        if (!stretch) continue;
        const at = (t: number): PointM => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
        const middle = at((stretch[0] + stretch[1]) / 2);
        const touches = near.some(([e, f]) => pointSegmentM(...middle, ...e, ...f) <= TOUCH_M);
        if (touches || !edges.contains(...middle)) continue;
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

function isAlong(a: PointM, b: PointM, c: PointM, d: PointM): boolean {
  const [ue, un, ve, vn] = [b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]];
  return Math.abs(ue * vn - un * ve) <= ALONG_SINE * Math.hypot(ue, un) * Math.hypot(ve, vn);
}

/** The thing along whose rim most corners of a piece lie. */
function ownerOf({ shell }: AreaM, owners: EdgeIndex): number | undefined {
  const counts = new Map<number, number>();
  for (let i = 0; i < shell.length; i += 2) {
    const at: PointM = [shell[i]!, shell[i + 1]!];
    for (const k of owners.edgesNear(at, at, TOUCH_M)) {
      counts.set(owners.owner(k), (counts.get(owners.owner(k)) ?? 0) + 1);
    }
  }
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
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
