/** Taut ways in areas where plane geometry knows their length. */
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { difference } from "../../src/geometry/overlay.ts";
import { discRing, lineLengthM } from "../../src/geometry/rings.ts";
import { TautWays } from "../../src/geometry/taut-ways.ts";
import type { AreaM } from "../../src/model/geometry.ts";

beforeAll(() => loadEngine());

const box = (a: number, b: number, c: number, d: number): AreaM => ({
  shell: Float64Array.of(a, b, c, b, c, d, a, d),
  holes: [],
});

describe("taut ways", () => {
  it("are straight where nothing is in the way", () => {
    const way = new TautWays([box(0, 0, 30, 20)]).between([1, 1], [29, 18])!;
    expect([...way]).toEqual([1, 1, 29, 18]);
  });

  it("go round the inner corner of an L", () => {
    const l: AreaM = { shell: Float64Array.of(0, 0, 20, 0, 20, 8, 8, 8, 8, 20, 0, 20), holes: [] };
    const way = new TautWays([l]).between([19, 7], [7, 19])!;
    expect([...way]).toEqual([19, 7, 8, 8, 7, 19]);
  });

  it("go through every turn of a zigzag", () => {
    const walls = [1, 2, 3, 4, 5].map((k) =>
      k % 2 === 0 ? box(4 * k, 3, 4 * k + 1, 10) : box(4 * k, 0, 4 * k + 1, 7),
    );
    const way = new TautWays(difference([box(0, 0, 25, 10)], walls)).between([1, 1], [24, 1])!;
    const at = (list: number[]) => Float64Array.from(list);
    const taut = at([
      ...[1, 1, 4, 7, 5, 7, 8, 3, 9, 3, 12, 7, 13, 7, 16, 3, 17, 3, 20, 7, 21, 7, 24, 1],
    ]);
    expect(lineLengthM(way)).toBeCloseTo(lineLengthM(taut), 3);
  });

  it("bend round a disc: two tangents and an arc", () => {
    const area = difference([box(-20, -10, 20, 10)], [{ shell: discRing([0, 0], 3), holes: [] }]);
    const way = new TautWays(area).between([-10, 0.01], [10, 0.01])!;
    const tangent = Math.sqrt(100 - 9);
    const arc = 3 * (Math.PI - 2 * Math.acos(0.3));
    expect(lineLengthM(way)).toBeCloseTo(2 * tangent + arc, 1);
  });

  it("find the farthest of several places, and none where nothing leads", () => {
    const u: AreaM = {
      shell: Float64Array.of(0, 0, 20, 0, 20, 20, 14, 20, 14, 6, 6, 6, 6, 20, 0, 20),
      holes: [],
    };
    const ways = new TautWays([u]);
    const far = ways.farthest(
      [3, 19],
      [
        [7, 3],
        [19.5, 19.5],
        [19, 3],
      ],
    )!;
    expect([...far].slice(-2)).toEqual([19.5, 19.5]);
    expect(new TautWays([box(0, 0, 1, 1), box(5, 5, 6, 6)]).between([0.5, 0.5], [5.5, 5.5])).toBe(
      undefined,
    );
  });
});
