import type { RingM } from "../../model/geometry.ts";

/** Called for a point of the grid: where it is, whether inside, and how near the wire on its row. */
export type AtPoint = (eastM: number, northM: number, inside: boolean, alongRowM: number) => void;

/**
 * A square grid of points over a wire and a little beyond, row by row, each with its side.
 *
 * The side comes from the crossings of each row with the wire, by the even-odd rule. That rule knows
 * nothing of directions, so it holds against the sign of a field, which does.
 */
export class SideRows {
  private readonly stepM: number;
  private readonly box: readonly [number, number, number, number];

  /** @param points points inside and around, about */
  constructor(
    private readonly wire: RingM,
    points: number,
  ) {
    let [minE, minN, maxE, maxN] = [Infinity, Infinity, -Infinity, -Infinity];
    for (let i = 0; i < wire.length; i += 2) {
      minE = Math.min(minE, wire[i]!);
      maxE = Math.max(maxE, wire[i]!);
      minN = Math.min(minN, wire[i + 1]!);
      maxN = Math.max(maxN, wire[i + 1]!);
    }
    const beyondM = 2;
    this.box = [minE - beyondM, minN - beyondM, maxE + beyondM, maxN + beyondM];
    const areaM2 = (maxE - minE + 2 * beyondM) * (maxN - minN + 2 * beyondM);
    this.stepM = Math.sqrt(areaM2 / points);
  }

  /** Visits every point, south to north, west to east. */
  each(visit: AtPoint): void {
    const [minE, minN, maxE, maxN] = this.box;
    const rows = Math.max(1, Math.round((maxN - minN) / this.stepM));
    const columns = Math.max(1, Math.round((maxE - minE) / this.stepM));
    const crossings = this.crossings(rows);
    for (let row = 0; row < rows; row++) {
      const northM = minN + ((row + 0.5) * (maxN - minN)) / rows;
      const here = crossings[row]!;
      let passed = 0;
      for (let column = 0; column < columns; column++) {
        const eastM = minE + ((column + 0.5) * (maxE - minE)) / columns;
        while (passed < here.length && here[passed]! <= eastM) passed++;
        const before = passed > 0 ? eastM - here[passed - 1]! : Infinity;
        const after = passed < here.length ? here[passed]! - eastM : Infinity;
        visit(eastM, northM, passed % 2 === 1, Math.min(before, after));
      }
    }
  }

  /** For each row the eastings at which the wire crosses it, ascending. */
  private crossings(rows: number): number[][] {
    const [, minN, , maxN] = this.box;
    const heightM = (maxN - minN) / rows;
    const out: number[][] = Array.from({ length: rows }, () => []);
    const { wire } = this;
    for (let i = 0, j = wire.length - 2; i < wire.length; j = i, i += 2) {
      const [ae, an, be, bn] = [wire[j]!, wire[j + 1]!, wire[i]!, wire[i + 1]!];
      const first = Math.ceil((Math.min(an, bn) - minN) / heightM - 0.5);
      const last = Math.ceil((Math.max(an, bn) - minN) / heightM - 0.5) - 1;
      for (let row = first; row <= last; row++) {
        const northM = minN + (row + 0.5) * heightM;
        out[row]?.push(ae + ((northM - an) / (bn - an)) * (be - ae));
      }
    }
    for (const row of out) row.sort((a, b) => a - b);
    return out;
  }
}
