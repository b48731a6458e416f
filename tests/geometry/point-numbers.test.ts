import { describe, expect, it } from "vitest";
import { PointNumbers } from "../../src/geometry/point-numbers.ts";
import { seeded } from "../support/seeded.ts";

describe("numbers of points", () => {
  it("are those of a map by the coordinates' text, also when there are many", () => {
    const random = seeded(3);
    const numbers = new PointNumbers();
    const map = new Map<string, number>();
    for (let k = 0; k < 20_000; k++) {
      // A quarter of a million places: many come twice.
      const [e, n] = [Math.floor(500 * random()) / 100 - 2, Math.floor(500 * random()) * 1e-9];
      const key = `${e},${n}`;
      if (!map.has(key)) map.set(key, map.size);
      expect(numbers.of(e, n)).toBe(map.get(key));
    }
    expect(map.size).toBeGreaterThan(10_000);
  });

  it("do not tell zero from minus zero", () => {
    const numbers = new PointNumbers();
    expect(numbers.of(0, -0)).toBe(0);
    expect(numbers.of(-0, 0)).toBe(0);
    expect(numbers.of(1, 0)).toBe(1);
  });
});
