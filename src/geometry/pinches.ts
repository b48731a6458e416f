import type { AreaM, RingM } from "../model/geometry.ts";
import { areaHolds } from "./containment.ts";
import { anticlockwise, clockwise, signedAreaM2 } from "./rings.ts";

/** Smallest area that counts as one, m²: a square centimetre. */
export const NO_AREA_M2 = 1e-4;

/**
 * Areas whose rings visit no vertex twice, from areas of the engine, which may.
 *
 * A shell pinched at a vertex becomes two shells that touch there, or a shell and a hole (OGC
 * Simple Features wants it so); what is left smaller than `NO_AREA_M2` is dropped.
 */
export function withoutPinches(areas: readonly AreaM[]): AreaM[] {
  const result: AreaM[] = [];
  for (const area of areas) {
    const loops = [area.shell, ...area.holes].flatMap(simpleLoops);
    if (loops.length === 1 + area.holes.length) {
      if (Math.abs(signedAreaM2(area.shell)) < NO_AREA_M2) continue;
      const holes = area.holes.filter((hole) => Math.abs(signedAreaM2(hole)) >= NO_AREA_M2);
      result.push({ shell: anticlockwise(area.shell), holes: holes.map(clockwise) });
      continue;
    }
    const big = loops.filter((loop) => Math.abs(signedAreaM2(loop)) >= NO_AREA_M2);
    const shells = big.filter((loop) => signedAreaM2(loop) > 0);
    const holes = big.filter((loop) => signedAreaM2(loop) < 0);
    const owned = shells.map((shell) => ({ shell, holes: [] as RingM[] }));
    for (const hole of holes) owned.find((one) => areaHolds(one.shell, hole))?.holes.push(hole);
    result.push(...owned);
  }
  return result;
}

/** The ring cut at each vertex that it visits more than once. Keeps each loop's winding. */
export function simpleLoops(ring: RingM): RingM[] {
  const n = ring.length >> 1;
  const seen = new Map<string, number>();
  const loops: RingM[] = [];
  let path: number[] = [];
  let pinched = false;
  for (let i = 0; i < n; i++) {
    const key = `${ring[2 * i]},${ring[2 * i + 1]}`;
    const at = seen.get(key);
    if (at === undefined) {
      seen.set(key, path.length);
      path.push(i);
      continue;
    }
    pinched = true;
    const loop = path.slice(at);
    for (const vertex of loop.slice(1)) seen.delete(`${ring[2 * vertex]},${ring[2 * vertex + 1]}`);
    path = path.slice(0, at + 1);
    if (loop.length >= 3) loops.push(pick(ring, loop));
  }
  if (!pinched) return [ring];
  if (path.length >= 3) loops.push(pick(ring, path));
  return loops;
}

function pick(ring: RingM, vertices: readonly number[]): RingM {
  const loop = new Float64Array(2 * vertices.length);
  vertices.forEach((vertex, i) => {
    loop[2 * i] = ring[2 * vertex]!;
    loop[2 * i + 1] = ring[2 * vertex + 1]!;
  });
  return loop;
}
