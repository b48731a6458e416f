import { describe, expect, it } from "vitest";
import { seenFrom, sunAt, sunTimes } from "../../../src/physics/sun/solar-position.ts";

const GOLDEN = { latDeg: 39.742476, lonDeg: -105.1786, elevationM: 1830.14 };

describe("the sun's position", () => {
  it("is that of the worked example of NREL/TP-560-34302, table A5.1, to its printed digits", () => {
    const sun = sunAt(Date.UTC(2003, 9, 17, 19, 30, 30), 67);
    const seen = seenFrom(sun, GOLDEN, { pressureMbar: 820, temperatureC: 11 });
    expect(90 - seen.elevationDeg).toBeCloseTo(50.11162, 5);
    expect(seen.azimuthDeg).toBeCloseTo(194.34024, 5);
  });

  it("is that of J. Meeus, Astronomical Algorithms, example 25.b, to its printed digits", () => {
    const sun = sunAt(Date.UTC(1992, 9, 13), 0);
    expect(sun.rightAscensionDeg).toBeCloseTo(198.378, 3);
    expect(sun.declinationDeg).toBeCloseTo(-7.784, 3);
  });

  it("rises and is highest when table A5.1 says (from memory: 13:12:43.46, 18:46:04.97 UT)", () => {
    const { riseMs, noonMs } = sunTimes(Date.UTC(2003, 9, 17, 19), GOLDEN);
    expect(Math.abs(riseMs! - Date.UTC(2003, 9, 17, 13, 12, 43, 460))).toBeLessThan(1000);
    expect(Math.abs(noonMs - Date.UTC(2003, 9, 17, 18, 46, 4, 970))).toBeLessThan(100);
  });

  it("sets on the evening before as table A5.1 says (from memory: 00:20:19.19 UT)", () => {
    const { setMs } = sunTimes(Date.UTC(2003, 9, 16, 19), GOLDEN);
    expect(Math.abs(setMs! - Date.UTC(2003, 9, 17, 0, 20, 19, 190))).toBeLessThan(1000);
  });

  it("neither rises nor sets beyond the polar circle at midsummer and midwinter", () => {
    const north = { latDeg: 75, lonDeg: 0 };
    expect(sunTimes(Date.UTC(2025, 5, 21, 12), north).setMs).toBeUndefined();
    expect(sunTimes(Date.UTC(2025, 11, 21, 12), north).riseMs).toBeUndefined();
  });
});
