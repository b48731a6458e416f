/** The simulation of whole plans: what is gone over grows, and starts where the machine can. */
import { describe, expect, it } from "vitest";
import type { AreaM } from "../../src/model/geometry.ts";
import type { Plan } from "../../src/model/plan.ts";
import { coverageOf } from "../../src/physics/coverage/coverage.ts";
import { sampleLoop, samplePlan } from "../export/sample-plan.ts";
import { box } from "../plan/shapes.ts";

const mown = (areas: readonly AreaM[], loop = "A"): Plan["mown"][number] => ({
  loop,
  part: 1,
  areas,
  areaM2: 0,
});
const plan = (areas: readonly AreaM[], more: Partial<Plan> = {}): Plan => {
  const base = samplePlan();
  const work = { ...base.profile.work, speedMPerS: 0.5, cutWidthM: 0.4, runMin: 10 };
  return { ...base, mown: [mown(areas)], profile: { ...base.profile, work }, ...more };
};
const hours = [0.05, 0.1, 0.2];

describe("coverage of a loop", () => {
  it("grows with the hours, is whole at last, and is the same for the same seed", () => {
    const [one] = coverageOf(plan([box(0, 0, 6, 6)]), { hours: [0.05, 0.2, 3] });
    const shares = one!.after.map(({ share }) => share);
    expect(one!.after.map((after) => after.hours)).toEqual([0.05, 0.2, 3]);
    expect(shares[0]).toBeGreaterThan(0.3);
    expect(shares[0]).toBeLessThan(shares[1]!);
    // 3 h at 0.5 m/s and 0.4 m are sixty times the lawn: random passes leave e^-60 of it, but corners.
    expect(shares[2]).toBeGreaterThan(0.98);
    expect(one).toMatchObject({ loop: "A", withGuide: [] });
    // A lawn of 36 m²: mean chord π A / P = 4.71 m.
    expect(one!.meanDriveM).toBeGreaterThan(4.71 * 0.9);
    expect(one!.meanDriveM).toBeLessThan(4.71 * 1.1);
    expect(coverageOf(plan([box(0, 0, 6, 6)]), { hours: [0.05, 0.2, 3] })).toEqual([one]);
    const [other] = coverageOf(plan([box(0, 0, 6, 6)]), { hours: [0.05], seed: 2 });
    expect(other!.after[0]!.share).not.toBe(shares[0]);
  });

  it("drives no more than the hours allow", () => {
    const [one] = coverageOf(plan([box(0, 0, 6, 6)]), { hours });
    // 0.2 h at 0.5 m/s: 360 m, and the drive that goes over it.
    const drivenM = one!.drives * one!.meanDriveM;
    expect(drivenM).toBeGreaterThanOrEqual(360);
    expect(drivenM).toBeLessThan(360 + 9);
  });

  it("of areas that hang together by a passage: each has its share of the time by its lawn", () => {
    // The second has no start of its own: the machine begins in its middle.
    const [one] = coverageOf(plan([box(0, 0, 6, 6), box(20, 0, 26, 6)]), { hours: [1] });
    // 1,800 m of 0.4 m over 72 m² are ten times: both are nearly whole.
    expect(one!.after[0]!.share).toBeGreaterThan(0.95);
    const [half] = coverageOf(plan([box(0, 0, 6, 6)]), { hours: [1] });
    expect(half!.after[0]!.share).toBeGreaterThanOrEqual(one!.after[0]!.share);
  });

  it("with a guide wire every other trip begins at its far end", () => {
    const line = Float64Array.of(0, 0, 3, 3, 5.5, 5.5, 6, 6);
    const loop = { ...sampleLoop(), guideWires: [{ line, lengthM: 8, clearanceM: 0.5 } as never] };
    const [one] = coverageOf(plan([box(0, 0, 6, 6)], { loops: [loop] }), { hours });
    expect(one!.withGuide.map((after) => after.hours)).toEqual(hours);
    expect(one!.withGuide).not.toEqual(one!.after);
    // One that ends far from the lawn is no start.
    const far = { ...loop, guideWires: [{ line: Float64Array.of(0, 0, 90, 90, 99, 99) } as never] };
    expect(coverageOf(plan([box(0, 0, 6, 6)], { loops: [far] }), { hours })[0]!.withGuide).toEqual(
      [],
    );
  });

  it("a station beside the lawn starts as near to it as may be", () => {
    const base = sampleLoop();
    const at = (e: number, n: number) => ({
      ...base,
      station: { ...base.station, atM: [e, n] as const },
    });
    for (const loop of [at(-0.4, 3), at(-50, 3)]) {
      const [one] = coverageOf(plan([box(0, 0, 6, 6)], { loops: [loop] }), { hours });
      expect(one!.after).toHaveLength(3);
    }
  });

  it("a loop without mown area is left out; loops have chances of their own", () => {
    const loops = [sampleLoop(), sampleLoop("B")];
    const made = coverageOf(plan([], { loops, mown: [mown([box(0, 0, 6, 6)], "B")] }), { hours });
    expect(made.map(({ loop }) => loop)).toEqual(["B"]);
    const [alone] = coverageOf(plan([box(0, 0, 6, 6)]), { hours });
    expect(made[0]!.after).not.toEqual(alone!.after);
  });

  it("says the shares after 2, 4, 8, 16 and 32 hours where nobody asks otherwise", () => {
    const slow = plan([box(0, 0, 6, 6)]);
    const work = { ...slow.profile.work, speedMPerS: 0.005 };
    const [one] = coverageOf({ ...slow, profile: { ...slow.profile, work } });
    expect(one!.after.map((after) => after.hours)).toEqual([2, 4, 8, 16, 32]);
    expect(one!.missed?.areaM2 ?? 0).toBeGreaterThan(0);
  });
});
