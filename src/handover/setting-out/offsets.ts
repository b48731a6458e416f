/**
 * Offsets from a straight baseline, loop by loop: an alternative to ties where a line can be
 * stretched. Along the line from its first point, then square off it to one side.
 */
import type { PointM } from "../../model/geometry.ts";
import type { Site } from "../../model/site.ts";
import type { ControlPoint } from "./control-points.ts";
import type { PegRow } from "./peg-table.ts";
import { Sight } from "./sight.ts";
import { radius95, TAPE_U_M } from "./tape-error.ts";
import { sideOf } from "./ties.ts";

export interface OffsetRow {
  readonly peg: string;
  readonly loop: string;
  /** Control points at the ends of the baseline. */
  readonly from: string;
  readonly to: string;
  /** Along the baseline from its first point; negative before it, metres. */
  readonly alongM: number;
  /** Square off the baseline, metres, and to which side seen along it. */
  readonly offsetM: number;
  readonly side: "left" | "right";
  /** Whether a tape can be drawn straight from the baseline to the peg. */
  readonly isFree: boolean;
  /** The peg stands within this of its place with 95 % probability, metres. */
  readonly errorM: number;
}

export interface Baseline {
  readonly loop: string;
  readonly from: string;
  readonly to: string;
  readonly lengthM: number;
}

export interface Offsets {
  readonly baselines: readonly Baseline[];
  /** Empty where no two control points see each other far enough apart. */
  readonly rows: readonly OffsetRow[];
}

/**
 * A right angle is laid out with a triangle of 3, 4 and 5 m, its corner off by as much as a tape is:
 * common practice. Standard uncertainty of the angle, radians.
 */
const RIGHT_ANGLE_U = TAPE_U_M / 3;
const BASELINE_LEAST_M = 4;
/** Baselines are chosen by this many pegs of a loop. */
const SAMPLE_PEGS = 100;
const BLOCKED_M = 0.1;

/** @param controls points at which baselines may end, as chosen for the ties */
export function offsetsOf(
  site: Site,
  pegs: readonly PegRow[],
  controls: readonly ControlPoint[],
): Offsets {
  const sight = new Sight(site);
  // A baseline begins and ends at fixed points; marks stand on lines between them.
  const fixed = controls.filter(({ kind }) => kind !== "mark");
  const baselines: Baseline[] = [];
  const rows: OffsetRow[] = [];
  for (const loop of new Set(pegs.map((peg) => peg.loop))) {
    const own = pegs.filter((peg) => peg.loop === loop);
    const ends = bestEnds(own, fixed, sight);
    if (!ends) continue;
    const [from, to] = ends;
    const lengthM = lengthOf(from.atM, to.atM);
    baselines.push({ loop, from: from.number, to: to.number, lengthM });
    rows.push(...own.map((peg) => offsetOf(peg, from, to, sight)));
  }
  return { baselines, rows };
}

const lengthOf = (a: PointM, b: PointM): number => Math.hypot(b[0] - a[0], b[1] - a[1]);

function bestEnds(
  pegs: readonly PegRow[],
  controls: readonly ControlPoint[],
  sight: Sight,
): [ControlPoint, ControlPoint] | undefined {
  const step = Math.max(1, Math.ceil(pegs.length / SAMPLE_PEGS));
  const sample = pegs.filter((_, i) => i % step === 0);
  let best: [ControlPoint, ControlPoint] | undefined;
  let least = Infinity;
  controls.forEach((from, i) => {
    for (const to of controls.slice(i + 1)) {
      if (lengthOf(from.atM, to.atM) < BASELINE_LEAST_M || !sight.isFree(from.atM, to.atM))
        continue;
      let sum = 0;
      for (const peg of sample) {
        const row = offsetOf(peg, from, to, sight);
        sum += row.isFree ? row.errorM : BLOCKED_M + row.errorM;
        if (sum >= least) break;
      }
      if (sum < least) {
        least = sum;
        best = [from, to];
      }
    }
  });
  return best;
}

function offsetOf(
  { number, loop, atM }: PegRow,
  from: ControlPoint,
  to: ControlPoint,
  sight: Sight,
): OffsetRow {
  const lengthM = lengthOf(from.atM, to.atM);
  const [ue, un] = [(to.atM[0] - from.atM[0]) / lengthM, (to.atM[1] - from.atM[1]) / lengthM];
  const [de, dn] = [atM[0] - from.atM[0], atM[1] - from.atM[1]];
  const alongM = de * ue + dn * un;
  const offsetM = Math.abs(ue * dn - un * de);
  const foot: PointM = [from.atM[0] + alongM * ue, from.atM[1] + alongM * un];
  // Along: the tape, and the right angle turned over the offset. Across: the tape, and the line
  // prolonged beyond its ends.
  const beyondM = Math.max(0, -alongM, alongM - lengthM);
  const alongU = Math.hypot(TAPE_U_M, offsetM * RIGHT_ANGLE_U);
  const acrossU = Math.hypot(TAPE_U_M, (beyondM / lengthM) * TAPE_U_M);
  return {
    peg: number,
    loop,
    from: from.number,
    to: to.number,
    alongM,
    offsetM,
    side: sideOf(from.atM, to.atM, atM),
    isFree: sight.isFree(foot, atM),
    errorM: radius95(Math.max(alongU, acrossU), Math.min(alongU, acrossU)),
  };
}
