import { describe, expect, it } from "vitest";
import {
  cornersOf,
  nearestCorner,
  type OutlineM,
  withCornerAfter,
  withCornerAt,
  withoutCorner,
} from "../../src/page/edits/corners.ts";

const OUTLINE: OutlineM = [
  [
    [
      [0, 0],
      [8, 0],
      [8, 6],
      [0, 6],
    ],
    [
      [2, 2],
      [4, 2],
      [3, 4],
    ],
  ],
  [
    [
      [20, 0],
      [24, 0],
      [22, 3],
    ],
  ],
];

describe("corners of an outline", () => {
  it("are counted through holes and parts", () => {
    expect(cornersOf(OUTLINE)).toHaveLength(10);
    expect(cornersOf(OUTLINE)[6]).toEqual([3, 4]);
    expect(nearestCorner(OUTLINE, [21.9, 3.2])).toBe(9);
    expect(nearestCorner([], [0, 0])).toBe(-1);
  });

  it("one moves, and nothing else", () => {
    const moved = cornersOf(withCornerAt(OUTLINE, 5, [4.5, 2]));
    expect(moved).toEqual(cornersOf(OUTLINE).map((one, i) => (i === 5 ? [4.5, 2] : one)));
  });

  it("one is put in halfway, also between the last of a ring and its first", () => {
    const more = withCornerAfter(OUTLINE, 3);
    expect(cornersOf(more)[4]).toEqual([0, 3]);
    expect(more[0]![0]).toHaveLength(5);
    expect(cornersOf(withCornerAfter(OUTLINE, 7))[8]).toEqual([22, 0]);
  });

  it("one is taken out, but a triangle stays one", () => {
    expect(cornersOf(withoutCorner(OUTLINE, 1))).toEqual(
      cornersOf(OUTLINE).filter((_, i) => i !== 1),
    );
    expect(withoutCorner(OUTLINE, 8)).toEqual(OUTLINE);
    expect(withoutCorner(OUTLINE, 10)).toEqual(OUTLINE);
  });
});
