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
  readonly #runs: Float64Array[] = [];
  #segments: ReadonlySet<number> | undefined;
  #parts: ReadonlyMap<number, number> | undefined;

  constructor({ loops }: StatedPlan, wires: Wires) {
    const ends: number[] = [];
    for (const { to, line } of loops.flatMap((loop) => loop.pairedRuns ?? [])) {
      if (to !== "part") continue;
      this.#runs.push(line);
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

  /**
   * The part that a segment of wire goes round: 0 the one with the station, else the number of the run
   * that leads to it (from 1); the runs themselves are of none. Beyond a run lies what is between the
   * two times that the wire of a loop, from the station on, comes along it.
   */
  partOf(s: number): number | undefined {
    if (this.#runs.length === 0) return 0;
    this.#parts ??= this.#findParts();
    return this.segments.has(s) ? undefined : (this.#parts.get(s) ?? 0);
  }

  #findParts(): Map<number, number> {
    const found = new Map<number, number>();
    const stretches = this.#runs.flatMap((line, i) => {
      const along = this.#along(line);
      if (along.length === 0) return [];
      const to = along.reduce((most, s) => Math.max(most, s), 0);
      return [{ from: along.reduce((least, s) => Math.min(least, s), to), to, part: i + 1 }];
    });
    // A run that sets out from a part beyond another is the shorter stretch: it comes last.
    stretches.sort((x, y) => y.to - y.from - (x.to - x.from));
    for (const { from, to, part } of stretches) {
      for (let s = from; s <= to; s++) found.set(s, part);
    }
    return found;
  }

  /** Segments of wire that lie whole along a line. */
  #along(line: Float64Array): number[] {
    const found: number[] = [];
    for (let i = 0; i + 3 < line.length; i += 2) {
      const [ae, an, be, bn] = [line[i]!, line[i + 1]!, line[i + 2]!, line[i + 3]!];
      for (const s of this.#wires.tree.around(ae, an, be, bn, REACH_M)) {
        if (this.segments.has(s)) found.push(s);
      }
    }
    return found;
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
