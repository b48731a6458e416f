import type { PointM, RingM } from "../../model/geometry.ts";
import type { Plan } from "../../model/plan.ts";
import { type CurrentPath, currentPathOf } from "./current-path.ts";
import { upwardFieldUtPerA } from "./field.ts";
import { pairResidue } from "./pair-residue.ts";
import { eachSide } from "./side-rows.ts";

/** What the finished wire of one loop gives as a signal. Fields are per ampere in the wire. */
export interface LoopSignal {
  readonly loop: string;
  /** Points of the grid at which the sign was compared with the side of the wire. */
  readonly points: number;
  /** Points at which the sign is not that of the side; the first few. None in a sound plan. */
  readonly wrongAtM: readonly PointM[];
  /** Weakest place inside the wire, and how strong it is there, microtesla per ampere. */
  readonly leastUtPerA: number;
  readonly leastAtM: PointM;
  /** Strongest signal of other loops inside this one, as a share of its own; 0 for one loop. */
  readonly clashShare: number;
  readonly clashAtM: PointM | undefined;
  /** What is left over a paired run at the height of the pick-up, share of a single wire's most. */
  readonly pairResidueShare: number;
}

export interface SignalOptions {
  /** Points for each loop, about. */
  readonly points?: number;
  /** Height of the machine's pick-up over the ground, metres. */
  readonly pickUpM?: number;
}

/** Height of the pick-up where nobody says: a guess, makers differ. */
export const PICK_UP_M = 0.1;

/** Places nearer to a wire than this are not asked: there the grid would ask the wire itself. */
const CLEAR_OF_WIRE_M = 0.05;

/**
 * The signal of every loop of a plan, point by point, from the wire alone.
 *
 * It knows nothing of how the plan was made: a wire that crosses itself, or goes round an island
 * the wrong way, shows as places with the wrong sign.
 */
export function signalOf(plan: Plan, options: SignalOptions = {}): LoopSignal[] {
  const wires = plan.loops.map(({ name, wire }) => ({ name, wire, path: currentPathOf(wire) }));
  return wires.map((own) =>
    loopSignal(
      own,
      wires.filter((other) => other !== own),
      { points: options.points ?? 1000, pickUpM: options.pickUpM ?? PICK_UP_M },
      plan.profile.wire.pairGapM,
    ),
  );
}

interface Wire {
  readonly name: string;
  readonly wire: RingM;
  readonly path: CurrentPath;
}

function loopSignal(
  own: Wire,
  others: readonly Wire[],
  { points, pickUpM }: Required<SignalOptions>,
  gapM: number,
): LoopSignal {
  const wrongAtM: PointM[] = [];
  let asked = 0;
  let leastUtPerA = Infinity;
  let leastAtM: PointM = [own.wire[0]!, own.wire[1]!];
  let clashShare = 0;
  let clashAtM: PointM | undefined;
  eachSide(own.wire, points, (eastM, northM, inside, nearestM) => {
    if (nearestM < CLEAR_OF_WIRE_M) return;
    asked++;
    const field = upwardFieldUtPerA(own.path, eastM, northM);
    if (field > 0 !== inside && wrongAtM.length < 10) wrongAtM.push([eastM, northM]);
    if (!inside) return;
    if (field < leastUtPerA) [leastUtPerA, leastAtM] = [field, [eastM, northM]];
    let foreign = 0;
    for (const { path } of others) foreign += upwardFieldUtPerA(path, eastM, northM);
    const share = Math.abs(foreign / field);
    if (share > clashShare) [clashShare, clashAtM] = [share, [eastM, northM]];
  });
  return {
    loop: own.name,
    points: asked,
    wrongAtM,
    leastUtPerA,
    leastAtM,
    clashShare,
    clashAtM,
    pairResidueShare: pairResidue(gapM, pickUpM),
  };
}
