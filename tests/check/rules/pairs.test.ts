/** Rules of paired wires: the gap between them, and that one runs out and the other back. */
import { describe, expect, it } from "vitest";
import { noWire } from "../../../src/check/rules/no-wire.ts";
import { pairGap, pairOpposite } from "../../../src/check/rules/pairs.ts";
import type { StatedLoop } from "../../../src/check/stated/stated-plan.ts";
import type { AreaM } from "../../../src/model/geometry.ts";
import type { Site } from "../../../src/model/site.ts";
import { box, siteOf } from "../../plan/shapes.ts";
import { corners, courtOf, loop, measure } from "./scene.ts";

const site = siteOf([box(-10, -10, 30, 30)]);
/** A slit in the middle of the top, 4 m deep. */
const slit = (gapM: number, topM = gapM) => [
  ...[0, 0, 10, 0, 10, 10, 5 + topM / 2, 10, 5 + gapM / 2, 6],
  ...[5 - gapM / 2, 6, 5 - topM / 2, 10, 0, 10],
];
const line = Float64Array.of(5, 10, 5, 6);
const stated = (lines: readonly Float64Array[] = [line]): Partial<StatedLoop> => ({
  pairedRuns: lines.map((one) => ({ line: one, from: "boundary", to: "Bed", lengthM: undefined })),
});
const court = (wire: readonly number[], said: Partial<StatedLoop> = stated(), where: Site = site) =>
  courtOf(where, [loop(wire, said)]);

