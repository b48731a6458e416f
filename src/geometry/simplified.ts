/**
 * Outlines with fewer vertices (Ramer 1972, Douglas and Peucker 1973): none that is dropped lies
 * further from the new outline than is allowed. For reckoning only: rings may touch afterwards.
 * Starts at the ring's own extreme vertices, so it does not matter where a ring begins.
 */
import type { AreaM, LineM, RingM } from "../model/geometry.ts";
import { pointSegmentM } from "./segments.ts";

/** @param withinM how far a dropped vertex may lie from the new outline, metres */
export function simplified({ shell, holes }: AreaM, withinM: number): AreaM {
  return {
    shell: simplifiedRing(shell, withinM),
    holes: holes.map((hole) => simplifiedRing(hole, withinM)),
  };
}

/**
 * An open line with fewer bends; its ends stay. Bends nearer than `withinM` to the one before go too,
 * so that none is left out of place by more than twice that.
 */
export function simplifiedLine(line: LineM, withinM: number): LineM {
  const n = line.length >> 1;
  if (n <= 2) return line;
  const all = keptOf(line, [[0, n - 1]], withinM);
  const flat: number[] = [line[0]!, line[1]!];
  for (let i = 2; i < line.length - 2; i += 2) {
    if (!all[i >> 1]) continue;
    const [e, north] = [line[i]!, line[i + 1]!];
    const beforeM = Math.hypot(e - flat[flat.length - 2]!, north - flat[flat.length - 1]!);
    const afterM = Math.hypot(e - line[line.length - 2]!, north - line[line.length - 1]!);
    if (beforeM >= withinM && afterM >= withinM) flat.push(e, north);
  }
  return Float64Array.from([...flat, line[line.length - 2]!, line[line.length - 1]!]);
}

function simplifiedRing(ring: RingM, withinM: number): RingM {
  const n = ring.length >> 1;
  if (n <= 4) return ring;
  const first = lowest(ring);
  const far = furthest(ring, first);
  const kept = keptOf(
    ring,
    [
      [first, far < first ? far + n : far],
      [far, first < far ? first + n : first],
    ],
    withinM,
  );
  const flat: number[] = [];
  for (let i = 0; i < n; i++) if (kept[i]) flat.push(ring[2 * i]!, ring[2 * i + 1]!);
  // What is thinner than that keeps its form.
  return flat.length < 6 ? ring : Float64Array.from(flat);
}

/** Which vertices stay, the ends of the spans first; vertex numbers past the end begin again. */
function keptOf(ring: LineM, between: readonly [number, number][], withinM: number): Uint8Array {
  const n = ring.length >> 1;
  const kept = new Uint8Array(n);
  const spans = [...between];
  for (const [from, to] of spans) {
    kept[from % n] = 1;
    kept[to % n] = 1;
  }
  while (spans.length > 0) {
    const [from, to] = spans.pop()!;
    const [a, b] = [2 * (from % n), 2 * (to % n)];
    let worst = -1;
    let most = withinM;
    for (let k = from + 1; k < to; k++) {
      const i = 2 * (k % n);
      const away = pointSegmentM(
        ring[i]!,
        ring[i + 1]!,
        ring[a]!,
        ring[a + 1]!,
        ring[b]!,
        ring[b + 1]!,
      );
      if (away <= most) continue;
      most = away;
      worst = k;
    }
    if (worst < 0) continue;
    kept[worst % n] = 1;
    spans.push([from, worst], [worst, to]);
  }
  return kept;
}

function lowest(ring: RingM): number {
  let best = 0;
  for (let i = 2; i < ring.length; i += 2) {
    const [e, n] = [ring[i]!, ring[i + 1]!];
    const [bestE, bestN] = [ring[2 * best]!, ring[2 * best + 1]!];
    if (n < bestN || (n === bestN && e < bestE)) best = i >> 1;
  }
  return best;
}

function furthest(ring: RingM, from: number): number {
  let best = from;
  let most = -1;
  for (let i = 0; i < ring.length >> 1; i++) {
    const away = Math.hypot(ring[2 * i]! - ring[2 * from]!, ring[2 * i + 1]! - ring[2 * from + 1]!);
    if (away <= most) continue;
    most = away;
    best = i;
  }
  return best;
}
