import type { AreaM, RingM } from "../model/geometry.ts";

/**
 * The area without edges shorter than `leastM`, where that takes nothing but area away: of the two
 * ends of such an edge the one is dropped at which the ring turns towards the inside (shells
 * anticlockwise, holes clockwise). What it moves is moved by less than `leastM`.
 */
export function withoutShortEdges({ shell, holes }: AreaM, leastM: number): AreaM {
  return { shell: cleaned(shell, leastM), holes: holes.map((hole) => cleaned(hole, leastM)) };
}

function cleaned(ring: RingM, leastM: number): RingM {
  const kept = Array.from({ length: ring.length >> 1 }, (_, i) => i);
  const at = (k: number): number => kept[(k + kept.length) % kept.length]!;
  const isConvex = (k: number): boolean => {
    const [a, b, c] = [2 * at(k - 1), 2 * at(k), 2 * at(k + 1)];
    const turn =
      (ring[b]! - ring[a]!) * (ring[c + 1]! - ring[b + 1]!) -
      (ring[b + 1]! - ring[a + 1]!) * (ring[c]! - ring[b]!);
    return turn > 0;
  };
  for (let k = 0; k < kept.length && kept.length > 4; k++) {
    const [a, b] = [2 * at(k), 2 * at(k + 1)];
    const length = Math.hypot(ring[b]! - ring[a]!, ring[b + 1]! - ring[a + 1]!);
    if (length >= leastM) continue;
    const drop = isConvex(k) ? k : isConvex(k + 1) ? (k + 1) % kept.length : -1;
    if (drop === -1) continue;
    kept.splice(drop, 1);
    k = Math.max(-1, k - 2);
  }
  if (kept.length === ring.length >> 1) return ring;
  return Float64Array.from(kept.flatMap((i) => [ring[2 * i]!, ring[2 * i + 1]!]));
}