describe("the gap of a stated pair", () => {
  it.each([
    [0.00985, false],
    [0.00995, true],
    [0.01, true],
    [0.01205, true],
    [0.01215, false],
  ])("of %d m: %s", (gapM, holds) => {
    const found = measure(pairGap, court(slit(gapM)));
    expect(found).toMatchObject({ holds, unit: "m", bound: "at most" });
    expect(found.measured).toBeCloseTo(gapM, 9);
    expect(found.allowed).toBeCloseTo(0.0121, 12);
  });

  it("is told in millimetres, at the worst place of each metre", () => {
    // 20 mm above, 10 mm below: too wide from 9.97 m down to 6.84 m.
    const found = measure(pairGap, court(slit(0.01, 0.02)));
    expect(found.said[0]).toBe(
      "The two wires of the pair from boundary to Bed of loop A lie 19.9 mm apart; 9.9 to 12.1 mm are allowed. Lay the two wires side by side on shared pegs, so that their fields cancel.",
    );
    const at = found.breaches[0]!.atM!;
    expect(at[0]).toBeCloseTo(5, 9);
    expect(at[1]).toBeCloseTo(9.97, 9);
    // Every fifth place is a metre from the one before: 9.97, 8.74 and 7.51 m.
    expect(found.breaches).toHaveLength(3);
  });

  it("is looked at every quarter metre, 30 mm from the ends and 15 mm from bends", () => {
    // A kink of the right wire 30 mm wide, 40 mm long: seen where it lies on a place, not between.
    const kink = (n: number, outM = 0.03) => [
      ...[
        0,
        0,
        10,
        0,
        10,
        10,
        5.005,
        10,
        5.005,
        n + 0.02,
        5.005 + outM,
        n,
        5.005,
        n - 0.02,
        5.005,
        6,
      ],
      ...[4.995, 6, 4.995, 10, 0, 10],
    ];
    const holds = (n: number, said = stated()) => measure(pairGap, court(kink(n), said)).holds;
    // 3.94 m in 16 steps of 0.24625 m.
    for (const k of [1, 2, 7, 15]) expect([k, holds(9.97 - 0.24625 * k)]).toEqual([k, false]);
    expect(holds(9.97 - 0.24625 * 2.5)).toBe(true);
    expect(holds(9.96)).toBe(false);
    const bent = [Float64Array.of(5, 10, 5, 8, 5, 6)];
    // 15 mm before and after the bend, not at it: a kink of 24 mm there is passed over.
    const sharp = (n: number) => [
      ...[0, 0, 10, 0, 10, 10, 5.005, 10, 5.005, n + 0.012, 5.035, n, 5.005, n - 0.012, 5.005, 6],
      ...[4.995, 6, 4.995, 10, 0, 10],
    ];
    expect(measure(pairGap, court(sharp(8), stated(bent))).holds).toBe(true);
    expect(measure(pairGap, court(sharp(8.015), stated(bent))).holds).toBe(false);
    expect(measure(pairGap, court(sharp(7.985), stated(bent))).holds).toBe(false);
    expect(measure(pairGap, court(sharp(9.985), stated(bent))).holds).toBe(true);
    // A run of 60 mm and less has no place to look at.
    const short = [Float64Array.of(5, 8, 5, 7.945)];
    expect(measure(pairGap, court(slit(0.05), stated(short))).holds).toBeNull();
    expect(measure(pairGap, court(slit(0.05), stated(short))).note).toBe(
      "the plan has no paired runs",
    );
    const longer = [Float64Array.of(5, 8, 5, 7.9)];
    expect(measure(pairGap, court(slit(0.05), stated(longer))).holds).toBe(false);
  });

  it("is none where a wire is missing on one side", () => {
    const found = measure(pairGap, court(corners(0, 0, 5, 10), stated()));
    expect(found.holds).toBe(false);
    expect(found.measured).toBe(1);
    expect(found.said[0]).toContain(
      "A wire of the pair from boundary to Bed of loop A is not beside its centre line.",
    );
    // 0.5 m to each side are looked at.
    expect(measure(pairGap, court(slit(0.9))).measured).toBeCloseTo(0.9, 9);
    expect(measure(pairGap, court(slit(1.1))).measured).toBe(1);
  });

  it("is that of its own loop's wire", () => {
    const other = loop(corners(4.998, 0, 5.002, 20), { name: "B" });
    const found = measure(pairGap, courtOf(site, [loop(slit(0.01), stated()), other]));
    expect(found.holds).toBe(true);
    expect(
      measure(pairGap, courtOf(site, [loop(corners(20, 0, 25, 5)), loop(slit(0.02), stated())]))
        .holds,
    ).toBe(false);
  });

  it("of two lines of runs each is measured", () => {
    const lines = [Float64Array.of(5, 10, 5, 8), Float64Array.of(5, 8, 5, 6)];
    expect(measure(pairGap, court(slit(0.01, 0.0119), stated(lines))).holds).toBe(true);
    expect(measure(pairGap, court(slit(0.01, 0.02), stated([lines[1]!]))).measured).toBeLessThan(
      0.0151,
    );
  });
});

describe("the gap of pairs that are not stated", () => {
  it("may be 30 mm, as a map tool draws", () => {
    const of = (gapM: number) => measure(pairGap, court(slit(gapM), {}));
    expect(of(0.002).holds).toBe(true);
    expect(of(0.0299).holds).toBe(true);
    expect(of(0.0299).measured).toBeCloseTo(0.0299, 9);
    expect(of(0.0301).holds).toBe(false);
    expect(of(0.05).said[0]).toContain(
      "The two wires of the pair of loop A lie 50.0 mm apart; 0.0 to 30.0 mm",
    );
    expect(of(0.05).breaches[0]!.atM![1]).toBeCloseTo(8, 9);
    expect(of(0.2)).toMatchObject({ holds: null, note: "no two wires run as a pair" });
    expect(of(0.2)).toMatchObject({ unit: "m", bound: "at most" });
  });
});

