/**
 * Guide wires: from the station through passages to the place of the loop that is farthest to drive
 * to, and there onto the boundary wire.
 *
 * The wire, the islands, the paired runs and firm things are kept at the clearance; where the way is
 * too narrow for that, at the largest share of it that lets the guide through. What is left has one
 * way round everything, since islands hang on the edge by their runs: the taut one is laid.
 */
import { spansOf } from "../geometry/chord-fit/chord-fit.ts";
import { BARRED_FACTOR, CostGround } from "../geometry/cost-ground.ts";
import { grow, growLines, shrink } from "../geometry/offset.ts";
import { difference, intersection, union } from "../geometry/overlay.ts";
import { areaContains, areaM2, lineLengthM } from "../geometry/rings.ts";
import { SegmentIndex } from "../geometry/segment-index.ts";
import { nearestOfSegments } from "../geometry/segments.ts";
import { TautWays } from "../geometry/taut-ways.ts";
import type { AreaM, LineM, PointM } from "../model/geometry.ts";
import type { GuidePeg, GuideWire } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";
import { placesOnWire } from "./carry-way.ts";
import type { LoopDraft } from "./loop.ts";
import { pegSpacingM } from "./spacing.ts";

/** Shares of the clearance that are tried one after the other where the way is narrow. */
const SHARES = [1, 0.75, 0.5, 0.35, 0.2];
/** Pieces of ground smaller than this need no way to them, m². */
const LEAST_PIECE_M2 = 4;
/** A paired run is as wide as this for the guide, metres to either side. */
const RUN_HALF_M = 0.006;
/** Shorter guides lead nowhere that the boundary wire does not, metres. */
const LEAST_LENGTH_M = 5;
/** Places on the wire that are looked at for the far end. */
const PLACES_TRIED = 400;

/**
 * @param firm firm things standing free on the lawn
 * @param noWire where no guide may lie, with the clearance that it keeps there
 */
export function guideOf(
  draft: LoopDraft,
  firm: readonly AreaM[],
  noWire: readonly AreaM[],
  profile: Profile,
): GuideWire | undefined {
  const { loop, inside } = draft;
  const runs = loop.pairedRuns.map((run) => run.line);
  const clear = difference([inside], [...firm, ...growLines(runs, RUN_HALF_M, "round", "round")]);
  const open = wayGround(clear, profile.guide.clearanceM);
  const ground = noWire.length > 0 ? difference(open, noWire) : open;
  const barred = new CostGround(noWire.map((area) => ({ area, factor: BARRED_FACTOR })));
  const isFree = (a: PointM, b: PointM): boolean =>
    barred.stretches(a, b).every(({ factor }) => factor === 1);
  const from = entry(draft, ground, profile);
  if (!from || !isFree(loop.station.atM, from)) return undefined;
  const all = placesOnWire(draft, profile.station.straightM);
  const step = Math.max(1, Math.ceil(all.length / PLACES_TRIED));
  const places = all
    .filter((_, i) => i % step === 0)
    .flatMap(({ atM, out, onPeg }) => {
      const inward = onPeg && stepsIn(atM, [-out[0], -out[1]], ground, profile.guide.clearanceM);
      return inward && isFree(inward, atM) ? [{ atM, inward }] : [];
    });
  const way = new TautWays(ground).farthest(
    from,
    places.map(({ inward }) => inward),
  );
  if (!way) return undefined;
  const [lastE, lastN] = [way[way.length - 2]!, way[way.length - 1]!];
  const end = places.find(({ inward }) => inward[0] === lastE && inward[1] === lastN)!;
  const line = Float64Array.of(...loop.station.atM, ...way, ...end.atM);
  const lengthM = lineLengthM(line);
  if (lengthM < LEAST_LENGTH_M) return undefined;
  return {
    line,
    lengthM,
    clearanceM: Math.min(profile.guide.clearanceM, leastClearM(way, clear)),
    pegs: pegsOf(line, pegSpacingM(profile)),
  };
}

