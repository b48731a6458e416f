import type { Case } from "../case.ts";
import { measured, type Place, worstPlaces } from "../measure.ts";
import type { Neck } from "../necks.ts";
import type { Rule } from "../rule.ts";

/** Widths are judged to this by whoever plans, metres. */
const JUDGED_M = 0.004;
/** A planner may let the wire wander in from its set-in by a sixth of the narrowest passage. */
const WANDER_SHARE = 1 / 6;
/** Room for the machine on one side of a neck, in squares of its width: less is a corner. */
const ROOM_SHARE = 0.8;

/** Least width that two wires with lawn between them may have. */
export function leastWidthM({ profile }: Case): number {
  const { driveMinM } = profile.passage;
  return driveMinM - 2 * Math.min(profile.pegs.wanderMaxM, WANDER_SHARE * driveMinM) - JUDGED_M;
}

/**
 * Two wires that are no pair, with mown ground between them, are never nearer than the machine
 * drives through. Where one side of the place has no room for the machine it is a corner, no passage.
 */
export const passages: Rule = {
  id: "passages",
  code: "WIRES_TOO_NEAR",
  title: "narrowest way between two wires that are no pair",
  measure(court) {
    const allowed = leastWidthM(court);
    const { driveMinM } = court.profile.passage;
    const areas = new SideAreas(court);
    const places: Place<Neck>[] = [];
    let least = driveMinM;
    for (const neck of court.necks) {
      if (neck.b.segment >= court.wires.count || neck.a.segment >= court.wires.count) continue;
      if (areas.smallerM2(neck) < ROOM_SHARE * driveMinM * driveMinM) continue;
      least = Math.min(least, neck.widthM);
      if (neck.widthM < allowed) {
        places.push({ atM: neck.a.atM, amount: allowed - neck.widthM, of: neck });
      }
    }
    const breaches = worstPlaces(places).map(({ atM, of: { a, widthM } }) => ({
      message: `Two wires of loop ${court.wires.nameOf(a.segment)} with lawn between them lie ${widthM.toFixed(2)} m apart; the machine drives through ${driveMinM.toFixed(2)} m (at least ${allowed.toFixed(2)} m where wires wander).`,
      remedy: "Shut the passage off, or move the wires apart.",
      atM,
    }));
    return measured(
      "m",
      "at least",
      least,
      allowed,
      breaches,
      `up to ${driveMinM} m is looked for`,
    );
  },
};

/** Area that a chord cuts off the inside of a loop, by prefix sums of the shoelace formula. */
class SideAreas {
  readonly #court: Case;
  readonly #sums: Float64Array;

  constructor(court: Case) {
    this.#court = court;
    const { ends, count } = court.wires.tree;
    this.#sums = new Float64Array(count + 1);
    for (let s = 0; s < count; s++) {
      const k = 4 * s;
      const twice = ends[k]! * ends[k + 3]! - ends[k + 2]! * ends[k + 1]!;
      this.#sums[s + 1] = this.#sums[s]! + twice;
    }
  }

  /** m² on the smaller side of a neck between two wires of one loop. */
  smallerM2({ a, b }: Neck): number {
    const { wires } = this.#court;
    const loop = wires.loopOf[a.segment]!;
    const total = this.#sums[wires.starts[loop + 1]!]! - this.#sums[wires.starts[loop]!]!;
    const [first, second] = a.segment <= b.segment ? [a, b] : [b, a];
    const cross = (p: readonly [number, number], q: readonly [number, number]): number =>
      p[0] * q[1] - q[0] * p[1];
    const twice =
      cross(first.atM, wires.pointAt(first.segment, 1)) +
      this.#sums[second.segment]! -
      this.#sums[first.segment + 1]! +
      cross(wires.pointAt(second.segment, 0), second.atM) +
      cross(second.atM, first.atM);
    return Math.min(Math.abs(twice), Math.abs(total - twice)) / 2;
  }
}
