/** Outlines that were drawn as lines: several that meet end to end are put together to rings. */
import Flatbush from "flatbush";
import type { Position } from "geojson";
import { nestedRings } from "../geometry/nesting.ts";
import type { Role } from "../model/roles.ts";
import { counted, listed, type Note } from "./notes.ts";
import { flatOf } from "./parts.ts";
import type { RawShape } from "./raw-shape.ts";

/** One line of one shape. */
interface Strand {
  readonly shape: RawShape;
  readonly line: readonly Position[];
}

/**
 * Puts lines of one layer and role that meet end to end together to outlines, wherever that makes
 * closed rings without a fork. What is left over stays a line. n log n in the lines.
 *
 * @param isOutline roles (or none) whose lines may stand for what they enclose
 * @param gapM ends at most this far apart meet
 */
export function joinLines(
  shapes: readonly RawShape[],
  isOutline: (shape: RawShape) => boolean,
  gapM: number,
  note: Note,
): RawShape[] {
  const groups = new Map<string, Strand[]>();
  for (const shape of shapes) {
    if (shape.shape !== "line" || !isOutline(shape)) continue;
    const key = `${shape.source.file}\n${shape.source.layer}\n${shape.assigned.role}`;
    const group = groups.get(key) ?? [];
    for (const line of shape.lines) if (line.length >= 2) group.push({ shape, line });
    groups.set(key, group);
  }
  const used = new Set<readonly Position[]>();
  const outlines = new Map<RawShape, (readonly Position[])[]>();
  for (const group of groups.values()) {
    const rings = ringsOf(group, gapM);
    for (const { ring, strands } of rings) {
      for (const strand of strands) used.add(strand.line);
      const first = strands[0]!.shape;
      outlines.set(first, [...(outlines.get(first) ?? []), ring]);
    }
    if (rings.length > 0) report(rings, gapM, note);
  }
  if (used.size === 0) return [...shapes];
  return shapes.flatMap((shape) => {
    const rings = outlines.get(shape);
    const lines = shape.lines.filter((line) => !used.has(line));
    const rest =
      lines.length === shape.lines.length ? [shape] : lines.length > 0 ? [{ ...shape, lines }] : [];
    if (!rings) return rest;
    const polygons = rings.map((ring) => [ring]);
    return [{ ...shape, shape: "area" as const, polygons, lines: [] }, ...rest];
  });
}

interface JoinedRing {
  readonly ring: readonly Position[];
  readonly strands: readonly Strand[];
}

/** The closed rings among strands: every place where ends meet must join exactly two of them. */
function ringsOf(strands: readonly Strand[], gapM: number): JoinedRing[] {
  if (strands.length < 2) return [];
  const ends = strands.flatMap(({ line }) => [line[0]!, line.at(-1)!]);
  const index = new Flatbush(ends.length);
  for (const [e, n] of ends) index.add(e!, n!, e!, n!);
  index.finish();
  /** The end that meets an end: the only other one within the gap. */
  const partner = ends.map(([e, n], own) => {
    const near = index
      .search(e! - gapM, n! - gapM, e! + gapM, n! + gapM)
      .filter((k) => k !== own && Math.hypot(ends[k]![0]! - e!, ends[k]![1]! - n!) <= gapM);
    return near.length === 1 ? near[0]! : -1;
  });
  const rings: JoinedRing[] = [];
  const seen = new Set<number>();
  for (let start = 0; start < strands.length; start++) {
    if (seen.has(start)) continue;
    const chain: number[] = [];
    let end = 2 * start + 1;
    let closed = false;
    // Ends 2k and 2k + 1 are those of strand k; walk in at one, out at the other.
    while (!seen.has(end >> 1)) {
      seen.add(end >> 1);
      chain.push(end);
      const next = partner[end]!;
      if (next === -1 || partner[next] !== end) break;
      closed = next >> 1 === start;
      end = next ^ 1;
    }
    if (!closed || chain.length < 2) continue;
    const ring = chain.flatMap((out) => {
      const { line } = strands[out >> 1]!;
      return (out & 1 ? line : [...line].reverse()).slice(0, -1);
    });
    if (ring.length >= 3)
      rings.push({ ring: [...ring, ring[0]!], strands: chain.map((out) => strands[out >> 1]!) });
  }
  return rings;
}

function report(rings: readonly JoinedRing[], gapM: number, note: Note): void {
  const strands = rings.flatMap((one) => one.strands);
  const { shape, line } = strands[0]!;
  const what = shape.assigned.role ? ` (${shape.assigned.role})` : "";
  note({
    code: "LINES_JOINED_TO_OUTLINES",
    severity: "info",
    message: `${counted(strands.length, "line")}${what} that meet end to end within ${100 * gapM} cm put together to ${counted(rings.length, "outline")}: ${listed(strands.map((one) => one.shape.source.feature ?? ""))}.`,
    remedy: "Nothing to do; draw them as polygons to give each its name.",
    atM: [line[0]![0]!, line[0]![1]!],
    ...shape.source,
  });
}

/**
 * Lawns that were drawn as lines: an outline inside another of the same layer is a hole of it, and
 * one inside that is lawn again. Polygons stay as they are, since they can have holes of their own.
 */
export function nestLawnLines(
  shapes: readonly RawShape[],
  isFromLine: (shape: RawShape) => boolean,
  note: Note,
): RawShape[] {
  const groups = new Map<string, RawShape[]>();
  for (const shape of shapes) {
    if (shape.assigned.role !== ("lawn" satisfies Role) || !isFromLine(shape)) continue;
    const key = `${shape.source.file}\n${shape.source.layer}`;
    groups.set(key, [...(groups.get(key) ?? []), shape]);
  }
  const changed = new Map<RawShape, RawShape | undefined>();
  for (const group of groups.values()) {
    const rings = group.flatMap((shape) =>
      shape.polygons.map(([ring]) => ({ shape, ring: ring! })),
    );
    const parents = nestedRings(rings.map(({ ring }) => flatOf(ring)));
    const holes = parents.filter((parent) => parent !== undefined).length;
    if (holes === 0) continue;
    for (const shape of group) {
      const polygons = rings.flatMap((one, r) => {
        if (one.shape !== shape || parents[r] !== undefined) return [];
        return [[one.ring, ...rings.filter((_, h) => parents[h] === r).map(({ ring }) => ring)]];
      });
      changed.set(shape, polygons.length > 0 ? { ...shape, polygons } : undefined);
    }
    const first = rings[parents.findIndex((parent) => parent !== undefined)]!;
    note({
      code: "LAWN_LINES_NESTED",
      severity: "info",
      message: `${counted(holes, "closed line")} inside another of the same lawn layer taken as ${holes === 1 ? "its hole" : "holes"}, which ${holes === 1 ? "is" : "are"} no lawn.`,
      remedy: "Draw them in a layer with the right role if they are something else than beds.",
      atM: [first.ring[0]![0]!, first.ring[0]![1]!],
      ...first.shape.source,
    });
  }
  return shapes.flatMap((shape) => (changed.has(shape) ? (changed.get(shape) ?? []) : [shape]));
}
