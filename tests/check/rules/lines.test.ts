/** Rules that ask the wire's line alone: closed, simple, wound and stated as it lies. */
import { describe, expect, it } from "vitest";
import { closed } from "../../../src/check/rules/closed.ts";
import { direction } from "../../../src/check/rules/direction.ts";
import { lengths } from "../../../src/check/rules/lengths.ts";
import { loopArea, loopLength } from "../../../src/check/rules/loop-limits.ts";
import { simple } from "../../../src/check/rules/simple.ts";
import { verdicts } from "../../../src/check/rules/verdicts.ts";
import { winding } from "../../../src/check/rules/winding.ts";
import type { StatedPassage } from "../../../src/check/stated/stated-plan.ts";
import { box, siteOf } from "../../plan/shapes.ts";
import { corners, courtOf, loop, measure, turned } from "./scene.ts";

const site = siteOf([box(-100, -100, 100, 100)]);
const square = corners(0, 0, 10, 10);

describe("closed", () => {
  it.each([0, 0.0005, 0.001])("a gap of %d m is none", (openM) => {
    const found = measure(closed, courtOf(site, [loop(square, { openM })]));
    expect(found).toMatchObject({ holds: true, measured: openM, allowed: 0.001, said: [] });
    expect([found.unit, found.bound]).toEqual(["m", "at most"]);
  });

  it("a wider one is told where the wire ends", () => {
    const loops = [loop(square), loop(square, { name: "B", openM: 0.0011 })];
    const found = measure(closed, courtOf(site, loops));
    expect(found).toMatchObject({ holds: false, measured: 0.0011 });
    expect(found.said).toEqual([
      "Loop B is open: its two ends lie 0.001 m apart. Draw the wire back to where it begins.",
    ]);
    expect(found.breaches[0]!.atM).toEqual([0, 10]);
  });

  it("no wire, no gap", () => {
    expect(measure(closed, courtOf(site, []))).toMatchObject({ holds: true, measured: 0 });
  });
});

describe("winding", () => {
  it("anticlockwise holds, clockwise does not, nor a line without an inside", () => {
    const found = measure(
      winding,
      courtOf(site, [
        loop(square),
        loop(turned(square), { name: "B" }),
        loop([7, 1, 9, 1, 8, 1], { name: "C" }),
      ]),
    );
    expect(found).toMatchObject({ holds: false, measured: 2, allowed: 0, unit: "count" });
    expect(found.bound).toBe("at most");
    expect(found.said[0]).toBe(
      "Loop B runs clockwise: the machine would take the inside for the outside. Reverse the line, or swap the two ends of the wire at the station.",
    );
    expect(found.breaches.map(({ atM }) => atM)).toEqual([
      [0, 0],
      [7, 1],
    ]);
    expect(measure(winding, courtOf(site, [loop(square)])).holds).toBe(true);
  });
});

describe("direction", () => {
  it("is measured where it is stated, and may be anticlockwise alone", () => {
    expect(measure(direction, courtOf(site, [loop(square)]))).toMatchObject({
      holds: null,
      note: "no direction is stated",
      unit: "count",
      bound: "at most",
    });
    const stated = (said: string | undefined) => loop(square, { direction: said });
    expect(
      measure(direction, courtOf(site, [stated("anticlockwise"), stated(undefined)])),
    ).toMatchObject({ holds: true, measured: 0, unit: "count", bound: "at most" });
    const found = measure(direction, courtOf(site, [stated("anticlockwise"), stated("clockwise")]));
    expect(found).toMatchObject({ holds: false, measured: 1, allowed: 0 });
    expect(found.said).toEqual([
      "Loop A is stated to run clockwise; wires are laid anticlockwise. Set direction to anticlockwise, and check that the line runs so.",
    ]);
    expect(found.breaches[0]!.atM).toEqual([0, 0]);
  });
});

