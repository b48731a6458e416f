import type { AreaM, PointM, RingM } from "../model/geometry.ts";
import { areasByWinding } from "./areas-by-winding.ts";
import { type Contact, ringContacts } from "./ring-contacts.ts";
import { anticlockwise, clockwise, signedAreaM2 } from "./rings.ts";

/** Smallest area that counts as one, m²: a square centimetre. */
export const NO_AREA_M2 = 1e-4;

/**
 * The same areas, valid in the sense of OGC Simple Features.
 *
 * The overlay engine returns rings that may touch themselves or each other, or cross by its grid
 * (0.01 mm). Where an area's rings meet, they are cut there and walked again with the inside to the
 * left, so that what hangs together by a point comes apart, and holes come off their shells. What
 * is left smaller than `NO_AREA_M2` is dropped. Areas without contacts keep their vertices.
 */
export function soundAreas(areas: readonly AreaM[]): AreaM[] {
  return areas.flatMap((area) => soundTogether([area], NO_AREA_M2, (point) => point, 3));
}

/**
 * Areas made valid each and together on a grid of whole numbers, as after rounding coordinates.
 *
 * @param areas rings of whole-number coordinates (any unit), shells anticlockwise
 * @param leastArea areas smaller than this are dropped, in the square of that unit
 * @returns areas of whole-number coordinates; undefined when crossings remain after eight rounds
 */
export function soundOnGrid(areas: readonly AreaM[], leastArea: number): AreaM[] | undefined {
  const whole = ([e, n]: PointM): PointM => [Math.round(e), Math.round(n)];
  const sound = soundTogether(areas, leastArea, whole, 8);
  const rings = sound.flatMap((area) => [area.shell, ...area.holes]);
  return ringContacts(rings).some((contact) => contact.kind === "cross") ? undefined : sound;
}

function soundTogether(
  areas: readonly AreaM[],
  leastArea: number,
  settle: (point: PointM) => PointM,
  tries: number,
): AreaM[] {
  const isBig = (ring: RingM): boolean => Math.abs(signedAreaM2(ring)) >= leastArea;
  const rings = areas.flatMap((area) => [anticlockwise(area.shell), ...area.holes.map(clockwise)]);
  const contacts = ringContacts(rings);
  if (contacts.length === 0) {
    return areas
      .filter((area) => isBig(area.shell))
      .map((area) => ({
        shell: anticlockwise(area.shell),
        holes: area.holes.map(clockwise).filter(isBig),
      }));
  }
  const settled = contacts.map((contact) => ({ ...contact, atM: settle(contact.atM) }));
  const loops = walk(cutAtContacts(rings, settled)).flatMap(simpleLoops).filter(isBig);
  const parts = areasByWinding(loops);
  // A cut through a crossing is rounded, which may make another: look again.
  const crossed = contacts.some((contact) => contact.kind === "cross");
  return crossed && tries > 0 ? soundTogether(parts, leastArea, settle, tries - 1) : parts;
}

/** The rings with a vertex at every contact. */
function cutAtContacts(rings: readonly RingM[], contacts: readonly Contact[]): PointM[][] {
  const extra = new Map<string, PointM[]>();
  for (const { ringA, ringB, segmentA, segmentB, atM } of contacts) {
    for (const key of [`${ringA} ${segmentA}`, `${ringB} ${segmentB}`]) {
      extra.set(key, [...(extra.get(key) ?? []), atM]);
    }
  }
  return rings.map((ring, r) => {
    const points: PointM[] = [];
    const push = (point: PointM): void => {
      const last = points.at(-1);
      if (!last || last[0] !== point[0] || last[1] !== point[1]) points.push(point);
    };
    for (let i = 0; i < ring.length; i += 2) {
      const from: PointM = [ring[i]!, ring[i + 1]!];
      push(from);
      const to: PointM = [ring[(i + 2) % ring.length]!, ring[(i + 3) % ring.length]!];
      const along = ([e, n]: PointM) =>
        (e - from[0]) * (to[0] - from[0]) + (n - from[1]) * (to[1] - from[1]);
      const cuts = extra.get(`${r} ${i >> 1}`) ?? [];
      for (const cut of cuts.sort((a, b) => along(a) - along(b))) push(cut);
    }
    while (points.length > 1 && keyOf(points[0]!) === keyOf(points.at(-1)!)) points.pop();
    return points;
  });
}

