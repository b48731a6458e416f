import { describe, expect, it } from "vitest";
import { lineOnGround } from "../../../src/physics/terrain/line-on-ground.ts";
import { planOnGround } from "../../../src/physics/terrain/plan-on-ground.ts";
import { samplePlan } from "../../export/sample-plan.ts";
import { latticeOf } from "./rasters.ts";

const line = (...numbers: number[]) => Float64Array.from(numbers);

describe("a line on the ground", () => {
  // Along an even slope g the ground is sqrt(1 + g²) times the flat length (Pythagoras); across it, 1.
  it.each([0, 0.05, 0.2, 0.35, 1])("is exact on a ramp of slope %d", (g) => {
    const ramp = latticeOf((e) => 100 + g * e, 0.7);
    expect(lineOnGround(line(-31.3, 4, 22.9, 4), ramp).groundM).toBeCloseTo(
      54.2 * Math.hypot(1, g),
      9,
    );
    expect(lineOnGround(line(3, -20, 3, 20), ramp).groundM).toBeCloseTo(40, 9);
    // At 60° to the fall the slope along the line is g / 2.
    const [de, dn] = [10, 10 * Math.sqrt(3)];
    expect(lineOnGround(line(0, 0, de, dn), ramp).groundM).toBeCloseTo(
      20 * Math.hypot(1, g / 2),
      9,
    );
  });

  it("over a sinus hill is the arc length integrated numerically, within 0.02 %", () => {
    const [amplitudeM, waveM] = [1.5, 18];
    const k = (2 * Math.PI) / waveM;
    const hill = latticeOf((e) => amplitudeM * Math.sin(k * e), 0.25);
    // Simpson's rule over ∫ sqrt(1 + (A k cos k e)²) de from -36 to 36 with 20,000 intervals.
    const n = 20_000;
    const h = 72 / n;
    const f = (e: number) => Math.hypot(1, amplitudeM * k * Math.cos(k * e));
    let sum = f(-36) + f(36);
    for (let i = 1; i < n; i++) sum += (i % 2 === 1 ? 4 : 2) * f(-36 + i * h);
    const arcM = (sum * h) / 3;
    expect(arcM / 72).toBeGreaterThan(1.06);
    const { groundM } = lineOnGround(line(-36, 1.3, 36, 1.3), hill);
    expect(Math.abs(groundM / arcM - 1)).toBeLessThan(2e-4);
  });

  it("counts as flat where no height is known, and says how much and where", () => {
    const half = latticeOf((e) => (e > 0.1 ? Number.NaN : 0.5 * e), 1);
    const on = lineOnGround(line(-10, 0, 10, 0), half);
    expect(on.unknownM).toBeCloseTo(10, 6);
    expect(on.groundM).toBeCloseTo(10 * Math.hypot(1, 0.5) + 10, 6);
    expect(on.unknownAtM?.[0]).toBeGreaterThan(0);
  });
});

describe("a plan on the ground", () => {
  const g = 0.3;
  const { ground } = planOnGround(
    samplePlan(),
    latticeOf((e, n) => 20 + g * e + 0 * n, 0.5),
  );
  const loop = ground.loops[0]!;
  const up = Math.hypot(1, g);

  it("has the length of the wire, its runs and rings along the ground", () => {
    // The sample wire is 10 m by 6 m; its run goes north, its ring is a square of 2 m.
    expect(loop.wire.groundM).toBeCloseTo(20 * up + 12, 9);
    expect(loop.pairedRuns[0]!.groundM).toBeCloseTo(2, 9);
    expect(loop.exclusionLoops[0]!.groundM).toBeCloseTo(4 * up + 4, 9);
    expect([ground.lowestM, ground.highestM]).toEqual([20, 23]);
  });

  it("has heights and chainages of its pegs along the ground", () => {
    expect(loop.pegs[1]!.heightM).toBeCloseTo(23, 9);
    expect(loop.pegs[1]!.chainageM).toBeCloseTo(10 * up, 9);
    expect(loop.pegs[2]!.chainageM).toBeCloseTo(10 * up + 2, 9);
    // 20 m on: 10 m east, 6 m north, 4 m west.
    expect(loop.pegs[2]!.secondChainageM).toBeCloseTo(14 * up + 6, 9);
  });
});