describe("simple", () => {
  const places = (...rings: (readonly number[])[]) =>
    measure(
      simple,
      courtOf(
        site,
        rings.map((ring, i) => loop(ring, { name: "ABC"[i]! })),
      ),
    );

  it("a plain ring meets nothing", () => {
    expect(places(square)).toMatchObject({ holds: true, measured: 0, allowed: 0, unit: "count" });
    expect(places([0, 0, 4, 0, 2, 3]).holds).toBe(true);
  });

  it("a crossing is told where it is", () => {
    const found = places([0, 0, 10, 0, 0, 8, 10, 8]);
    expect(found).toMatchObject({ holds: false, measured: 1, bound: "at most" });
    expect(found.breaches[0]!.atM).toEqual([5, 4]);
    expect(found.said[0]).toBe(
      "Wire of loop A meets itself or another: a crossing turns the signal over, and the machine takes outside for inside. Draw the wire so that it crosses and touches nothing. Do not lay it as it is.",
    );
  });

  const slit = (gapM: number, depthM: number) => [
    ...[0, 0, 10, 0, 10, 10, 5 + gapM, 10],
    ...[5 + gapM, 10 - depthM, 5, 10 - depthM, 5, 10, 0, 10],
  ];

  it("wire within a millimetre of other wire touches it", () => {
    expect(places(slit(0.0011, 5)).holds).toBe(true);
    expect(places(slit(0.0009, 5)).measured).toBe(1);
  });

  it("bends of a pair may be nearer: 5 mm along the wire are one place", () => {
    expect(places(slit(0.0009, 0.0015)).holds).toBe(true);
    expect(places(slit(0.0009, 0.003)).holds).toBe(false);
  });

  it("wires of two loops touch too, however near their beginnings are", () => {
    expect(places(square, corners(10.0009, 0, 20, 10)).holds).toBe(false);
    expect(places(square, corners(10.0011, 0, 20, 10)).holds).toBe(true);
    expect(places(square, [9, 5, 12, 2, 12, 8]).measured).toBe(2);
  });

  /** A bump of 2 mm on the east side that turns back by an angle. */
  const bump = (deg: number, outM = 0.002) => {
    const a = ((180 - deg) * Math.PI) / 180;
    const [e, n] = [10 + outM - outM * Math.cos(a), 5 + outM * Math.sin(a)];
    return [0, 0, 10, 0, 10, 5, 10 + outM, 5, e, n, 10, 10, 0, 10];
  };

  it("wire that turns back on itself is a spike", () => {
    expect(places(bump(160))).toMatchObject({ holds: false, measured: 1 });
    expect(places(bump(160)).breaches[0]!.atM).toEqual([10.002, 5]);
    // Cosines of 153° and 155° are −0.891 and −0.906.
    expect(places(bump(155)).holds).toBe(false);
    expect(places(bump(153)).holds).toBe(true);
    // Sides of half a millimetre are rounding.
    expect(places(bump(160, 0.0005)).holds).toBe(true);
    // 2.5 mm at 156° leave the ways 2.5 sin 24° = 1.017 mm apart.
    expect(places(bump(156, 0.0025)).holds).toBe(true);
    expect(places(bump(156, 0.0024)).holds).toBe(false);
  });

  it("a long spike is a spike at its tip and touches at its foot", () => {
    const found = places([0, 0, 10, 0, 10, 5, 13, 5, 10, 5.0005, 10, 10, 0, 10]);
    expect(found.measured).toBe(2);
    expect(found.breaches.map(({ atM }) => atM![0]).sort((x, y) => x - y)).toEqual([10, 13]);
    expect(places([0, 0, 10, 0, 10, 5, 13, 5, 10, 5.01, 10, 10, 0, 10]).holds).toBe(true);
  });
});

describe("lengths", () => {
  const one = (stated: Parameters<typeof loop>[1]) =>
    measure(lengths, courtOf(site, [loop(square, stated)]));
  const line = Float64Array.of(1, 1, 4, 5);

  it("nothing stated, nothing measured", () => {
    expect(one({})).toMatchObject({ holds: null, note: "no length is stated", unit: "m" });
    expect(one({}).bound).toBe("at most");
  });

  it("wire within 1 mm and 2 ppm", () => {
    // 40 m: 1.08 mm.
    expect(one({ lengthM: 40 })).toMatchObject({ holds: true, measured: 0, unit: "m" });
    expect(one({ lengthM: 40 }).bound).toBe("at most");
    expect(one({ lengthM: 40.00107 }).holds).toBe(true);
    expect(one({ lengthM: 39.99893 }).holds).toBe(true);
    const found = one({ lengthM: 40.0011 });
    expect(found.holds).toBe(false);
    expect(found.measured).toBeCloseTo(0.0011, 9);
    expect(found.allowed).toBe(0.001);
    expect(one({ lengthM: 40.1 }).said).toEqual([
      "The wire of loop A is stated to be 40.100 m long; it is 40.000 m. Correct the length: wire is bought and cut by it.",
    ]);
    expect(one({ lengthM: 40.1 }).breaches[0]!.atM).toEqual([0, 0]);
    expect(one({ lengthM: Number.NaN })).toMatchObject({ holds: false, measured: null });
    expect(one({ lengthM: Number.NaN }).said[0]).toContain("stated to be no number long");
    // 10 km: 21 mm.
    const long = loop(corners(0, 0, 2500, 2500), { lengthM: 10_000.02 });
    expect(measure(lengths, courtOf(site, [long])).holds).toBe(true);
  });

  it("runs and guides as lines, exclusion loops as rings", () => {
    const run = (lengthM: number) => ({
      pairedRuns: [{ line, from: "boundary", to: "Bed", lengthM }],
    });
    expect(one(run(5)).holds).toBe(true);
    expect(one(run(5.002)).said[0]).toContain(
      "The paired run from boundary to Bed is stated to be 5.002 m long; it is 5.000 m.",
    );
    const guide = (lengthM: number) => ({ guideWires: [{ line, lengthM, clearanceM: undefined }] });
    expect(one(guide(5)).holds).toBe(true);
    expect(one(guide(10)).said[0]).toContain("The guide wire of loop A is stated");
    const ring = Float64Array.of(0, 0, 3, 0, 3, 4);
    const island = (lengthM: number) => ({ exclusionLoops: [{ ring, name: "Bed", lengthM }] });
    expect(one(island(12)).holds).toBe(true);
    expect(one(island(7)).said[0]).toContain("The exclusion loop Bed is stated to be 7.000 m");
  });

  it("the greatest error is shown", () => {
    const loops = [0.5, 0.25].map((more) => loop(square, { lengthM: 40 + more }));
    expect(measure(lengths, courtOf(site, loops))).toMatchObject({ measured: 0.5 });
    expect(measure(lengths, courtOf(site, loops)).breaches).toHaveLength(2);
  });
});

