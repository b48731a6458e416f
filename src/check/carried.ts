/**
 * Runs to parts that the machine is carried to: two wires against each other with lawn of the loop
 * between them. No machine follows or passes between them, so they keep no set-in and bound no way,
 * and nobody mows their slit. They are known only where a plan states them.
 */
import { SegmentTree } from "./kernel/segment-tree.ts";
import type { StatedPlan } from "./stated/stated-plan.ts";
import type { Wires } from "./wires.ts";

/** A stated run's wires are looked for this far from its centre line, metres. */
const REACH_M = 0.03;

export class CarriedRuns {
  readonly #lines: SegmentTree;
  readonly #wires: Wires;
  #segments: ReadonlySet<number> | undefined;

  constructor({ loops }: StatedPlan, wires: Wires) {
    const ends: number[] = [];
    for (const { to, line } of loops.flatMap((loop) => loop.pairedRuns ?? [])) {
      if (to !== "part") continue;
      for (let i = 0; i + 3 < line.length; i += 2) ends.push(...line.subarray(i, i + 4));
    }
    this.#lines = new SegmentTree(ends);
    this.#wires = wires;
  }

  /** Distance of a place from the centre line of a run, metres; undefined where it is of none. */
  offM(e: number, n: number): number | undefined {
    return this.#lines.nearest(e, n, REACH_M)?.distanceM;
  }

  /** Segments of wire that lie along a run, whole. */
  get segments(): ReadonlySet<number> {
    this.#segments ??= this.#findSegments();
    return this.#segments;
  }

  #findSegments(): Set<number> {
    const found = new Set<number>();
    const { ends } = this.#lines;
    for (let k = 0; k < ends.length; k += 4) {
      const [ae, an, be, bn] = [ends[k]!, ends[k + 1]!, ends[k + 2]!, ends[k + 3]!];
      for (const s of this.#wires.tree.around(ae, an, be, bn, REACH_M)) {
        const isOn = [0, 0.5, 1].every(
          (share) => this.offM(...this.#wires.pointAt(s, share)) !== undefined,
        );
        if (isOn) found.add(s);
      }
    }
    return found;
  }
}
