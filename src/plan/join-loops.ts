/**
 * Two loops made one: the second hangs on the first by a paired run between them.
 *
 * The wire goes out along the run from a peg of the first loop, round the second anticlockwise as
 * before, and back. Both loops' lawn stays on its left, so the two wires of this run lie each half a
 * gap to the right of their pegs: what is between them counts as inside.
 */
import { spansOf } from "../geometry/chord-fit/chord-fit.ts";
import { lineLengthM } from "../geometry/rings.ts";
import { pointSegmentM } from "../geometry/segments.ts";
import type { LineM, PointM, RingM } from "../model/geometry.ts";
import type { Loop, PairedRun, Peg, PegPlace } from "../model/plan.ts";
import type { Profile } from "../model/profile.ts";
import { besidePeg, PEG_REACH_M } from "./beside-peg.ts";
import { nearestPoints } from "./nearest-points.ts";
import { GAP_ALLOWANCE_M } from "./route.ts";
import { pegSpacingM } from "./spacing.ts";
import { straightAlong } from "./station.ts";

/** A peg stands on a bend where the wire turns by at least this, degrees. */
const BEND_DEG = 5;

interface Stop {
  readonly atM: PointM;
  readonly peg: number;
}

/** A loop's wire, vertex by vertex, each with the number of its peg. */
export function stopsOf(loop: Loop): Stop[] {
  const vertices: PointM[] = [];
  for (let i = 0; i < loop.wire.length; i += 2) vertices.push([loop.wire[i]!, loop.wire[i + 1]!]);
  const pegs = nearestPoints(
    loop.pegs.map((peg) => peg.atM),
    vertices,
    0.05,
  );
  return vertices.map((atM, i) => ({ atM, peg: pegs[i]! }));
}

/**
 * @param way from a place on the first loop's outer ring to one on the second's, clear of the first's
 *   station and of pairs; it leaves both wires at a fair angle
 */
export function joinLoops(first: Loop, second: Loop, way: LineM, profile: Profile): Loop {
  const half = (profile.wire.pairGapM + GAP_ALLOWANCE_M) / 2;
  const n = way.length;
  const start: PointM = [way[0]!, way[1]!];
  const end: PointM = [way[n - 2]!, way[n - 1]!];
  const run = pegsAlong(way, pegSpacingM(profile));
  const secondAt = first.pegs.length;
  const runAt = secondAt + second.pegs.length;
  const pegs: { atM: PointM; on: PegPlace | undefined }[] = [
    ...first.pegs.map(({ atM, on }) => ({ atM, on })),
    ...second.pegs.map(({ atM, on }) => ({ atM, on: on === "station" ? undefined : on })),
    ...run.slice(1, -1).map((atM) => ({ atM, on: "pair" as const })),
    { atM: start, on: "pair" },
    { atM: end, on: "pair" },
  ];
  const { stops: one, at: from } = withStopAt(stopsOf(first), start, pegs.length - 2);
  const { stops: other, at: to } = withStopAt(
    stopsOf(second).map(({ atM, peg }) => ({ atM, peg: secondAt + peg })),
    end,
    pegs.length - 1,
  );
  pegs[one[from]!.peg]!.on = "pair";
  pegs[other[to]!.peg]!.on = "pair";
  const round = [...other.slice(to + 1), ...other.slice(0, to)];
  const runStops = (points: readonly PointM[], pegOf: (i: number) => number): Stop[] =>
    points.slice(1, -1).map((p, i) => ({
      atM: besidePeg(points[i]!, p, points[i + 2]!, -half, -half),
      peg: pegOf(i),
    }));
  const back = [...run].reverse();
  const inner = run.length - 2;
  const before = one[(from + one.length - 1) % one.length]!.atM;
  const after = one[(from + 1) % one.length]!.atM;
  const walked: Stop[] = [
    ...one.slice(0, from),
    { atM: besidePeg(before, start, run[1]!, 0, -half), peg: one[from]!.peg },
    ...runStops(run, (i) => runAt + i),
    {
      atM: besidePeg(run[run.length - 2]!, end, round[0]!.atM, -half, 0),
      peg: other[to]!.peg,
    },
    ...round,
    {
      atM: besidePeg(round[round.length - 1]!.atM, end, back[1]!, 0, -half),
      peg: other[to]!.peg,
    },
    ...runStops(back, (i) => runAt + inner - 1 - i),
    { atM: besidePeg(back[back.length - 2]!, start, after, -half, 0), peg: one[from]!.peg },
    ...one.slice(from + 1),
  ];
  const stops = withinSpacing(walked, pegs, pegSpacingM(profile));
  const numbered = numberStops(first.name, stops, pegs);
  const line = Float64Array.from(run.flat());
  const lengthM = lineLengthM(line);
  const pair: PairedRun = { line, from: "boundary", to: "part", lengthM, costM: lengthM };
  const wire: RingM = Float64Array.from(stops.flatMap((stop) => [...stop.atM]));
  // The run may leave the wire within the station's straight run, past what the profile wants of it.
  const straightM = Math.min(first.station.straightM, straightAlong(wire) + profile.wire.pairGapM);
  return {
    ...first,
    wire,
    station: { ...first.station, straightM },
    lengthM: numbered.lengthM,
    boundM: first.boundM + second.boundM,
    pegs: numbered.pegs,
    pairedRuns: [...first.pairedRuns, pair, ...second.pairedRuns],
    exclusionLoops: [...first.exclusionLoops, ...second.exclusionLoops],
  };
}