describe("limits of a loop", () => {
  it("250 m of wire and no more", () => {
    const of = (lengthM: number) =>
      measure(loopLength, courtOf(site, [loop(corners(0, 0, 1, lengthM / 2 - 1))]));
    expect(of(250)).toMatchObject({ holds: true, measured: 250, allowed: 250, unit: "m" });
    expect(of(250).bound).toBe("at most");
    expect(of(251).said).toEqual([
      "Loop A has 251.0 m of wire; at most 250 m are allowed. Divide the lawn between several loops, or take a larger machine.",
    ]);
    expect(of(251)).toMatchObject({ holds: false, measured: 251 });
    expect(of(251).breaches[0]!.atM).toEqual([0, 0]);
    expect(measure(loopLength, courtOf(site, []))).toMatchObject({ measured: 0, holds: true });
  });

  it("1000 m² of lawn and no more: what the wire goes round, less what is no lawn", () => {
    const of = (area: number, lawns = [box(-100, -100, 100, 100)]) =>
      measure(loopArea, courtOf(siteOf(lawns), [loop(corners(0, 0, 50, area / 50))]));
    expect(of(1000)).toMatchObject({ holds: true, measured: 1000, allowed: 1000, unit: "m²" });
    expect(of(1000).bound).toBe("at most");
    const over = of(1100);
    expect(over.holds).toBe(false);
    expect(over.measured).toBeCloseTo(1100, 6);
    expect(over.said).toEqual([
      "Loop A holds 1100.0 m² of lawn; at most 1000 m² are allowed. Divide the lawn between several loops, or take a larger machine.",
    ]);
    expect(over.breaches[0]!.atM).toEqual([0, 0]);
    // 10 m of 22 m height are lawn: 500 m².
    const half = of(1100, [box(-100, -100, 100, 10)]);
    expect(half.holds).toBe(true);
    expect(half.measured).toBeCloseTo(500, 6);
  });
});

describe("verdicts", () => {
  const passage = (said: Partial<StatedPassage>): StatedPassage => ({
    number: "1",
    centreLine: Float64Array.of(3, 4, 5, 6),
    widthM: undefined,
    wireWidthM: undefined,
    verdict: undefined,
    ...said,
  });
  const of = (...passages: Partial<StatedPassage>[]) =>
    measure(verdicts, courtOf(site, [loop(square)], { passages: passages.map(passage) }));

  it("no passages stated, nothing measured", () => {
    expect(measure(verdicts, courtOf(site, [loop(square)]))).toMatchObject({
      holds: null,
      note: "the plan states no passages",
      unit: "count",
      bound: "at most",
    });
  });

  // The machine drives through 0.60 m and mows from 1.20 m.
  it.each([
    [0.5, "shut", true],
    [0.5, "drive", false],
    [0.5, "mow", false],
    [0.6005, "shut", true],
    [0.5995, "drive", true],
    [0.602, "shut", false],
    [0.598, "drive", false],
    [0.7, "drive", true],
    [0.7, "mow", false],
    [1.1995, "mow", true],
    [1.198, "mow", false],
    [1.2005, "drive", true],
    [1.202, "drive", false],
    [1.3, "mow", true],
  ])("%d m between the wires is %s: %s", (wireWidthM, verdict, holds) => {
    expect(of({ wireWidthM, verdict })).toMatchObject({ holds, measured: holds ? 0 : 1 });
  });

  it("says which is wrong and what it should be", () => {
    const found = of({ wireWidthM: 0.7, verdict: "drive" }, { wireWidthM: 0.5, verdict: "mow" });
    expect(found.said).toEqual([
      "Passage 1 is called mow; with 0.50 m between the wires it is shut. Correct its verdict, or measure it again.",
    ]);
    expect(found.breaches[0]!.atM).toEqual([3, 4]);
    expect(found).toMatchObject({ unit: "count", bound: "at most", allowed: 0 });
  });

  it("wires lie inside the edges", () => {
    expect(of({ widthM: 1, wireWidthM: 1.0009 }).holds).toBe(true);
    expect(of({ widthM: 1, wireWidthM: 1.0011 }).said).toEqual([
      "Passage 1 is stated 1.00 m wide between the wires and 1.00 m from edge to edge: wires lie inside the edges. Measure it again.",
    ]);
    expect(of({ widthM: 1, wireWidthM: 1.0011 }).breaches[0]!.atM).toEqual([3, 4]);
    expect(of({ widthM: 1 }, { wireWidthM: 3 }, { verdict: "mow" }).holds).toBe(true);
  });
});
