import type { RingM } from "../model/geometry.ts";
import { boxOf } from "./rings.ts";

/**
 * A ring whose edges are sorted into rows, as many as it has edges, for asking often whether it holds
 * a point: making it is linear for rings as people draw them, asking looks at one row.
 */
export class RowedRing {
  readonly #ring: RingM;
  readonly #southM: number;
  readonly #rowsPerM: number;
  /** Edges of row r: `#edges` from `#starts[r]` to `#starts[r + 1]`; each by its first coordinate. */
  readonly #starts: Uint32Array;
  readonly #edges: Uint32Array;

  constructor(ring: RingM) {
    const count = ring.length >> 1;
    const { minN, maxN } = boxOf(ring);
    this.#ring = ring;
    this.#southM = minN;
    this.#rowsPerM = maxN > minN ? count / (maxN - minN) : 0;
    this.#starts = new Uint32Array(count + 2);
    const eachRow = (visit: (row: number, edge: number) => void): void => {
      for (let i = 0; i < ring.length; i += 2) {
        const a = this.#rowOf(ring[i + 1]!);
        const b = this.#rowOf(ring[(i + 3) % ring.length]!);
        for (let row = Math.min(a, b); row <= Math.max(a, b); row++) visit(row, i);
      }
    };
    const starts = this.#starts;
    eachRow((row) => starts[row + 1]!++);
    for (let row = 0; row <= count; row++) starts[row + 1]! += starts[row]!;
    const edges = new Uint32Array(starts[count + 1]!);
    const next = starts.slice();
    eachRow((row, edge) => {
      edges[next[row]!++] = edge;
    });
    this.#edges = edges;
  }

  #rowOf(north: number): number {
    return Math.floor((north - this.#southM) * this.#rowsPerM);
  }

  /** Even-odd test; points on the ring may fall either way. */
  contains(east: number, north: number): boolean {
    const row = this.#rowOf(north);
    if (!(row >= 0 && row + 1 < this.#starts.length)) return false;
    const ring = this.#ring;
    let inside = false;
    for (let k = this.#starts[row]!; k < this.#starts[row + 1]!; k++) {
      const i = this.#edges[k]!;
      const j = i + 2 === ring.length ? 0 : i + 2;
      const ni = ring[i + 1]!;
      const nj = ring[j + 1]!;
      if (ni > north === nj > north) continue;
      if (east < ((ring[j]! - ring[i]!) * (north - ni)) / (nj - ni) + ring[i]!) inside = !inside;
    }
    return inside;
  }
}
