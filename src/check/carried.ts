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
  #beyond: ReadonlySet<number> | undefined;

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
   * Segments of wire beyond a run, round the part that the machine is carried to: what lies between
   * the two times that the wire of a loop, from the station on, comes along the run.
   */
  get beyond(): ReadonlySet<number> {
    this.#beyond ??= this.#findBeyond();
    return this.#beyond;
  }

  #findBeyond(): Set<number> {
    const found = new Set<number>();
    for (const line of this.#runs) {
      const along = this.#along(line);
      if (along.length === 0) continue;
      const last = along.reduce((most, s) => Math.max(most, s), 0);
      for (let s = along.reduce((least, s) => Math.min(least, s), last); s <= last; s++)
        found.add(s);
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
