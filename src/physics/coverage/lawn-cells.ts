import { boxOf } from "../../geometry/rings.ts";
import { rowCrossings } from "../../geometry/row-crossings.ts";
import type { AreaM, PointM } from "../../model/geometry.ts";

/** Square cells over a lawn, and how often the blades went over each. */
export class LawnCells {
  readonly sizeM: number;
  /** Cells that lie in the lawn. */
  readonly total: number;
  /** Drives that went over each cell. */
  readonly passes: Uint16Array;
  private readonly lawn: Uint8Array;
  private readonly last: Int32Array;
  private readonly minE: number;
  private readonly minN: number;
  private readonly columns: number;
  private readonly rows: number;
  /** Lawn cells that were gone over at least once. */
  reached = 0;

  constructor(areas: readonly AreaM[], sizeM: number) {
    this.sizeM = sizeM;
    const { minE, minN, maxE, maxN } = boxOf(...areas.map(({ shell }) => shell));
    [this.minE, this.minN] = [minE, minN];
    this.columns = Math.max(1, Math.ceil((maxE - minE) / sizeM));
    this.rows = Math.max(1, Math.ceil((maxN - minN) / sizeM));
    const cells = this.columns * this.rows;
    this.lawn = this.cellsInside(areas);
    this.passes = new Uint16Array(cells);
    this.last = new Int32Array(cells).fill(-1);
    this.total = this.lawn.reduce((sum, one) => sum + one, 0);
  }

  /** Cells whose middle lies inside, by the even-odd rule, row by row. */
  private cellsInside(areas: readonly AreaM[]): Uint8Array {
    const out = new Uint8Array(this.columns * this.rows);
    const rings = areas.flatMap(({ shell, holes }) => [shell, ...holes]);
    const rows = { southM: this.minN, heightM: this.sizeM, count: this.rows };
    rowCrossings(rings, rows).forEach((row, r) => {
      for (let k = 0; k + 1 < row.length; k += 2) {
        const first = Math.max(0, Math.ceil((row[k]! - this.minE) / this.sizeM - 0.5));
        const last = Math.min(
          this.columns - 1,
          Math.ceil((row[k + 1]! - this.minE) / this.sizeM - 0.5) - 1,
        );
        for (let c = first; c <= last; c++) out[r * this.columns + c] = 1;
      }
    });
    return out;
  }

  /** Counts a straight drive of blades `widthM` wide: once each cell whose middle they go over. */
  mow(drive: number, fromM: PointM, toM: PointM, widthM: number): void {
    const [ue, un] = [toM[0] - fromM[0], toM[1] - fromM[1]];
    const lengthM = Math.hypot(ue, un);
    if (lengthM === 0) return;
    const [se, sn] = [(-un / lengthM) * (widthM / 2), (ue / lengthM) * (widthM / 2)];
    // Corners of the strip, anticlockwise.
    const strip = [
      fromM[0] - se,
      fromM[1] - sn,
      toM[0] - se,
      toM[1] - sn,
      toM[0] + se,
      toM[1] + sn,
      fromM[0] + se,
      fromM[1] + sn,
    ];
    const south = Math.min(strip[1]!, strip[3]!, strip[5]!, strip[7]!);
    const north = Math.max(strip[1]!, strip[3]!, strip[5]!, strip[7]!);
    const first = Math.max(0, Math.ceil((south - this.minN) / this.sizeM - 0.5));
    const last = Math.min(this.rows - 1, Math.floor((north - this.minN) / this.sizeM - 0.5));
    for (let row = first; row <= last; row++) {
      this.mowRow(drive, row, strip);
    }
  }

  /** Cells of one row between the two places at which it crosses the rim of a strip. */
  private mowRow(drive: number, row: number, strip: readonly number[]): void {
    const n = this.minN + (row + 0.5) * this.sizeM;
    let [west, east] = [Infinity, -Infinity];
    for (let i = 0, j = 6; i < 8; j = i, i += 2) {
      const [an, bn] = [strip[j + 1]!, strip[i + 1]!];
      if (an > n === bn > n) continue;
      const e = strip[j]! + ((n - an) / (bn - an)) * (strip[i]! - strip[j]!);
      if (e < west) west = e;
      if (e > east) east = e;
    }
    if (west > east) return;
    const first = Math.max(0, Math.ceil((west - this.minE) / this.sizeM - 0.5));
    const last = Math.min(this.columns - 1, Math.floor((east - this.minE) / this.sizeM - 0.5));
    for (let column = first; column <= last; column++) {
      const cell = row * this.columns + column;
      if (this.lawn[cell] === 0 || this.last[cell] === drive) continue;
      this.last[cell] = drive;
      if (this.passes[cell]! < 65535 && this.passes[cell]!++ === 0) this.reached++;
    }
  }

  /** Middle of the largest patch of cells never gone over, and its area; undefined where all were. */
  largestMissed(): { readonly atM: PointM; readonly areaM2: number } | undefined {
    const seen = new Uint8Array(this.lawn.length);
    let best: { cells: number; atM: PointM } | undefined;
    for (let start = 0; start < this.lawn.length; start++) {
      if (seen[start] || this.lawn[start] === 0 || this.passes[start]! > 0) continue;
      const patch = this.patchFrom(start, seen);
      if (!best || patch.cells > best.cells) best = patch;
    }
    return best && { atM: best.atM, areaM2: best.cells * this.sizeM ** 2 };
  }

  private patchFrom(start: number, seen: Uint8Array): { cells: number; atM: PointM } {
    const stack = [start];
    seen[start] = 1;
    let [cells, sumC, sumR] = [0, 0, 0];
    while (stack.length > 0) {
      const cell = stack.pop()!;
      const [r, c] = [Math.floor(cell / this.columns), cell % this.columns];
      cells++;
      sumC += c;
      sumR += r;
      for (const [dr, dc] of SIDES) {
        if (c + dc < 0 || c + dc >= this.columns || r + dr < 0 || r + dr >= this.rows) continue;
        const next = cell + dr * this.columns + dc;
        if (seen[next] || this.lawn[next] === 0 || this.passes[next]! > 0) continue;
        seen[next] = 1;
        stack.push(next);
      }
    }
    return {
      cells,
      atM: [
        this.minE + (sumC / cells + 0.5) * this.sizeM,
        this.minN + (sumR / cells + 0.5) * this.sizeM,
      ],
    };
  }
}

const SIDES = [
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
] as const;