/** Ground at the clearance from everything, and narrower ways where that falls apart. */
function wayGround(clear: readonly AreaM[], clearanceM: number): AreaM[] {
  let ground: AreaM[] = [];
  let before = 0;
  for (const share of SHARES) {
    const now = share * clearanceM;
    const at = shrink(clear, now, "round");
    if (before === 0) ground = at;
    else {
      // What a disc of the wider clearance does not reach, and a little round it.
      const narrow = difference(
        at,
        grow(shrink(clear, before, "round"), before - now + 1e-3, "round"),
      );
      ground = union([...ground, ...intersection(at, grow(narrow, before, "round"))]);
    }
    before = now;
    if (ground.filter((area) => areaM2(area) >= LEAST_PIECE_M2).length <= 1) break;
  }
  return ground;
}

/** Where the guide comes into the open, straight out of the station. */
function entry(
  { loop }: LoopDraft,
  ground: readonly AreaM[],
  profile: Profile,
): PointM | undefined {
  const angle = (loop.station.bearingDeg * Math.PI) / 180;
  const inward: PointM = [-Math.cos(angle), Math.sin(angle)];
  const { clearAheadM } = profile.station;
  return (
    stepsIn(loop.station.atM, inward, ground, Math.max(clearAheadM, profile.guide.clearanceM)) ??
    stepsIn(loop.station.atM, inward, ground, profile.guide.clearanceM)
  );
}

/** The place that far in from the wire, or half and a quarter of it, that the way's ground holds. */
function stepsIn(
  [e, n]: PointM,
  [de, dn]: PointM,
  ground: readonly AreaM[],
  farM: number,
): PointM | undefined {
  for (const share of [1.05, 0.8, 0.55, 0.3]) {
    const at: PointM = [e + share * farM * de, n + share * farM * dn];
    if (ground.some((area) => areaContains(area, at[0], at[1]))) return at;
  }
  return undefined;
}

/** Least distance of a way from the edges of areas. */
function leastClearM(way: LineM, areas: readonly AreaM[]): number {
  const index = new SegmentIndex(areas.flatMap((area) => [area.shell, ...area.holes]));
  let least = Infinity;
  for (let i = 0; i + 3 < way.length; i += 2) {
    const a: PointM = [way[i]!, way[i + 1]!];
    const b: PointM = [way[i + 2]!, way[i + 3]!];
    const near = index.nearest(a[0], a[1], Infinity);
    least = Math.min(least, near?.distanceM ?? Infinity);
    const found = index.inBox(
      Math.min(a[0], b[0]) - least,
      Math.min(a[1], b[1]) - least,
      Math.max(a[0], b[0]) + least,
      Math.max(a[1], b[1]) + least,
    );
    for (const s of found) {
      least = Math.min(least, nearestOfSegments(a, b, index.from(s), index.to(s)).distanceM);
    }
  }
  return least;
}

/** Pegs between the two ends, on bends and no further apart than the spacing. */
function pegsOf(line: LineM, spacingM: number): GuidePeg[] {
  const pegs: GuidePeg[] = [];
  let chainageM = 0;
  const put = (atM: PointM, on: GuidePeg["on"]): void => {
    pegs.push({ number: `G${pegs.length + 1}`, atM, chainageM, on });
  };
  for (let i = 0; i + 3 < line.length; i += 2) {
    const [ae, an, be, bn] = [line[i]!, line[i + 1]!, line[i + 2]!, line[i + 3]!];
    const lengthM = Math.hypot(be - ae, bn - an);
    const spans = Math.max(1, spansOf(lengthM, spacingM));
    for (let k = 1; k <= spans; k++) {
      chainageM += lengthM / spans;
      if (i + 5 >= line.length && k === spans) break;
      put(
        [ae + ((be - ae) * k) / spans, an + ((bn - an) * k) / spans],
        k < spans ? "straight" : "bend",
      );
    }
  }
  return pegs;
}