/** The stop at a place of the wire; one with a peg of its own where the place is between two. */
function withStopAt(
  stops: readonly Stop[],
  [e, n]: PointM,
  newPeg: number,
): { stops: Stop[]; at: number } {
  const known = stops.findIndex(({ atM }) => Math.hypot(atM[0] - e, atM[1] - n) < 2e-3);
  if (known !== -1) return { stops: [...stops], at: known };
  let best = 0;
  let least = Infinity;
  stops.forEach(({ atM: a }, i) => {
    const b = stops[(i + 1) % stops.length]!.atM;
    const off = pointSegmentM(e, n, a[0], a[1], b[0], b[1]);
    if (off < least) [least, best] = [off, i];
  });
  const stop: Stop = { atM: [e, n], peg: newPeg };
  return { stops: [...stops.slice(0, best + 1), stop, ...stops.slice(best + 1)], at: best + 1 };
}

/** Beside the end of the run the wire may lie a little off its peg: one more where that is too far. */
function withinSpacing(
  stops: readonly Stop[],
  pegs: { atM: PointM; on: PegPlace | undefined }[],
  spacingM: number,
): Stop[] {
  return stops.flatMap((stop, i) => {
    const [ae, an] = stop.atM;
    const [be, bn] = stops[(i + 1) % stops.length]!.atM;
    if (Math.hypot(be - ae, bn - an) <= spacingM * (1 + 1e-9)) return [stop];
    const atM: PointM = [(ae + be) / 2, (an + bn) / 2];
    pegs.push({ atM, on: undefined });
    return [stop, { atM, peg: pegs.length - 1 }];
  });
}

/** Places of the pegs along a run, both ends included. */
function pegsAlong(way: LineM, spacingM: number): PointM[] {
  const points: PointM[] = [[way[0]!, way[1]!]];
  for (let i = 0; i + 3 < way.length; i += 2) {
    const [ae, an, be, bn] = [way[i]!, way[i + 1]!, way[i + 2]!, way[i + 3]!];
    const spans = Math.max(1, spansOf(Math.hypot(be - ae, bn - an), spacingM - 2 * PEG_REACH_M));
    for (let k = 1; k <= spans; k++) {
      points.push([ae + ((be - ae) * k) / spans, an + ((bn - an) * k) / spans]);
    }
  }
  return points;
}

/** Pegs numbered in the order in which the wire first touches them, with their chainages. */
function numberStops(
  name: string,
  stops: readonly Stop[],
  all: readonly { atM: PointM; on: PegPlace | undefined }[],
): { pegs: Peg[]; lengthM: number } {
  const found = new Map<number, number>();
  const pegs: Peg[] = [];
  let chainageM = 0;
  stops.forEach(({ atM, peg }, i) => {
    const next = stops[(i + 1) % stops.length]!.atM;
    const known = found.get(peg);
    if (known === undefined) {
      const { on } = all[peg]!;
      const before = stops[(i + stops.length - 1) % stops.length]!.atM;
      found.set(peg, pegs.length);
      pegs.push({
        number: `${name}${pegs.length + 1}`,
        atM: all[peg]!.atM,
        chainageM,
        on: on ?? (turnDeg(before, atM, next) >= BEND_DEG ? "bend" : "straight"),
      });
    } else if (pegs[known]!.secondChainageM === undefined) {
      pegs[known] = { ...pegs[known]!, secondChainageM: chainageM };
    }
    chainageM += Math.hypot(next[0] - atM[0], next[1] - atM[1]);
  });
  return { pegs, lengthM: chainageM };
}

function turnDeg(a: PointM, b: PointM, c: PointM): number {
  const turn = Math.abs(
    Math.atan2(c[1] - b[1], c[0] - b[0]) - Math.atan2(b[1] - a[1], b[0] - a[0]),
  );
  return ((turn > Math.PI ? 2 * Math.PI - turn : turn) * 180) / Math.PI;
}
