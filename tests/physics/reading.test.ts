import { describe, expect, it } from "vitest";
import { copperFactor } from "../../src/physics/reading/copper-factor.ts";
import { loopReading, meaningOf } from "../../src/physics/reading/loop-reading.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { COPPER_OHM_PER_KM } from "../../src/profile/copper.ts";

describe("conductors (IEC 60228, from memory)", () => {
  it("R(t) = R20 (234.5 + t)/254.5", () => {
    expect(copperFactor(20)).toBe(1);
    expect(copperFactor(0)).toBeCloseTo(0.92141, 5);
    expect(copperFactor(70)).toBeCloseTo(1.19646, 5);
  });

  it("resistance falls as the section grows, a little less than in proportion", () => {
    for (const row of Object.values(COPPER_OHM_PER_KM)) {
      for (const [section, ohm] of Object.entries(row)) {
        // 17.241 ohm mm²/km is the standard's annealed copper (IEC 60028); limits lie just above.
        expect(ohm).toBeGreaterThan(17.241 / Number(section));
        expect(ohm).toBeLessThan((1.2 * 17.241) / Number(section));
      }
    }
  });

  it("the built-in machines carry limits of class 5", () => {
    const limits: readonly number[] = Object.values(COPPER_OHM_PER_KM.flexible);
    for (const name of ["small", "medium", "large"] as const) {
      expect(limits).toContain(builtInProfile(name).wire.ohmPerKm);
    }
  });
});

describe("loop reading", () => {
  // 199.7 m and two ends of 0.15 m of 1.5 mm² flexible copper: 200 m at 13.3 ohm/km.
  const reading = loopReading({ wireM: 199.7, slackShare: 0.02, ohmPerKm: 13.3, joints: 1 });

  it("is length times the conductor's resistance", () => {
    expect(reading.at20Ohm).toBeCloseTo(2.66, 10);
    expect(reading.coldOhm).toBeCloseTo((2.66 * 234.5) / 254.5, 10);
    expect(reading.warmOhm).toBeCloseTo((2.66 * 269.5) / 254.5, 10);
  });

  it("tells open, high, good and low apart", () => {
    expect(meaningOf(Infinity, reading)).toBe("open");
    expect(meaningOf(50_000, reading)).toBe("open");
    expect(meaningOf(4.5, reading)).toBe("high");
    expect(meaningOf(2.66, reading)).toBe("good");
    expect(meaningOf(reading.coldOhm, reading)).toBe("good");
    expect(meaningOf(reading.warmOhm * 1.02, reading)).toBe("good");
    expect(meaningOf(1.3, reading)).toBe("low");
  });

  it("a fifth of the wire missing shows even on the warmest day against the coldest expectation", () => {
    const fifth = reading.at20Ohm * 0.8;
    expect(meaningOf(fifth, reading)).toBe("low");
  });
});
