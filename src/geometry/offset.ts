/**
 * Growing and shrinking areas by a distance (metres).
 *
 * A polygon of many holes is never offset whole: its shell and holes are offset apart and overlaid,
 * which is the same set and tens of times cheaper on an estate (docs/algorithms.md).
 *
 * `mitre` joins stay outside the round ones, so a mitred set-in is never less than asked; past
 * `mitreLimit` they are squared at the distance. `round` joins are arcs with chords at most
 * `ARC_TOLERANCE_M` inside the true arc.
 */
import type { AreaM, LineM, RingM } from "../model/geometry.ts";
import { areasByWinding } from "./areas-by-winding.ts";
import { ENGINE_DECIMALS, engine, takeRings, toPaths } from "./engine.ts";
import { nestingLevels } from "./nesting.ts";
import { difference, union } from "./overlay.ts";
import { anticlockwise, clockwise } from "./rings.ts";

export type Join = "mitre" | "round";
export type Cap = "round" | "butt" | "square";

/** Mitred corners reach at most this many distances from their vertex (2: turns up to 120°). */
export const MITRE_LIMIT = 2;

/** Largest distance between an arc and its chords, metres. */
export const ARC_TOLERANCE_M = 0.0005;

/** Areas of fewer vertices are offset with their holes at once. */
const FEW_VERTICES = 600;

/** Rings offset together; anticlockwise ones grow, clockwise ones (holes) shrink, or the reverse. */
function inflated(rings: readonly RingM[], deltaM: number, join: Join): AreaM[] {
  const module = engine();
  const paths = toPaths(rings);
  const joinType = join === "round" ? module.JoinType.Round : module.JoinType.Miter;
  const result = module.InflatePathsD(
    paths,
    deltaM,
    joinType,
    module.EndType.Polygon,
    MITRE_LIMIT,
    ENGINE_DECIMALS,
    ARC_TOLERANCE_M,
  );
  paths.delete();
  // The engine has united what it offset: its rings do not cross.
  return areasByWinding(takeRings(result));
}

/** All points within `distanceM` of the areas. Holes shrink, and vanish where they are small. */
export function grow(areas: readonly AreaM[], distanceM: number, join: Join): AreaM[] {
  return levelByLevel(areas, (level) => growLevel(level, distanceM, join));
}

function growLevel(areas: readonly AreaM[], distanceM: number, join: Join): AreaM[] {
  if (isSmall(areas)) return inflated(woundRings(areas), distanceM, join);
  const grown = inflated(
    areas.map((area) => anticlockwise(area.shell)),
    distanceM,
    join,
  );
  const holes = areas.flatMap((area) => area.holes.map(anticlockwise));
  if (holes.length === 0) return grown;
  const left = inflated(holes, -distanceM, join);
  return left.length === 0 ? grown : difference(grown, left);
}

/** All points of the areas at least `distanceM` from their edges. May be empty. */
export function shrink(areas: readonly AreaM[], distanceM: number, join: Join): AreaM[] {
  return levelByLevel(areas, (level) => shrinkLevel(level, distanceM, join));
}

function shrinkLevel(areas: readonly AreaM[], distanceM: number, join: Join): AreaM[] {
  if (isSmall(areas)) return inflated(woundRings(areas), -distanceM, join);
  const shells = inflated(
    areas.map((area) => anticlockwise(area.shell)),
    -distanceM,
    join,
  );
  const holes = areas.flatMap((area) => area.holes.map(anticlockwise));
  if (holes.length === 0) return shells;
  return difference(shells, inflated(holes, distanceM, join));
}

/** Few rings are cheaper offset together than apart. */
function isSmall(areas: readonly AreaM[]): boolean {
  let vertices = 0;
  for (const { shell, holes } of areas) {
    vertices += shell.length >> 1;
    for (const hole of holes) vertices += hole.length >> 1;
    if (vertices > FEW_VERTICES) return false;
  }
  return true;
}

function woundRings(areas: readonly AreaM[]): RingM[] {
  return areas.flatMap(({ shell, holes }) => [anticlockwise(shell), ...holes.map(clockwise)]);
}

/**
 * Works on areas that lie in holes of others (an island in a pond) apart from those: taking all
 * holes off all shells at once would take such an area off with the hole it lies in.
 */
function levelByLevel(
  areas: readonly AreaM[],
  work: (level: readonly AreaM[]) => AreaM[],
): AreaM[] {
  if (areas.length === 0) return [];
  const levels = nestingLevels(areas);
  if (levels.length === 1) return work(levels[0]!);
  return union(levels.flatMap(work));
}

/** All points within `distanceM` of the lines. */
export function growLines(
  lines: readonly LineM[],
  distanceM: number,
  cap: Cap,
  join: Join,
): AreaM[] {
  if (lines.length === 0) return [];
  const module = engine();
  const paths = toPaths(lines);
  const ends = { round: "Round", butt: "Butt", square: "Square" } as const;
  const result = module.InflatePathsD(
    paths,
    distanceM,
    join === "round" ? module.JoinType.Round : module.JoinType.Miter,
    module.EndType[ends[cap]],
    MITRE_LIMIT,
    ENGINE_DECIMALS,
    ARC_TOLERANCE_M,
  );
  paths.delete();
  return areasByWinding(takeRings(result));
}
