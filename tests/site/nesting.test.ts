import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { grow, shrink } from "../../src/geometry/offset.ts";
import { difference } from "../../src/geometry/overlay.ts";
import { totalAreaM2 } from "../../src/geometry/rings.ts";
import type { AreaM } from "../../src/model/geometry.ts";
import { box } from "./builder.ts";

beforeAll(() => loadEngine());

const square = (at: number, size: number) =>
  Float64Array.from(box(at, at, size).slice(0, 4).flat());
const hole = (at: number, size: number) =>
  Float64Array.from(box(at, at, size).slice(0, 4).reverse().flat());

describe("an area in the hole of another (a courtyard)", () => {
  const areas: AreaM[] = [
    { shell: square(0, 30), holes: [hole(10, 10)] },
    { shell: square(13, 4), holes: [] },
  ];

  it("is still there when both are grown or shrunk", () => {
    expect(totalAreaM2(grow(areas, 0.5, "mitre"))).toBeCloseTo(31 ** 2 - 9 ** 2 + 5 ** 2, 3);
    expect(totalAreaM2(shrink(areas, 0.5, "mitre"))).toBeCloseTo(29 ** 2 - 11 ** 2 + 3 ** 2, 3);
  });
});

describe("what is left of a shell", () => {
  it("is right where a hole touches it in two places", () => {
    // The triangle has 16 m², and shares 4.46 m² with the second: their common triangle has the
    // corners (0, 4), (16/21, 20/21) and (368/123, 460/123).
    const shell = [{ shell: Float64Array.of(0, 0, 4, 5, 0, 8), holes: [] }];
    const [p, q] = [16 / 21, 20 / 21];
    const [r, s] = [368 / 123, 460 / 123];
    const commonM2 = Math.abs(p * (s - 4) - r * (q - 4)) / 2;
    const clip = [{ shell: Float64Array.of(0, 4, 1, 0, 23, 2), holes: [] }];
    expect(commonM2).toBeCloseTo(4.46, 2);
    const once = difference(shell, clip);
    expect(totalAreaM2(once)).toBeCloseTo(16 - commonM2, 3);
    const common = [{ shell: Float64Array.of(r, s, 0, 4, p, q), holes: [] }];
    expect(totalAreaM2(difference(shell, common))).toBeCloseTo(16 - commonM2, 3);
  });
});
