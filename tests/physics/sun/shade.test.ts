import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../../src/geometry/engine.ts";
import type { Caster } from "../../../src/physics/sun/casters.ts";
import { castersOf } from "../../../src/physics/sun/casters.ts";
import { seasonOf } from "../../../src/physics/sun/season.ts";
import {
  DIRECTIONS,
  directionOf,
  hiddenTowards,
  isHidden,
  skylineOf,
} from "../../../src/physics/sun/skyline.ts";
import { seenFrom, sunAt, sunTimes } from "../../../src/physics/sun/solar-position.ts";
import { sunMap } from "../../../src/physics/sun/sun-map.ts";
import { SunStudy } from "../../../src/physics/sun/sun-study.ts";
import { clockOf, solarClock } from "../../../src/physics/sun/zone.ts";
import { box, siteOf, thingOf } from "../../plan/shapes.ts";
import { seeded } from "../../support/seeded.ts";
import { latticeOf } from "../terrain/rasters.ts";

beforeAll(() => loadEngine());

const RAD = Math.PI / 180;
/** A wall along the parallel through the origin. */
const wall = (topM: number, groundM?: number): Caster => ({
  kind: "upright",
  line: Float64Array.of(-50, 0, 50, 0),
  topM,
  groundM,
});

describe("a shadow at solar noon on the equinox", () => {
  // The equinox of March 2030 falls on the 20th at 13:52 UTC (from memory); at 28.5° W it is noon then.
  const place = { latDeg: 47.25, lonDeg: -28.5 };
  const { noonMs } = sunTimes(Date.UTC(2030, 2, 20, 14), place);
  const { azimuthDeg, elevationDeg } = seenFrom(sunAt(noonMs), place);
  const rise = Math.tan(elevationDeg * RAD);
  // The sun stands over the equator: a wall of height h throws h tan(latitude) to the north
  // (elementary trigonometry). Refraction lifts it by 0.015°, which takes 0.06 % off.
  const lengthM = 1.8 * Math.tan(place.latDeg * RAD);
  const isShaded = (northM: number, casters: readonly Caster[]) =>
    isHidden(hiddenTowards([0, northM], casters, azimuthDeg), rise);

  it("is as long as the height times the tangent of the latitude, within 0.1 %", () => {
    expect(azimuthDeg).toBeCloseTo(180, 2);
    expect(isShaded(0.999 * lengthM, [wall(1.8)])).toBe(true);
    expect(isShaded(1.001 * lengthM, [wall(1.8)])).toBe(false);
    expect(isShaded(-0.1, [wall(1.8)])).toBe(false);
  });

  it("of a crown lies between those of its bottom and its top", () => {
    const crown: Caster = {
      kind: "crown",
      middle: [0, 0],
      radiusM: 2,
      bottomM: 2,
      topM: 8,
      groundM: undefined,
    };
    const tan = Math.tan(place.latDeg * RAD);
    // From the near side of the bottom to the far side of the top: a drum 2 m round the trunk.
    const [fromM, toM] = [-2 + 2 * tan, 2 + 8 * tan];
    expect(isShaded(fromM - 0.02, [crown])).toBe(false);
    expect(isShaded(fromM + 0.02, [crown])).toBe(true);
    expect(isShaded(toM - 0.02, [crown])).toBe(true);
    expect(isShaded(toM + 0.02, [crown])).toBe(false);
  });

  it("is longer where the ground falls away from the wall", () => {
    // 10 % down to the north: h = 1.8 + 0.1 d at d, so d = 1.8 tan / (1 - 0.1 tan).
    const tan = Math.tan(place.latDeg * RAD);
    const lattice = latticeOf((_, n) => 20 - 0.1 * n, 0.5);
    const heightAt = (_: number, n: number) => 20 - 0.1 * n;
    const ground = { lattice, heightAt, highestM: 25 };
    const reachM = (1.8 * tan) / (1 - 0.1 * tan);
    const shaded = (northM: number) =>
      isHidden(hiddenTowards([0, northM], [wall(1.8, 20)], azimuthDeg, ground), rise);
    expect(shaded(0.999 * reachM)).toBe(true);
    expect(shaded(1.001 * reachM)).toBe(false);
  });

  it("is thrown by the ground itself", () => {
    // A terrace 3 m high south of the origin.
    const heightAt = (_: number, n: number) => (n <= 0 ? 3 : 0);
    const ground = { lattice: latticeOf(heightAt, 0.25), heightAt, highestM: 3 };
    const shaded = (northM: number) =>
      isHidden(hiddenTowards([0, northM], [], azimuthDeg, ground), rise);
    const reachM = 3 * Math.tan(place.latDeg * RAD);
    expect(shaded(reachM - 0.3)).toBe(true);
    expect(shaded(reachM + 0.3)).toBe(false);
  });
});

