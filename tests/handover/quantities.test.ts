import { describe, expect, it } from "vitest";
import { cautionsFor } from "../../src/handover/cautions.ts";
import { quantitiesOf } from "../../src/handover/quantities.ts";
import type { Loop, Peg } from "../../src/model/plan.ts";
import { sampleLoop, samplePlan, sampleSite } from "../export/sample-plan.ts";

const loopsOf = (...lengths: number[]) => quantitiesOf(samplePlan(lengths.map(longLoop)));

/** A loop with a peg about every metre; lengths only, its shape is no matter. */
function longLoop(lengthM: number, i: number): Loop {
  const name = "ABC"[i]!;
  const spans = Math.ceil(lengthM);
  const pegs = Array.from(
    { length: spans },
    (_, k): Peg => ({
      number: `${name}${k + 1}`,
      atM: [k, 0],
      chainageM: (k * lengthM) / spans,
      on: k === 0 ? "station" : "straight",
    }),
  );
  return { ...sampleLoop(name, lengthM), pegs };
}

describe("quantitiesOf", () => {
  // IEC 60228 class 5, 1.0 mm² plain copper at 20 °C: 19.5 ohm/km at most (from memory).
  it("gives the resistance of the laid wire", () => {
    expect(loopsOf(500).loops[0]!.resistanceOhm).toBeCloseTo(9.75, 12);
  });

  it("adds slack and two spare ends a loop to the wire to buy", () => {
    // 100 m × 1.02 + 2 × 1 m, twice.
    expect(loopsOf(100, 100).totals.wireToBuyM).toBeCloseTo(208, 9);
  });

  it.each([
    { lengths: [100], reels: 1, joints: [0] },
    // 198 / 1.02 m fill one reel of 200 m to the end, with 2 m of spare ends.
    { lengths: [198 / 1.02], reels: 1, joints: [0] },
    { lengths: [300], reels: 2, joints: [1] },
    { lengths: [500], reels: 3, joints: [2] },
    // The second loop begins on a new reel: no joint in it.
    { lengths: [198 / 1.02, 100], reels: 2, joints: [0, 0] },
    // The second loop's 104 m come from a new reel: the 96 m left on the first would save none.
    { lengths: [100, 100], reels: 2, joints: [0, 0] },
    // Here the rest saves a reel: 47 m are left, and 47 + 200 m hold what the second loop needs.
    { lengths: [148, 235], reels: 2, joints: [0, 1] },
  ])("takes the fewest reels, then the fewest joints: $lengths", ({ lengths, reels, joints }) => {
    const { loops, totals } = loopsOf(...lengths);
    expect(totals.reels).toBe(reels);
    expect(loops.map((loop) => loop.joints)).toEqual(joints);
    expect(totals.joints).toBe(joints.reduce((sum, one) => sum + one, 0));
  });

  it("rounds spare pegs up", () => {
    expect(quantitiesOf(samplePlan()).totals).toMatchObject({ pegs: 3, pegsToBuy: 4 });
  });

  it("is all zero for a plan without loops", () => {
    const { totals } = quantitiesOf({ ...samplePlan([]), mown: [], cutOff: [] });
    expect(totals).toMatchObject({ wireM: 0, wireToBuyM: 0, pegs: 0, pegsToBuy: 0, reels: 0 });
  });
});

describe("cautionsFor", () => {
  const codes = (site = sampleSite(), plan = samplePlan()) =>
    cautionsFor(site, plan, quantitiesOf(plan)).map((caution) => caution.code);

  it("always says to check lengths, services, supply and blades", () => {
    expect(codes()).toEqual(
      expect.arrayContaining(["CHECK_ON_SITE", "BURIED_SERVICES", "SUPPLY_OFF", "BLADES"]),
    );
  });

  it("warns of water and drops only where there are some", () => {
    expect(codes()).not.toContain("OPEN_WATER");
    const line = { line: Float64Array.of(0, 0, 1, 0), source: {} };
    const shore = { ...sampleSite(), edgeLines: [{ kind: "water" as const, ...line }] };
    expect(codes(shore)).toContain("OPEN_WATER");
    const step = { ...sampleSite(), edgeLines: [{ kind: "drop" as const, ...line }] };
    expect(codes(step)).toContain("DROP");
  });

  it("asks for the station to be proved only where we chose it", () => {
    expect(codes()).toContain("PROVE_THE_STATION");
    const loop = sampleLoop();
    const given = samplePlan([{ ...loop, station: { ...loop.station, given: true } }]);
    expect(codes(sampleSite(), given)).not.toContain("PROVE_THE_STATION");
  });
});
