/**
 * Set-in: the region in which the wire may lie, exact by edge kind.
 *
 * Each ring is offset by its least distance; stretches that ask for more are buffered and taken
 * away. Mitred joins keep right angles as they are; past 120° of turn they are squared at the
 * distance, so no point of the result is nearer to an edge than that edge's set-in.
 */
import { grow, growLines, type Join, shrink } from "../geometry/offset.ts";
import { difference, union } from "../geometry/overlay.ts";
import { anticlockwise } from "../geometry/rings.ts";
import type { AreaM, LineM, RingM } from "../model/geometry.ts";
import type { Profile } from "../model/profile.ts";
import type { Site } from "../model/site.ts";
import type { EdgeRun } from "./edge-kinds.ts";

/** Something to keep a distance from wherever it lies, also beyond the lawn's edge. */
export interface KeepAway {
  readonly areas: readonly AreaM[];
  readonly lines: readonly LineM[];
  readonly distanceM: number;
}

/**
 * Water, drops and whatever else asks for more than an ordinary edge: the distance counts from
 * them, not from the lawn's edge that happens to lie between.
 */
export function keepAways(site: Site, profile: Profile): KeepAway[] {
  const found = new Map<number, { areas: AreaM[]; lines: LineM[] }>();
  const at = (distance: number) => {
    const known = found.get(distance) ?? { areas: [], lines: [] };
    found.set(distance, known);
    return known;
  };
  for (const thing of site.things) {
    const distance = thing.setinM ?? profile.setinM[thing.edgeKind];
    if (thing.contact === "loop" && distance > profile.setinM.open) {
      at(distance).areas.push(...thing.areas);
    }
  }
  for (const edge of site.edgeLines) {
    const distance = edge.setinM ?? profile.setinM[edge.kind];
    if (distance > profile.setinM.open) at(distance).lines.push(edge.line);
  }
  return [...found].map(([distanceM, { areas, lines }]) => ({ areas, lines, distanceM }));
}

/**
 * What things take of the region round them, by the labels of their edges: each area grown by its
 * least set-in, stretches that ask for more grown by theirs.
 *
 * @param runs labelled edges of the same areas (`labelEdges`)
 */
export function awayFrom(
  areas: readonly AreaM[],
  runs: readonly EdgeRun[],
  join: Join = "mitre",
): AreaM[] {
  const areaOf = areas.flatMap((area, i) => [i, ...area.holes.map(() => i)]);
  const least = areas.map(() => Infinity);
  for (const { ring, label } of runs) {
    const i = areaOf[ring]!;
    least[i] = Math.min(least[i]!, label.setinM);
  }
  const bySetin = new Map<number, { areas: AreaM[]; lines: LineM[] }>();
  const at = (setinM: number) => {
    const known = bySetin.get(setinM) ?? { areas: [], lines: [] };
    bySetin.set(setinM, known);
    return known;
  };
  for (const [i, area] of areas.entries()) at(least[i]!).areas.push(area);
  for (const { ring, label, line } of runs) {
    if (label.setinM > least[areaOf[ring]!]! + 1e-9) at(label.setinM).lines.push(line);
  }
  return [...bySetin].flatMap(([setinM, { areas: grown, lines }]) => [
    ...grow(grown, setinM, join),
    ...growLines(lines, setinM, "round", join),
  ]);
}

/**
 * @param areas the ground, metres
 * @param runs its labelled edges (`labelEdges` of the same areas)
 * @param join `round` where the wire's bends must have a radius
 * @returns the wire region; parts of the ground narrower than their set-ins vanish from it
 */
export function setIn(
  areas: readonly AreaM[],
  runs: readonly EdgeRun[],
  keepAway: readonly KeepAway[],
  join: Join = "mitre",
): AreaM[] {
  const least = new Map<number, number>();
  for (const run of runs) {
    least.set(run.ring, Math.min(least.get(run.ring) ?? Infinity, run.label.setinM));
  }
  const shells = new Map<number, AreaM[]>();
  const holes = new Map<number, AreaM[]>();
  let ringNumber = 0;
  const put = (map: Map<number, AreaM[]>, ring: RingM): void => {
    const distance = least.get(ringNumber++) ?? 0;
    const list = map.get(distance);
    const area = { shell: anticlockwise(ring), holes: [] };
    if (list) list.push(area);
    else map.set(distance, [area]);
  };
  for (const area of areas) {
    put(shells, area.shell);
    for (const hole of area.holes) put(holes, hole);
  }
  const inside = [...shells].flatMap(([d, list]) => shrink(list, d, join));
  const away = [...holes].flatMap(([d, list]) => grow(list, d, join));
  const wider = new Map<number, LineM[]>();
  for (const run of runs) {
    if (run.label.setinM <= least.get(run.ring)! + 1e-9) continue;
    const list = wider.get(run.label.setinM);
    if (list) list.push(run.line);
    else wider.set(run.label.setinM, [run.line]);
  }
  for (const [distance, lines] of wider) away.push(...growLines(lines, distance, "round", join));
  for (const { areas: things, lines, distanceM } of keepAway) {
    away.push(...grow(things, distanceM, join), ...growLines(lines, distanceM, "round", join));
  }
  return away.length === 0 ? union(inside) : difference(inside, away);
}