interface Step {
  readonly from: PointM;
  readonly to: PointM;
  used: boolean;
}

/**
 * Closed walks along the directed edges with the inside to their left: at a vertex where several go
 * on, the first one clockwise from the way back. As many edges arrive at a vertex as leave it, so
 * each walk comes home and each edge is walked once. Edges there and back cancel.
 */
function walk(rings: readonly (readonly PointM[])[]): RingM[] {
  const steps = new Map<string, Step>();
  for (const ring of rings) {
    ring.forEach((from, i) => {
      const to = ring[(i + 1) % ring.length]!;
      if (keyOf(from) === keyOf(to)) return;
      if (steps.delete(`${keyOf(to)} ${keyOf(from)}`)) return;
      steps.set(`${keyOf(from)} ${keyOf(to)}`, { from, to, used: false });
    });
  }
  const leaving = new Map<string, Step[]>();
  for (const step of steps.values()) {
    const key = keyOf(step.from);
    leaving.set(key, [...(leaving.get(key) ?? []), step]);
  }
  const loops: RingM[] = [];
  for (const start of steps.values()) {
    if (start.used) continue;
    const path: number[] = [];
    let step: Step | undefined = start;
    while (step) {
      step.used = true;
      path.push(step.from[0], step.from[1]);
      if (keyOf(step.to) === keyOf(start.from)) break;
      step = onward(step, leaving.get(keyOf(step.to)) ?? []);
    }
    if (path.length >= 6) loops.push(Float64Array.from(path));
  }
  return loops;
}

function onward(step: Step, leaving: readonly Step[]): Step | undefined {
  const choices = leaving.filter((choice) => !choice.used);
  if (choices.length <= 1) return choices[0];
  const back = Math.atan2(step.from[1] - step.to[1], step.from[0] - step.to[0]);
  let best: Step | undefined;
  let bestTurn = Infinity;
  for (const choice of choices) {
    const ahead = Math.atan2(choice.to[1] - choice.from[1], choice.to[0] - choice.from[0]);
    const turn = (back - ahead + 4 * Math.PI) % (2 * Math.PI);
    if (turn < bestTurn) {
      best = choice;
      bestTurn = turn;
    }
  }
  return best;
}

function keyOf(point: PointM): string {
  return `${point[0]},${point[1]}`;
}

/** The ring cut at each vertex that it visits more than once. Keeps each loop's winding. */
function simpleLoops(ring: RingM): RingM[] {
  const n = ring.length >> 1;
  const keys = Array.from({ length: n }, (_, i) => `${ring[2 * i]},${ring[2 * i + 1]}`);
  const seen = new Map<string, number>();
  const loops: RingM[] = [];
  let path: number[] = [];
  const take = (vertices: readonly number[]): void => {
    if (vertices.length < 3) return;
    const flat = vertices.flatMap((v) => [ring[2 * v]!, ring[2 * v + 1]!]);
    loops.push(Float64Array.from(flat));
  };
  for (let i = 0; i < n; i++) {
    const at = seen.get(keys[i]!);
    if (at === undefined) {
      seen.set(keys[i]!, path.length);
      path.push(i);
      continue;
    }
    const loop = path.slice(at);
    for (const vertex of loop.slice(1)) seen.delete(keys[vertex]!);
    path = path.slice(0, at + 1);
    take(loop);
  }
  take(path);
  return loops;
}
