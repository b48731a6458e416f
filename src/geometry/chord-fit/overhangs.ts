/**
 * Edges of a ring that hang over a neighbouring edge: the way from that edge sideways to a peg must
 * not cross them. In sharp corners and narrow bays only.
 */

/** Edges this near along the ring are looked at, metres. */
const NEARBY_M = 0.6;
/** Pegs keep this far from the way under an edge, metres. */
const MARGIN_M = 1e-6;

/** Vertices of a ring, unit directions and lengths of the edges that leave them. */
export interface Edges {
  readonly n: number;
  readonly e: Float64Array;
  readonly north: Float64Array;
  readonly de: Float64Array;
  readonly dn: Float64Array;
  readonly along: Float64Array;
}

export class Overhangs {
  /** For each edge the lowest height at which another hangs over it; mostly infinite. */
  readonly clearM: Float64Array;
  readonly #edges: Edges;
  readonly #over = new Map<number, readonly number[]>();

  constructor(edges: Edges) {
    this.#edges = edges;
    const { n } = edges;
    this.clearM = new Float64Array(n).fill(Infinity);
    for (let i = 0; i < n; i++) {
      const over = this.#nearbyBackwards(i);
      let clear = Infinity;
      for (const j of over)
        clear = Math.min(clear, this.#stretchOver(i, j, Infinity)?.lowM ?? clear);
      if (clear === Infinity) continue;
      this.clearM[i] = clear;
      this.#over.set(i, over);
    }
  }

  /** Nearby edges that run against an edge's direction: only those can come to lie over it. */
  #nearbyBackwards(i: number): number[] {
    const { n, de, dn, along } = this.#edges;
    const found: number[] = [];
    const look = (j: number): void => {
      if (de[i]! * de[j]! + dn[i]! * dn[j]! < 0) found.push(j);
    };
    const lengthOf = (j: number): number => along[j + 1]! - along[j]!;
    let awayM = 0;
    let k = 1;
    for (; k < n && awayM < NEARBY_M; k++) {
      const j = i + k < n ? i + k : i + k - n;
      look(j);
      awayM += lengthOf(j);
    }
    awayM = 0;
    for (let b = 1; b <= n - k && awayM < NEARBY_M; b++) {
      const j = i - b >= 0 ? i - b : i - b + n;
      look(j);
      awayM += lengthOf(j);
    }
    return found;
  }

  /** The stretch of edge i that edge j hangs over, no higher than a height, and its lowest height there. */
  #stretchOver(
    i: number,
    j: number,
    heightM: number,
  ): { fromM: number; toM: number; lowM: number } | undefined {
    const { e, north, de, dn, along } = this.#edges;
    const ee = e[j]! - e[i]!;
    const en = north[j]! - north[i]!;
    let xa = ee * de[i]! + en * dn[i]!;
    let ya = en * de[i]! - ee * dn[i]!;
    const length = along[j + 1]! - along[j]!;
    let xb = xa + length * (de[j]! * de[i]! + dn[j]! * dn[i]!);
    let yb = ya + length * (dn[j]! * de[i]! - de[j]! * dn[i]!);
    // Edge j runs backwards: xa > xb. Cut to the edge's own stretch, then to the heights.
    const over = along[i + 1]! - along[i]!;
    if (xa <= 0 || xb >= over) return undefined;
    const slope = (yb - ya) / (xb - xa);
    if (xa > over) [xa, ya] = [over, ya + (over - xa) * slope];
    if (xb < 0) [xb, yb] = [0, yb - xb * slope];
    if (Math.max(ya, yb) < 0 || Math.min(ya, yb) > heightM) return undefined;
    const at = (y: number): number => Math.min(xa, Math.max(xb, xa + (y - ya) / slope));
    const ends = [ya, yb].map((y, k) =>
      y < 0 ? at(0) : y > heightM ? at(heightM) : k === 0 ? xa : xb,
    );
    return {
      fromM: Math.min(...ends),
      toM: Math.max(...ends),
      lowM: Math.max(0, Math.min(ya, yb)),
    };
  }

  /** The last place on an edge, no further than given, with nothing hanging over it below a height. */
  freeUpTo(i: number, heightM: number, mostM: number): number {
    let most = mostM;
    const over = this.#over.get(i) ?? [];
    for (let round = 0; round <= over.length; round++) {
      const before = most;
      for (const j of over) {
        const under = this.#stretchOver(i, j, heightM);
        if (!under || most < under.fromM - MARGIN_M || most > under.toM + MARGIN_M) continue;
        most = under.fromM - 2 * MARGIN_M;
      }
      if (most === before) break;
    }
    return most;
  }
}
