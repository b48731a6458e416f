/**
 * A shift that all measurements have in common: a receiver's reference rather than a wire moved.
 *
 * Closest points, then the least squares shift across the wire, again and again (Chen and Medioni
 * 1992, from memory, for a shift alone); each time the worst third of the samples is left out, so
 * that wire that was truly moved does not pull.
 */
import { SegmentIndex } from "../../geometry/segment-index.ts";
import type { PointM } from "../../model/geometry.ts";
import type { LaidLoop } from "./laid-loop.ts";
import type { Track } from "./track.ts";

/** A common shift counts where it leaves less than this of the differences, as a share. */
const LEFT_SHARE = 0.5;
/** And where it is so many standard errors long. */
const SIGNIFICANT = 2;
const LEAST_SAMPLES = 8;
/** Samples looked at, at most. */
const SAMPLES = 2000;
const ROUNDS = 25;
const KEPT = 2 / 3;
/** No receiver's reference is taken to be further off than this, metres. */
const REACH_M = 3;

/** @returns metres east and north; undefined where there is none to speak of */
export function shiftAsWhole(
  loops: readonly LaidLoop[],
  track: Track,
  noiseM: number,
): PointM | undefined {
  const places = placesOf(track);
  const index = new SegmentIndex(loops.map(({ wire }) => wire));
  let shift: PointM = [0, 0];
  const before = typical(differences(places, index, shift));
  for (let round = 0; round < ROUNDS; round++) {
    const step = stepOf(differences(places, index, shift));
    if (!step) return undefined;
    shift = [shift[0] + step[0], shift[1] + step[1]];
    if (Math.hypot(...step) < 1e-5) break;
  }
  const after = typical(differences(places, index, shift));
  const isLong = Math.hypot(...shift) > SIGNIFICANT * noiseM;
  return isLong && after < LEFT_SHARE * before ? shift : undefined;
}

function placesOf({ points, lines }: Track): PointM[] {
  const all = [
    ...points.map(({ atM }) => atM),
    ...lines.flatMap((line) =>
      Array.from({ length: line.length >> 1 }, (_, i): PointM => [line[2 * i]!, line[2 * i + 1]!]),
    ),
  ];
  const every = Math.max(1, Math.ceil(all.length / SAMPLES));
  return all.filter((_, i) => i % every === 0);
}

/** How far a place lies to the left of the wire nearest to it. */
interface Difference {
  readonly leftE: number;
  readonly leftN: number;
  readonly asideM: number;
}

function differences(places: readonly PointM[], index: SegmentIndex, [e, n]: PointM): Difference[] {
  return places.flatMap((place): Difference[] => {
    const at: PointM = [place[0] - e, place[1] - n];
    const near = index.nearest(...at, REACH_M);
    if (!near) return [];
    const [a, b] = [index.from(near.segment), index.to(near.segment)];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (length < 1e-6) return [];
    const [leftE, leftN] = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
    return [{ leftE, leftN, asideM: (at[0] - a[0]) * leftE + (at[1] - a[1]) * leftN }];
  });
}

function stepOf(all: readonly Difference[]): PointM | undefined {
  const sorted = [...all].sort((a, b) => Math.abs(a.asideM) - Math.abs(b.asideM));
  const kept = sorted.slice(0, Math.ceil(KEPT * sorted.length));
  let [ee, en, nn, be, bn] = [0, 0, 0, 0, 0];
  for (const { leftE, leftN, asideM } of kept) {
    ee += leftE * leftE;
    en += leftE * leftN;
    nn += leftN * leftN;
    be += leftE * asideM;
    bn += leftN * asideM;
  }
  const det = ee * nn - en * en;
  if (kept.length < LEAST_SAMPLES || det < 1e-4 * kept.length * kept.length) return undefined;
  return [(nn * be - en * bn) / det, (ee * bn - en * be) / det];
}

/** Median distance, metres. */
function typical(all: readonly Difference[]): number {
  const sorted = all.map(({ asideM }) => Math.abs(asideM)).sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
}