describe("a skyline", () => {
  it("hides in every direction what a single look there hides", () => {
    const random = seeded(3);
    const casters: Caster[] = Array.from({ length: 12 }, (_, i): Caster => {
      const [e, n] = [60 * random() - 30, 60 * random() - 30];
      if (i % 3 === 0) {
        const bottomM = 1 + random();
        return {
          kind: "crown",
          middle: [e, n],
          radiusM: 1 + 2 * random(),
          bottomM,
          topM: 8,
          groundM: undefined,
        };
      }
      const [w, h] = [2 + 8 * random(), 2 + 8 * random()];
      const line = Float64Array.of(e, n, e + w, n, e + w, n + h, e, n + h, e, n);
      return { kind: "upright", line, topM: 3 + 4 * random(), groundM: undefined };
    });
    const all = new Uint8Array(DIRECTIONS).fill(1);
    let seen = 0;
    for (let i = 0; i < 20; i++) {
      const at = [50 * random() - 25, 50 * random() - 25] as const;
      const sky = skylineOf(at, casters, all);
      for (let k = 0; k < DIRECTIONS; k++) {
        const one = hiddenTowards(at, casters, ((k + 0.5) * 360) / DIRECTIONS);
        for (const rise of [0.05, 0.2, 0.5, 1, 2, 5]) {
          expect(isHidden(sky[k]!, rise)).toBe(isHidden(one, rise));
          if (isHidden(one, rise)) seen++;
        }
      }
    }
    expect(seen).toBeGreaterThan(5000);
    expect([0, 359.9, 360, -0.1].map(directionOf)).toEqual([0, 359, 0, 359]);
  });
});

describe("hours of sun on open ground", () => {
  const at = (latDeg: number, from: string, to = from) =>
    seasonOf({ latDeg, lonDeg: 0, from, to, clock: solarClock(0), hotFromMin: 660, hotToMin: 960 });

  /** From rise to set of the upper limb, refraction 34': the sunrise equation (Meeus, chapter 15; from memory). */
  const dayLengthH = (latDeg: number, declinationDeg: number) => {
    const [phi, delta] = [latDeg * RAD, declinationDeg * RAD];
    const cosine =
      (Math.sin(-0.8333 * RAD) - Math.sin(phi) * Math.sin(delta)) /
      (Math.cos(phi) * Math.cos(delta));
    return (2 * Math.acos(cosine)) / RAD / 15;
  };

  it.each([-35, 0, 30, 50, 60])(
    "are the day's length by the sunrise equation at latitude %d",
    (lat) => {
      // On 21 June the declination is 23.44°, on 21 December -23.44°, within 0.01°.
      for (const [date, declination] of [
        ["06-21", 23.436],
        ["12-21", -23.436],
      ] as const) {
        const { samples, dayLengthH: h } = at(lat, date);
        expect(Math.abs(h - dayLengthH(lat, declination))).toBeLessThan(1 / 60);
        const open = new SunStudy({ samples, days: 1, dayLengthH: h }, [], undefined).at([0, 0]);
        expect(open.hoursADay).toBeCloseTo(h, 9);
        expect(open.hotShade).toBe(0);
      }
    },
  );

  it("are those of printed tables at 50° north (from memory: 16:22 at midsummer, 8:04 at midwinter)", () => {
    expect(Math.abs(at(50, "06-21").dayLengthH - (16 + 22 / 60))).toBeLessThan(2 / 60);
    expect(Math.abs(at(50, "12-21").dayLengthH - (8 + 4 / 60))).toBeLessThan(2 / 60);
  });

  it("are 24 at midsummer beyond the polar circle, and none at midwinter", () => {
    expect(at(75, "06-21").dayLengthH).toBeCloseTo(24, 9);
    expect(at(75, "12-21").dayLengthH).toBe(0);
  });

  it("are the mean over a season, over the turn of the year as well", () => {
    const south = at(-35, "10-01", "04-30");
    expect(south.days).toBe(14);
    expect(south.dayLengthH).toBeGreaterThan(12.5);
    expect(south.dayLengthH).toBeLessThan(14.2);
  });
});

