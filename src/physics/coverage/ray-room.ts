import { boxOf } from "../../geometry/rings.ts";
import type { AreaM, PointM, RingM } from "../../model/geometry.ts";

/** Where a straight drive ends. */
export interface Hit {
  /** Distance driven, metres. */
  readonly lengthM: number;
  readonly atM: PointM;
  /** Unit vector from the edge met back into the room. */
  readonly inward: readonly [number, number];
}

/**
 * Rooms with straight edges in which one looks along a ray for the first edge. Edges are kept by
 * square cells; a ray walks from cell to cell (Amanatides and Woo, A fast voxel traversal algorithm
 * for ray tracing, 1987, from memory). Inside lies to the left of every edge.
 */
export class RayRoom {
  private readonly edges: Float64Array;
  private readonly cellM: number;
  private readonly minE: number;
  private readonly minN: number;
  private readonly columns: number;
  private readonly rows: number;
  /** Edges of cell c: `listed[from[c]] … listed[from[c + 1] - 1]`. */
  private readonly from: Int32Array;
  private readonly listed: Int32Array;

  constructor(areas: readonly AreaM[]) {
    const rings = areas.flatMap(({ shell, holes }) => [shell, ...holes]);
    this.edges = edgesOf(rings);
    const count = this.edges.length / 4;
    const { minE, minN, maxE, maxN } = boxOf(...rings);
    const boxM2 = Math.max(1e-6, (maxE - minE) * (maxN - minN));
    this.cellM = Math.max(0.05, Math.sqrt(boxM2 / Math.max(1, count)));
    [this.minE, this.minN] = [minE - this.cellM, minN - this.cellM];
    this.columns = Math.ceil((maxE - minE) / this.cellM) + 2;
    this.rows = Math.ceil((maxN - minN) / this.cellM) + 2;
    const cells: [cell: number, edge: number][] = [];
    for (let edge = 0; edge < count; edge++)
      this.eachCell(edge, (cell) => cells.push([cell, edge]));
    this.from = new Int32Array(this.columns * this.rows + 1);
    for (const [cell] of cells) this.from[cell + 1]!++;
    for (let c = 0; c < this.columns * this.rows; c++) this.from[c + 1]! += this.from[c]!;
    this.listed = new Int32Array(cells.length);
    const next = this.from.slice();
    for (const [cell, edge] of cells) this.listed[next[cell]!++] = edge;
  }

  /** All cells of the box of an edge: edges are short against cells, or few. */
  private eachCell(edge: number, visit: (cell: number) => void): void {
    const { edges, cellM } = this;
    const [ae, an, be, bn] = [
      edges[4 * edge]!,
      edges[4 * edge + 1]!,
      edges[4 * edge + 2]!,
      edges[4 * edge + 3]!,
    ];
    const slackM = 1e-6;
    const c0 = Math.floor((Math.min(ae, be) - slackM - this.minE) / cellM);
    const c1 = Math.floor((Math.max(ae, be) + slackM - this.minE) / cellM);
    const r0 = Math.floor((Math.min(an, bn) - slackM - this.minN) / cellM);
    const r1 = Math.floor((Math.max(an, bn) + slackM - this.minN) / cellM);
    for (let r = r0; r <= r1; r++) for (let c = c0; c <= c1; c++) visit(r * this.columns + c);
  }

  /**
   * First edge that a ray leaves the room through; undefined where the ray begins outside, so that
   * a slip past a corner is noticed.
   */
  leave(atM: PointM, direction: readonly [number, number]): Hit | undefined {
    const [e0, n0] = atM;
    const [de, dn] = direction;
    let column = Math.floor((e0 - this.minE) / this.cellM);
    let row = Math.floor((n0 - this.minN) / this.cellM);
    const stepC = de > 0 ? 1 : -1;
    const stepR = dn > 0 ? 1 : -1;
    const perColumn = de === 0 ? Infinity : this.cellM / Math.abs(de);
    const perRow = dn === 0 ? Infinity : this.cellM / Math.abs(dn);
    const edgeE = this.minE + (column + (de > 0 ? 1 : 0)) * this.cellM;
    const edgeN = this.minN + (row + (dn > 0 ? 1 : 0)) * this.cellM;
    let atColumn = de === 0 ? Infinity : (edgeE - e0) / de;
    let atRow = dn === 0 ? Infinity : (edgeN - n0) / dn;
    let best = Infinity;
    let bestEdge = -1;
    while (column >= 0 && column < this.columns && row >= 0 && row < this.rows) {
      const cell = row * this.columns + column;
      for (let k = this.from[cell]!; k < this.from[cell + 1]!; k++) {
        const edge = this.listed[k]!;
        const t = this.meet(edge, e0, n0, de, dn);
        if (t < best) [best, bestEdge] = [t, edge];
      }
      const out = Math.min(atColumn, atRow);
      if (best <= out) break;
      if (atColumn < atRow) {
        column += stepC;
        atColumn += perColumn;
      } else {
        row += stepR;
        atRow += perRow;
      }
    }
    return bestEdge < 0 ? undefined : this.hit(bestEdge, best, e0, n0, de, dn);
  }

  /** Distance along the ray to an edge, or Infinity. */
  private meet(edge: number, e0: number, n0: number, de: number, dn: number): number {
    const { edges } = this;
    const ae = edges[4 * edge]!;
    const an = edges[4 * edge + 1]!;
    const ue = edges[4 * edge + 2]! - ae;
    const un = edges[4 * edge + 3]! - an;
    const across = de * un - dn * ue;
    if (across === 0) return Infinity;
    const t = ((ae - e0) * un - (an - n0) * ue) / across;
    const s = ((ae - e0) * dn - (an - n0) * de) / across;
    return t > 0 && s >= -1e-9 && s <= 1 + 1e-9 ? t : Infinity;
  }

  private hit(
    edge: number,
    lengthM: number,
    e0: number,
    n0: number,
    de: number,
    dn: number,
  ): Hit | undefined {
    const { edges } = this;
    const ue = edges[4 * edge + 2]! - edges[4 * edge]!;
    const un = edges[4 * edge + 3]! - edges[4 * edge + 1]!;
    // Leaving to the right of the edge is leaving the room.
    if (ue * dn - un * de >= 0) return undefined;
    const size = Math.hypot(ue, un);
    return {
      lengthM,
      atM: [e0 + lengthM * de, n0 + lengthM * dn],
      inward: [-un / size, ue / size],
    };
  }
}

function edgesOf(rings: readonly RingM[]): Float64Array {
  const flat: number[] = [];
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      if (ring[i] === ring[j] && ring[i + 1] === ring[j + 1]) continue;
      flat.push(ring[j]!, ring[j + 1]!, ring[i]!, ring[i + 1]!);
    }
  }
  return Float64Array.from(flat);
}