describe("directions of a pair", () => {
  it("out and back holds; the same way does not", () => {
    expect(measure(pairOpposite, court(slit(0.01)))).toMatchObject({
      holds: true,
      measured: 0,
      allowed: 0,
      unit: "count",
      bound: "at most",
    });
    // Down on the right, across far off, and down again on the left.
    const same = [
      ...[0, 0, 10, 0, 10, 10, 5.005, 10, 5.005, 6, 8, 6, 8, 2, 2, 2, 2, 12, 4.995, 12],
      ...[4.995, 4, 1, 4, 1, 10, 0, 10],
    ];
    const found = measure(pairOpposite, court(same));
    expect(found.holds).toBe(false);
    expect(found.said[0]).toBe(
      "The two wires of the pair from boundary to Bed of loop A run the same way: their fields add up. Lay one wire out and the other back.",
    );
    expect(found.measured).toBe(found.said.length);
  });

  it("is not measured without stated runs, nor where a wire is missing", () => {
    for (const one of [court(slit(0.01), {}), court(corners(0, 0, 5, 10))]) {
      expect(measure(pairOpposite, one)).toMatchObject({
        holds: null,
        note: "no paired runs are stated",
        unit: "count",
        bound: "at most",
      });
    }
  });
});

describe("areas without wire", () => {
  const barred = (...areas: AreaM[]): Site => ({
    ...site,
    runGround: areas.map((area) => ({
      area,
      factor: "barred",
      why: "no-wire",
      name: "Play",
      source: {},
    })),
  });

  it("are asked where there are any", () => {
    const dear: Site = {
      ...site,
      runGround: [{ area: box(4, 7, 6, 8), factor: 3, why: "drawn-cost", name: "x", source: {} }],
    };
    for (const where of [site, dear]) {
      expect(measure(noWire, court(slit(0.01), {}, where))).toMatchObject({
        holds: null,
        note: "the site has no area without wire",
        unit: "m",
        bound: "at most",
      });
    }
  });

  it("both wires of a pair count, metre by metre", () => {
    const found = measure(noWire, court(slit(0.01), {}, barred(box(4, 7, 6, 8.5))));
    expect(found).toMatchObject({ holds: false, allowed: 0, unit: "m", bound: "at most" });
    expect(found.measured).toBeCloseTo(3, 9);
    expect(found.said).toEqual([
      "A paired run of loop A lies in Play, where no wire may lie. Lead it round the area, or take wire = no off it.",
    ]);
    expect(found.breaches[0]!.atM![1]).toBeCloseTo(7.75, 9);
  });

  it("10 mm of it are rounding", () => {
    const of = (m: number) => measure(noWire, court(slit(0.01), {}, barred(box(4, 7, 6, 7 + m))));
    expect(of(0.0099)).toMatchObject({ holds: true, measured: 0 });
    expect(of(0.0101).measured).toBeCloseTo(0.0202, 9);
  });

  it("the boundary wire is not asked, nor what lies in a hole", () => {
    expect(measure(noWire, court(slit(0.01), {}, barred(box(-1, -1, 11, 3)))).holds).toBe(true);
    const ring: AreaM = { shell: box(3, 5, 7, 11).shell, holes: [box(4, 5.5, 6, 10.5).shell] };
    expect(measure(noWire, court(slit(0.01), {}, barred(ring))).holds).toBe(true);
  });

  it("guide wires are asked", () => {
    const guide = (wire: readonly number[]): Partial<StatedLoop> => ({
      guideWires: [{ line: Float64Array.from(wire), lengthM: undefined, clearanceM: undefined }],
    });
    const of = (wire: readonly number[]) =>
      measure(noWire, court(corners(0, 0, 10, 10), guide(wire), barred(box(4, 4, 6, 6))));
    expect(of([5, 0, 5, 10]).measured).toBeCloseTo(2, 9);
    expect(of([5, 0, 5, 10]).said[0]).toContain("The guide wire of loop A lies in Play");
    expect(of([2, 0, 2, 10]).holds).toBe(true);
    expect(of([0, 5, 5, 5, 5, 0]).measured).toBeCloseTo(2, 9);
    expect(of([4.5, 5, 5.5, 5]).measured).toBeCloseTo(1, 9);
  });
});
