import type { RingM } from "../model/geometry.ts";
import { boxOf } from "./rings.ts";

/**
 * Rings whose edges are sorted into rows, as many as there are edges, for asking often whether they
 * hold a point: making it is linear for rings as people draw them, asking looks at one row.
 */
export class RowedRings {
  readonly #southM: number;
  readonly #rowsPerM: number;
  /** Edges of row r: `#edges` from `#starts[r]` to `#starts[r + 1]`. */
  readonly #starts: Uint32Array;
  readonly #edges: Uint32Array;
  /** Ends of each edge: east, north, east, north. */
  readonly #ends: Float64Array;

  constructor(rings: readonly RingM[]) {
    const count = rings.reduce((sum, ring) => sum + (ring.length >> 1), 0);
    const { minN, maxN } = boxOf(...rings);
    this.#southM = minN;
    this.#rowsPerM = maxN > minN ? count / (maxN - minN) : 0;
    const ends = new Float64Array(4 * count);
    let at = 0;
    for (const ring of rings) {
      for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
        ends[at++] = ring[j]!;
        ends[at++] = ring[j + 1]!;
        ends[at++] = ring[i]!;
        ends[at++] = ring[i + 1]!;
      }
    }
    this.#ends = ends;
    const starts = new Uint32Array(count + 2);
    const eachRow = (visit: (row: number, edge: number) => void): void => {
      for (let edge = 0; edge < count; edge++) {
        const a = this.#rowOf(ends[4 * edge + 1]!);
        const b = this.#rowOf(ends[4 * edge + 3]!);
        for (let row = Math.min(a, b); row <= Math.max(a, b); row++) visit(row, edge);
      }
    };
    eachRow((row) => starts[row + 1]!++);
    for (let row = 0; row <= count; row++) starts[row + 1]! += starts[row]!;
    const edges = new Uint32Array(starts[count + 1]!);
    const next = starts.slice();
    eachRow((row, edge) => {
      edges[next[row]!++] = edge;
    });
    this.#starts = starts;
    this.#edges = edges;
  }

  #rowOf(north: number): number {
    return Math.floor((north - this.#southM) * this.#rowsPerM);
  }

  /** Whether an odd number of the rings hold a point; points on a ring may fall either way. */
  contains(east: number, north: number): boolean {
    const row = this.#rowOf(north);
    if (!(row >= 0 && row + 1 < this.#starts.length)) return false;
    const ends = this.#ends;
    let inside = false;
    for (let k = this.#starts[row]!; k < this.#starts[row + 1]!; k++) {
      const at = 4 * this.#edges[k]!;
      const [ae, an, be, bn] = [ends[at]!, ends[at + 1]!, ends[at + 2]!, ends[at + 3]!];
      if (an > north === bn > north) continue;
      if (east < ((ae - be) * (north - bn)) / (an - bn) + be) inside = !inside;
    }
    return inside;
  }
}