describe("clock times", () => {
  it("are those of the zone, summer time included, and never those of the machine", () => {
    const january = Date.UTC(2030, 0, 15, 12);
    const july = Date.UTC(2030, 6, 15, 12);
    expect([clockOf("CET")!(january), clockOf("CET")!(july)]).toEqual([60, 120]);
    expect(clockOf("+05:30")!(july)).toBe(330);
    expect(clockOf("-3")!(july)).toBe(-180);
    expect(clockOf("UTC")!(july)).toBe(0);
    expect(clockOf("Nowhere/At_all")).toBeUndefined();
    expect(clockOf("+25:00")).toBeUndefined();
    expect(solarClock(-28.5)(july)).toBe(-114);
  });

  it("decide what the hot hours are", () => {
    const hot = (zone: string) => {
      const season = seasonOf({
        latDeg: 45,
        lonDeg: 0,
        from: "06-21",
        to: "06-21",
        clock: clockOf(zone)!,
        hotFromMin: 12 * 60,
        hotToMin: 13 * 60,
      });
      const samples = season.samples.filter(({ isHot }) => isHot);
      return samples.reduce((sum, { azimuthDeg }) => sum + azimuthDeg, 0) / samples.length;
    };
    // At longitude 0 the sun is due south about noon UTC; an hour ahead it is still in the east.
    expect(hot("UTC")).toBeGreaterThan(180);
    expect(hot("+01:00")).toBeLessThan(180);
  });
});

describe("what casts shade", () => {
  it("has its height stated or assumed, and counted", () => {
    const building = { role: "building", contact: "firm" } as const;
    const site = siteOf([box(0, 0, 20, 10)], {
      things: [
        thingOf("house", box(0, -8, 20, 0), { ...building, heightM: 7 }),
        thingOf("shed", box(22, 0, 24, 2), building),
        thingOf("oak", box(5, 5, 5.4, 5.4), { role: "tree", contact: "firm" }),
        thingOf("bed", box(8, 8, 9, 9)),
      ],
      edgeLines: [
        { kind: "hedge", line: Float64Array.of(0, 10, 20, 10), heightM: 2.5, source: {} },
        { kind: "fence", line: Float64Array.of(20, 0, 20, 10), source: {} },
      ],
    });
    const { list, assumed } = castersOf(site, undefined);
    expect(list.map(({ topM }) => topM)).toEqual([7, 6, 8, 2.5]);
    expect([...assumed]).toEqual([
      ["building", 1],
      ["tree", 1],
    ]);
  });

  it("makes a map on which the lawn north of a house has less sun than that south of it", () => {
    const season = seasonOf({
      latDeg: 47,
      lonDeg: 0,
      from: "04-01",
      to: "10-31",
      clock: solarClock(0),
      hotFromMin: 660,
      hotToMin: 960,
    });
    const line = Float64Array.of(0, 0, 10, 0, 10, 8, 0, 8, 0, 0);
    const study = new SunStudy(
      season,
      [{ kind: "upright", line, topM: 6, groundM: undefined }],
      undefined,
    );
    const lawn = box(-5, -12, 15, 20);
    const map = sunMap(
      [{ shell: lawn.shell, holes: [box(0, 0, 10, 8).shell] }],
      560,
      (place) => study.at(place).hoursADay,
    );
    const hoursAt = (e: number, n: number) =>
      map.hours[
        (map.rows - 1 - Math.floor((n - map.southM) / map.cellM)) * map.columns +
          Math.floor((e - map.westM) / map.cellM)
      ]!;
    expect(hoursAt(5.2, 4.2)).toBeNaN();
    expect(hoursAt(5.2, 9.2)).toBeLessThan(0.5 * season.dayLengthH);
    expect(hoursAt(5.2, -10.2)).toBeGreaterThan(0.8 * season.dayLengthH);
    expect(study.at([5, 9]).hotShade).toBeGreaterThan(0.6);
    expect(study.at([5, -3]).hotShade).toBeLessThan(0.05);
    const known = map.hours.filter((value) => !Number.isNaN(value)).length;
    expect(known * map.cellM ** 2).toBeCloseTo(560, -1);
  });
});
