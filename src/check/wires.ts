/** The wire of all loops as segments: where each lies along its loop, and where it runs as a pair. */
import type { PointM } from "../model/geometry.ts";
import { lineM } from "./kernel/plane.ts";
import { endsOfRings, SegmentTree } from "./kernel/segment-tree.ts";
import { Winding } from "./kernel/winding.ts";
import { outerOf } from "./outer-ring.ts";
import type { StatedLoop } from "./stated/stated-plan.ts";

/**
 * Wire on the right of a wire, the other way round and no farther than this, is the other wire of a
 * pair: between them lies no lawn. What is farther apart shuts something out.
 */
export const PAIR_MAX_M = 0.1;
/** Cosine from which two wires run against each other (within 20°). */
const AGAINST_COSINE = -Math.cos((20 * Math.PI) / 180);

/** A stretch of a segment, in shares, beside which the other wire of a pair lies. */
export interface PairedStretch {
  readonly from: number;
  readonly to: number;
  readonly partner: number;
  readonly gapM: number;
}

function boxOf(line: Float64Array): number[] {
  const box = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < line.length; i++) {
    box[i & 1] = Math.min(box[i & 1]!, line[i]!);
    box[(i & 1) + 2] = Math.max(box[(i & 1) + 2]!, line[i]!);
  }
  return box;
}

export class Wires {
  readonly loops: readonly StatedLoop[];
  readonly tree: SegmentTree;
  /** Number of the loop of each segment. */
  readonly loopOf: Int32Array;
  /** First segment of each loop, and the count at the end. */
  readonly starts: Int32Array;
  /** Distance along its loop at which each segment begins, metres. */
  readonly alongM: Float64Array;
  readonly lengthsM: readonly number[];
  readonly #windings: (Winding | undefined)[];
  #boxes: SegmentTree | undefined;
  #paired: Map<number, PairedStretch[]> | undefined;
  #outer: Uint8Array | undefined;

  constructor(loops: readonly StatedLoop[]) {
    this.loops = loops;
    this.tree = new SegmentTree(endsOfRings(loops.map((loop) => loop.wire)));
    this.loopOf = new Int32Array(this.tree.count);
    this.alongM = new Float64Array(this.tree.count);
    this.starts = new Int32Array(loops.length + 1);
    let s = 0;
    loops.forEach((loop, l) => {
      this.starts[l] = s;
      let along = 0;
      for (let i = 0; i < loop.wire.length >> 1; i++, s++) {
        this.loopOf[s] = l;
        this.alongM[s] = along;
        along += this.segmentM(s);
      }
    });
    this.starts[loops.length] = s;
    this.lengthsM = loops.map((loop) => lineM(loop.wire, true));
    this.#windings = loops.map(() => undefined);
  }

  get count(): number {
    return this.tree.count;
  }

  segmentM(s: number): number {
    const { ends } = this.tree;
    return Math.hypot(ends[4 * s + 2]! - ends[4 * s]!, ends[4 * s + 3]! - ends[4 * s + 1]!);
  }

  pointAt(s: number, share: number): PointM {
    const { ends } = this.tree;
    const [e, n] = [ends[4 * s]!, ends[4 * s + 1]!];
    return [e + share * (ends[4 * s + 2]! - e), n + share * (ends[4 * s + 3]! - n)];
  }

  nameOf(s: number): string {
    return this.loops[this.loopOf[s]!]!.name;
  }

  /** The segment after or before one along its loop. */
  next(s: number): number {
    const l = this.loopOf[s]!;
    return s + 1 < this.starts[l + 1]! ? s + 1 : this.starts[l]!;
  }

  previous(s: number): number {
    const l = this.loopOf[s]!;
    return s > this.starts[l]! ? s - 1 : this.starts[l + 1]! - 1;
  }

  /** Way along the wire between two places of one loop, the shorter way round, metres. */
  wayM(s: number, shareS: number, t: number, shareT: number): number {
    const one = this.alongM[s]! + shareS * this.segmentM(s);
    const other = this.alongM[t]! + shareT * this.segmentM(t);
    const way = Math.abs(one - other);
    return Math.min(way, this.lengthsM[this.loopOf[s]!]! - way);
  }

  /** How often a loop goes round a place. */
  winding(loop: number, e: number, n: number): number {
    this.#windings[loop] ??= new Winding([this.loops[loop]!.wire]);
    return this.#windings[loop].at(e, n);
  }

  /** How often all loops together go round a place; a loop is asked only where its box holds it. */
  windingOfAll(e: number, n: number): number {
    let sum = 0;
    for (const l of this.loopsAbout(e, n)) sum += this.winding(l, e, n);
    return sum;
  }

  /** Loops whose boxes hold a place: no other goes round it. */
  loopsAbout(e: number, n: number): readonly number[] {
    this.#boxes ??= new SegmentTree(this.loops.flatMap(({ wire }) => boxOf(wire)));
    return this.#boxes.around(e, n, e, n, 0);
  }

  /** Stretches of each segment that run as a pair; segments without any are left out. */
  get paired(): ReadonlyMap<number, readonly PairedStretch[]> {
    this.#paired ??= this.#findPaired();
    return this.#paired;
  }

  isPaired(s: number, share: number): boolean {
    return this.paired.get(s)?.some((one) => share >= one.from && share <= one.to) ?? false;
  }

  /** Whether a segment lies on the outer ring of its loop, not on a pair nor round an island. */
  isOuter(s: number): boolean {
    this.#outer ??= outerOf(this);
    return this.#outer[s] === 1;
  }

  #findPaired(): Map<number, PairedStretch[]> {
    const found = new Map<number, PairedStretch[]>();
    const { ends } = this.tree;
    for (let s = 0; s < this.count; s++) {
      const lengthM = this.segmentM(s);
      if (lengthM === 0) continue;
      const k = 4 * s;
      const [ae, an] = [ends[k]!, ends[k + 1]!];
      const ue = (ends[k + 2]! - ae) / lengthM;
      const un = (ends[k + 3]! - an) / lengthM;
      for (const t of this.tree.around(ae, an, ends[k + 2]!, ends[k + 3]!, PAIR_MAX_M)) {
        if (t === s || this.loopOf[t] !== this.loopOf[s]) continue;
        const j = 4 * t;
        const ve = ends[j + 2]! - ends[j]!;
        const vn = ends[j + 3]! - ends[j + 1]!;
        const otherM = Math.hypot(ve, vn);
        if (otherM === 0 || ue * ve + un * vn > AGAINST_COSINE * otherM) continue;
        // The other runs back: its end comes first along this one.
        const near = (i: number): [along: number, right: number] => {
          const [de, dn] = [ends[i]! - ae, ends[i + 1]! - an];
          return [de * ue + dn * un, de * un - dn * ue];
        };
        const [from, right0] = near(j + 2);
        const [to, right1] = near(j);
        if (Math.min(right0, right1) < -0.001 || Math.max(right0, right1) > PAIR_MAX_M) continue;
        const stretch = {
          from: Math.max(0, from / lengthM),
          to: Math.min(1, to / lengthM),
          partner: t,
          gapM: (right0 + right1) / 2,
        };
        if (stretch.to <= stretch.from) continue;
        const list = found.get(s);
        if (list) list.push(stretch);
        else found.set(s, [stretch]);
      }
    }
    return found;
  }
}
