/** Rules that hold the wire against the ground: set-in, on the lawn, clear of firm things, islands. */
import { describe, expect, it } from "vitest";
import { exclusionLoops } from "../../../src/check/rules/exclusion-loops.ts";
import { firmClear } from "../../../src/check/rules/firm-clear.ts";
import { mownArea } from "../../../src/check/rules/mown-area.ts";
import { onLawn } from "../../../src/check/rules/on-lawn.ts";
import { setIn } from "../../../src/check/rules/set-in.ts";
import { ringDirection, shutOut } from "../../../src/check/rules/shut-out.ts";
import type { StatedLoop } from "../../../src/check/stated/stated-plan.ts";
import type { AreaM } from "../../../src/model/geometry.ts";
import type { Site, Thing } from "../../../src/model/site.ts";
import { box, siteOf, thingOf } from "../../plan/shapes.ts";
import { corners, courtOf, loop, MACHINE, measure, turned } from "./scene.ts";

const lawn = box(0, 0, 20, 10);
const site = (things: readonly Thing[] = [], lawns: readonly AreaM[] = [lawn]): Site =>
  siteOf(lawns, { things });
const court = (wire: readonly number[], where: Site = site(), said: Partial<StatedLoop> = {}) =>
  courtOf(where, [loop(wire, said)]);
/** The wire at its set-in on all sides but the south. */
const south = (m: number) => corners(0.3, m, 19.7, 9.7);

describe("set-in", () => {
  it("is held to 10 mm", () => {
    const holds = measure(setIn, court(south(0.3)));
    expect(holds).toMatchObject({ holds: true, allowed: -0.01, unit: "m", bound: "at least" });
    expect(holds.measured).toBeCloseTo(0, 12);
    expect(measure(setIn, court(south(0.2901))).holds).toBe(true);
    const found = measure(setIn, court(south(0.28)));
    expect(found.holds).toBe(false);
    expect(found.measured).toBeCloseTo(-0.02, 12);
    expect(found.said[0]).toBe(
      "Wire of loop A lies 0.280 m from the lawn's edge (open), where 0.30 m are asked. Move it 0.02 m further in.",
    );
    expect(found.breaches[0]!.atM![1]).toBeCloseTo(0.28, 12);
    expect(measure(setIn, court(south(0.2899))).holds).toBe(false);
  });

  it("is that of the nearest edge; 0.10 m more than asked are not shown", () => {
    expect(measure(setIn, court(corners(0.35, 0.36, 19.6, 9.6))).measured).toBeCloseTo(0.05, 9);
    expect(measure(setIn, court(corners(0.41, 0.41, 19.5, 9.5)))).toMatchObject({
      holds: null,
      note: "no wire comes near an edge that asks for a distance",
      unit: "m",
      bound: "at least",
    });
    expect(measure(setIn, court(corners(0.39, 5, 19.5, 9.5))).measured).toBeCloseTo(0.09, 9);
  });

  it("is asked of spans, not of vertices alone", () => {
    // A post-like notch reaches up between two vertices.
    const notched: AreaM = {
      shell: Float64Array.of(0, 0, 9, 0, 10, 0.2, 11, 0, 20, 0, 20, 10, 0, 10),
      holes: [],
    };
    const found = measure(setIn, court(south(0.3), site([], [notched])));
    expect(found.measured).toBeCloseTo(0.1 - 0.3, 9);
    expect(found.breaches[0]!.atM![0]).toBeCloseTo(10, 9);
  });

  it("is asked on the lawn's side of an edge alone", () => {
    // Two lawns 0.5 m apart: the wire of the one lies 0.4 m outside the other, which is nothing to it.
    const two = site([], [box(0, 0, 20, 10), box(0, 10.1, 20, 20)]);
    expect(measure(setIn, court(corners(0.3, 10.4, 19.7, 19.7), two)).measured).toBeCloseTo(0, 9);
    // Past the end of an edge its side says nothing: the corner of a neighbour's lawn.
    const corner = site([], [box(0, 0, 20, 10), box(-5, 10.05, -0.05, 15)]);
    expect(measure(setIn, court(corners(0.3, 0.3, 19.7, 9.7), corner)).holds).toBe(true);
    expect(measure(setIn, court(corners(0.3, 0.3, 19.7, 9.95), corner)).holds).toBe(false);
  });

  it("a bed inside asks for its own from all round", () => {
    const bed = [thingOf("Bed", box(8, 4, 10, 6), { setinM: 0.5 })];
    // Round the bed at 0.5 m, joined to the south by a pair.
    const ring = (m: number) => [
      ...[0.3, 0.3, 8.995, 0.3, 8.995, 4 - m, 8 - m, 4 - m, 8 - m, 6 + m, 10 + m, 6 + m],
      ...[10 + m, 4 - m, 9.005, 4 - m, 9.005, 0.3, 19.7, 0.3, 19.7, 9.7, 0.3, 9.7],
    ];
    expect(measure(setIn, court(ring(0.5), site(bed))).holds).toBe(true);
    const found = measure(setIn, court(ring(0.45), site(bed)));
    expect(found.holds).toBe(false);
    expect(found.measured).toBeCloseTo(-0.05, 9);
    expect(found.said[0]).toContain("from Bed, where 0.50 m are asked");
  });

  it("water asks wherever the wire lies, on either side", () => {
    const pond = [thingOf("Pond", box(5, 10.5, 8, 12), { edgeKind: "water" })];
    // 0.8 m from the water, which is not at the lawn's edge.
    const found = measure(setIn, court(corners(0.3, 0.3, 19.7, 9.7), site(pond)));
    expect(found.holds).toBe(false);
    expect(found.measured).toBeCloseTo(-0.2, 9);
    const drop = siteOf([lawn], {
      edgeLines: [{ kind: "drop", line: Float64Array.of(5, 5, 8, 5), source: {} }],
    });
    expect(
      measure(setIn, court([0.3, 0.3, 19.7, 0.3, 19.7, 5.5, 0.3, 5.5], drop)).measured,
    ).toBeCloseTo(-0.5, 9);
  });

  it("wire that crosses flush paving is not asked by its edge near the crossing", () => {
    // Paving between two lawns asks for 0.1 m along it: three set-ins from the crossing, or at 17°.
    const path = thingOf("Path", box(9, 0, 11, 10), { contact: "flush", edgeKind: "flush" });
    const two = site([path], [box(0, 0, 9, 10), box(11, 0, 20, 10)]);
    expect(measure(setIn, court(corners(0.3, 0.3, 19.7, 9.7), two)).holds).toBe(true);
    // It runs 0.05 m beside the path for 2 m before it crosses.
    const creeping = [0.3, 0.3, 8.95, 0.3, 8.95, 2.3, 19.7, 2.3, 19.7, 9.7, 0.3, 9.7];
    const found = measure(setIn, court(creeping, two));
    expect(found.holds).toBe(false);
    expect(found.measured).toBeCloseTo(-0.05, 9);
    // For 0.25 m it may.
    const near = [0.3, 0.3, 8.95, 0.3, 8.95, 0.55, 19.7, 0.55, 19.7, 9.7, 0.3, 9.7];
    expect(measure(setIn, court(near, two)).holds).toBe(true);
  });

  it("runs to parts that the machine is carried to keep 20 mm", () => {
    const of = (m: number, to?: string) => {
      const out = [5, 0.3, 5, m, 15, m, 15, 0.3];
      const run = { line: Float64Array.from(out), from: "boundary", to: to!, lengthM: undefined };
      const wire = [0.3, 0.3, ...out, 19.7, 0.3, 19.7, 9.7, 0.3, 9.7];
      return measure(setIn, court(wire, site(), to ? { pairedRuns: [run] } : {})).holds;
    };
    expect(of(0.011, "part")).toBe(true);
    expect(of(0.009, "part")).toBe(false);
    expect(of(0.2)).toBe(false);
    expect(of(0.2, "Bed")).toBe(false);
  });
});

describe("on the lawn", () => {
  it("all of it", () => {
    expect(measure(onLawn, court(south(0.3)))).toMatchObject({
      holds: true,
      measured: 0,
      allowed: 0,
      unit: "m",
      bound: "at most",
    });
  });

  it("metres off it, with the middle of the worst", () => {
    const bump = (out: number) => [
      ...[0.3, 0.3, 9, 0.3, 9, -out, 11, -out, 11, 0.3, 19.7, 0.3, 19.7, 9.7, 0.3, 9.7],
    ];
    const found = measure(onLawn, court(bump(1)));
    expect(found.holds).toBe(false);
    expect(found.measured).toBeCloseTo(4, 9);
    expect(found.said).toEqual([
      "Wire of loop A is off the lawn for 4.00 m. Move it onto the lawn.",
    ]);
    expect(found.breaches[0]!.atM).toEqual([10, -1]);
    // A tip of 0.9 mm out and back is rounding: 1.8 mm.
    const tip = (m: number) => [0.3, 0.3, 10, -m, 10.0001, 0.3, 19.7, 0.3, 19.7, 9.7, 0.3, 9.7];
    expect(measure(onLawn, court(tip(0.00001))).holds).toBe(true);
    expect(measure(onLawn, court(tip(0.01))).holds).toBe(false);
  });

  it("the seam of the loop is none: off at its beginning is off once", () => {
    const wire = [10, -1, 11, -1, 11, 0.3, 19.7, 0.3, 19.7, 9.7, 0.3, 9.7, 0.3, 0.3, 9, 0.3, 9, -1];
    const found = measure(onLawn, court(wire));
    expect(found.measured).toBeCloseTo(4, 9);
    expect(found.said).toHaveLength(1);
    expect(found.breaches[0]!.atM![0]).toBeCloseTo(10, 9);
  });

  it("a loop wholly beside the lawn is off it as a whole, one wholly on it is not", () => {
    expect(measure(onLawn, court(corners(30, 0, 34, 3))).measured).toBeCloseTo(14, 9);
    expect(measure(onLawn, court(corners(3, 3, 4, 4))).measured).toBe(0);
  });

  it("it may cross flush paving, and a digitising gap of 0.20 m beside it", () => {
    const path = (fromE: number, toE: number) =>
      thingOf("Path", box(fromE, -1, toE, 11), { contact: "flush", edgeKind: "flush" });
    const two = (gapM: number, things: Thing[]) =>
      site(things, [box(0, 0, 9 - gapM, 10), box(11 + gapM, 0, 20, 10)]);
    expect(measure(onLawn, court(south(0.3), two(0, [path(9, 11)]))).holds).toBe(true);
    expect(measure(onLawn, court(south(0.3), two(0.19, [path(9, 11)]))).holds).toBe(true);
    expect(measure(onLawn, court(south(0.3), two(0.21, [path(9, 11)]))).measured).toBeCloseTo(
      0.84,
      9,
    );
    // A gap beside something else, or one that is a bed, is off the lawn.
    expect(measure(onLawn, court(south(0.3), two(-0.9, []))).measured).toBeCloseTo(0.4, 9);
    const bed = thingOf("Bed", box(8.9, -1, 9, 11));
    expect(measure(onLawn, court(south(0.3), two(0, [path(9, 11), bed]))).measured).toBeCloseTo(
      0.2,
      9,
    );
  });

  it("across a bed or a house it is off it", () => {
    for (const contact of ["loop", "firm"] as const) {
      const thing = thingOf("T", box(5, -1, 8, 2), { contact });
      expect(measure(onLawn, court(south(0.3), site([thing]))).measured).toBeCloseTo(3, 9);
    }
  });
});

describe("firm things inside the wire", () => {
  const house = (area: AreaM, more: Partial<Thing> = {}) =>
    thingOf("House", area, { contact: "firm", edgeKind: "wall", ...more });

  it("20 mm from the wire", () => {
    const of = (gapM: number) =>
      measure(firmClear, court(south(0.3), site([house(box(5, 0.3 + gapM, 8, 4))])));
    expect(of(0.021)).toMatchObject({ holds: true, allowed: 0.02, unit: "m", bound: "at least" });
    expect(of(0.021).measured).toBeCloseTo(0.021, 9);
    expect(of(0.019).holds).toBe(false);
    expect(of(0.019).said).toHaveLength(2);
    expect(of(0.01).said[0]).toBe(
      "Wire lies 0.010 m from House, which is firm and stands inside it. Lead the wire round it, at its set-in.",
    );
    expect(of(0.01).breaches[0]!.atM![1]).toBe(0.3);
    expect(of(1.99).measured).toBeCloseTo(1.99, 9);
  });

  it("is not measured where none is near, outside the wire, or no firm thing", () => {
    const note = "no firm thing inside the wire within 2 m of it";
    for (const thing of [
      house(box(9, 4, 11, 6)),
      house(box(5, -1, 8, 0.29)),
      thingOf("Bed", box(5, 0.31, 8, 4)),
      house(box(5, 0.31, 8, 4), { contact: "flush" }),
    ]) {
      expect(measure(firmClear, court(south(0.3), site([thing])))).toMatchObject({
        holds: null,
        note,
        unit: "m",
        bound: "at least",
      });
    }
  });
});

/** A bed at (8,4)–(10,6), the wire round it at 0.3 m, joined to the south edge by a pair of 10 mm. */
const RINGED = [
  ...[0.3, 0.3, 8.995, 0.3, 8.995, 3.7, 7.7, 3.7, 7.7, 6.3, 10.3, 6.3],
  ...[10.3, 3.7, 9.005, 3.7, 9.005, 0.3, 19.7, 0.3, 19.7, 9.7, 0.3, 9.7],
];
/** The same, with the ring laid the other way: the two wires cross at its foot. */
const CROSSED = [
  ...[0.3, 0.3, 8.995, 0.3, 8.995, 3.7, 10.3, 3.7, 10.3, 6.3, 7.7, 6.3],
  ...[7.7, 3.7, 9.005, 3.7, 9.005, 0.3, 19.7, 0.3, 19.7, 9.7, 0.3, 9.7],
];
const bed = thingOf("Roses", box(8, 4, 10, 6));

describe("things to shut out", () => {
  it("lie outside the wire", () => {
    expect(measure(shutOut, court(RINGED, site([bed])))).toMatchObject({
      holds: true,
      measured: 0,
      allowed: 0,
      unit: "count",
      bound: "at most",
    });
    const found = measure(shutOut, court(south(0.3), site([bed])));
    expect(found).toMatchObject({ holds: false, measured: 1 });
    expect(found.said).toEqual([
      "Roses (bed) lies inside the wire: the machine would drive onto it. Lead the wire out to it, once clockwise round it, and back beside itself.",
    ]);
    expect(found.breaches[0]!.atM).toEqual([8, 4]);
  });

  it("firm and flush things may lie inside", () => {
    const things = [
      thingOf("House", box(2, 2, 3, 3), { contact: "firm" }),
      thingOf("Path", box(5, 2, 6, 3), { contact: "flush" }),
    ];
    expect(measure(shutOut, court(south(0.3), site(things))).measured).toBe(0);
  });

  it("every area of a thing counts", () => {
    const two = { ...bed, areas: [...bed.areas, box(14, 4, 15, 5)] };
    expect(measure(shutOut, court(RINGED, site([two]))).measured).toBe(1);
  });

  it("a ring the wrong way round adds a turn", () => {
    expect(measure(ringDirection, court(RINGED, site([bed])))).toMatchObject({
      holds: true,
      measured: 0,
      allowed: 0,
      unit: "count",
      bound: "at most",
    });
    expect(measure(ringDirection, court(south(0.3), site([bed]))).holds).toBe(true);
    const found = measure(ringDirection, court(CROSSED, site([bed])));
    expect(found).toMatchObject({ holds: false, measured: 1 });
    expect(found.said).toEqual([
      "The wire goes 2 times round Roses: its ring runs the wrong way. Lay the ring round it clockwise, out and back without crossing the pair.",
    ]);
    expect(found.breaches[0]!.atM).toEqual([8, 4]);
  });
});

describe("stated exclusion loops", () => {
  const ring = (m: number) => Float64Array.from(corners(8 - m, 4 - m, 10 + m, 6 + m));
  const of = (wire: readonly number[], ...rings: Float64Array[]) =>
    measure(
      exclusionLoops,
      court(wire, site([bed]), {
        exclusionLoops: rings.map((one) => ({ ring: one, name: "Roses", lengthM: undefined })),
      }),
    );

  it("are not measured where none is stated", () => {
    for (const found of [of(RINGED), measure(exclusionLoops, court(RINGED))]) {
      expect(found).toMatchObject({
        holds: null,
        note: "no exclusion loops are stated",
        unit: "m",
        bound: "at most",
      });
    }
  });

  it("lie within 10 mm of the wire", () => {
    expect(of(RINGED, ring(0.3))).toMatchObject({ holds: true, allowed: 0.01, unit: "m" });
    expect(of(RINGED, ring(0.3)).bound).toBe("at most");
    expect(of(RINGED, ring(0.3)).measured).toBeCloseTo(0, 9);
    // A corner moved out by 6.5 mm both ways lies 9.2 mm off.
    expect(of(RINGED, ring(0.3065)).holds).toBe(true);
    expect(of(RINGED, ring(0.3075)).holds).toBe(false);
    const found = of(RINGED, ring(0.6));
    expect(found.measured).toBeCloseTo(0.3 * Math.SQRT2, 9);
    expect(found.said[0]).toBe(
      "The exclusion loop Roses is stated 0.424 m from where the wire lies. Lead the wire along it, or correct the ring.",
    );
    expect(of(RINGED, Float64Array.from(corners(50, 0, 51, 1))).measured).toBe(10);
  });

  it("are not inside the wire, however their rings are wound", () => {
    for (const one of [ring(0.3), Float64Array.from(turned([...ring(0.3)]))]) {
      const found = of(CROSSED, one);
      expect(found.holds).toBe(false);
      expect(found.said).toEqual([
        "What the exclusion loop Roses shuts out lies inside the wire. Lead the wire round it clockwise.",
      ]);
      expect(of(RINGED, one).holds).toBe(true);
    }
    // 30 mm inside the middle of the longest side.
    const long = Float64Array.of(7.7, 3.7, 10.3, 3.7, 10.3, 6.3, 7.7, 6.3);
    expect(of(CROSSED, long).breaches[0]!.atM![1]).toBeCloseTo(3.73, 9);
  });
});

describe("stated mown areas", () => {
  const of = (
    areas: readonly (readonly [string, number])[] | undefined,
    wire: readonly number[] = south(0.3),
    where = site(),
    machine = MACHINE,
  ) =>
    measure(
      mownArea,
      courtOf(where, [loop(wire)], {
        machine,
        mown: areas?.map(([name, areaM2]) => ({ loop: name, areaM2 })),
      }),
    );
  // 19.4 × 9.4 m, 57.6 m round: 10 cm² and 28.8 cm² are let pass.
  const TRUE_M2 = 182.36;

  it("are the lawn inside the wire", () => {
    expect(of([["A", TRUE_M2]])).toMatchObject({ holds: true, unit: "m²", bound: "at most" });
    expect(of([["A", TRUE_M2]]).allowed).toBeCloseTo(0.00388, 9);
    expect(of([["A", TRUE_M2 + 0.0038]]).holds).toBe(true);
    expect(of([["A", TRUE_M2 - 0.0038]]).holds).toBe(true);
    expect(of([["A", TRUE_M2 + 0.004]]).holds).toBe(false);
    expect(of([["A", TRUE_M2 - 0.004]]).holds).toBe(false);
    expect(of([["A", 180]]).said).toEqual([
      "Loop A is stated to mow 180.00 m²; its wire goes round 182.36 m² of lawn. Correct the area, or the wire.",
    ]);
    expect(of([["A", 180]]).measured).toBeCloseTo(2.36, 6);
    expect(of([["A", 180]]).breaches[0]!.atM).toEqual([0.3, 0.3]);
  });

  it("are summed for each loop", () => {
    expect(
      of([
        ["A", 100],
        ["A", TRUE_M2 - 100],
        ["B", 7],
      ]).holds,
    ).toBe(true);
    expect(of([["B", TRUE_M2]]).measured).toBeCloseTo(TRUE_M2, 6);
  });

  it("are not measured where none is stated", () => {
    for (const none of [undefined, []]) {
      expect(of(none)).toMatchObject({
        holds: null,
        note: "no mown area is stated",
        unit: "m²",
        bound: "at most",
      });
    }
  });

  it("hold no bed, no path and nothing beside the lawn", () => {
    // The ring takes 2.6 × 2.6 m out; the pair's slit of 10 mm by 3.4 m is driven over.
    expect(of([["A", TRUE_M2 - 6.76]], RINGED, site([bed])).measured).toBeLessThan(0.001);
    const path = thingOf("Path", box(12, -1, 14, 11), { contact: "flush" });
    expect(of([["A", TRUE_M2 - 2 * 9.4]], south(0.3), site([path])).measured).toBeLessThan(1e-6);
    const house = thingOf("House", box(3, 3, 5, 4), { contact: "firm" });
    expect(of([["A", TRUE_M2 - 2]], south(0.3), site([house])).measured).toBeLessThan(1e-6);
    // Wire that reaches 1 m beyond the lawn on three sides.
    expect(of([["A", 20 * 9.7]], corners(-1, 0.3, 21, 11)).measured).toBeLessThan(1e-6);
    // Two lawns that share an edge, and two that overlap things of one outline.
    const halves = site([], [box(0, 0, 10, 10), box(10, 0, 20, 10)]);
    expect(of([["A", TRUE_M2]], south(0.3), halves).measured).toBeLessThan(0.004);
    const beds = site([thingOf("One", box(3, 3, 5, 4)), thingOf("Two", box(5, 3, 7, 4))]);
    expect(of([["A", TRUE_M2 - 4]], south(0.3), beds).measured).toBeLessThan(0.004);
    const same = site([thingOf("One", box(3, 3, 5, 4)), thingOf("Same", box(3, 3, 5, 4))]);
    expect(of([["A", TRUE_M2 - 2]], south(0.3), same).measured).toBeLessThan(0.004);
  });

  it("may be more by as much as the blades reach past the wire", () => {
    const past = { ...MACHINE, mowing: { pastWireM: 0.1 } };
    expect(of([["A", TRUE_M2]], south(0.3), site(), past).holds).toBe(true);
    // 0.1 m beside 57.6 m and eight corners' worth: 5.84 m².
    expect(of([["A", TRUE_M2 + 5.83]], south(0.3), site(), past).holds).toBe(true);
    expect(of([["A", TRUE_M2 + 5.85]], south(0.3), site(), past).holds).toBe(false);
    expect(of([["A", TRUE_M2 - 0.01]], south(0.3), site(), past).holds).toBe(false);
  });

  it("pairs turn within their gap: 0.02 m² a metre of gap at each bend of runs or peg of a pair", () => {
    const with_ = (said: Partial<StatedLoop>, areaM2: number) =>
      measure(
        mownArea,
        courtOf(site([bed]), [loop(RINGED, said)], { mown: [{ loop: "A", areaM2 }] }),
      ).holds;
    const is = TRUE_M2 - 6.76;
    // 57.6 + 10.4 + 6.8 m less the two mouths: 74.78 m of wire, so 4.739 cm²; two bends add 4 cm².
    const line = Float64Array.of(9, 0.3, 9, 3.7);
    const run = { pairedRuns: [{ line, from: "a", to: "b", lengthM: undefined }] };
    const at = { chainageM: undefined, secondChainageM: undefined, atM: [9, 2] as const };
    const pegs = (on: string) => ({
      pegs: [
        { ...at, number: "A1", on },
        { ...at, number: "A2", on },
      ],
    });
    expect(with_({}, is + 0.0046)).toBe(true);
    expect(with_({}, is + 0.0049)).toBe(false);
    expect(with_(run, is + 0.0049)).toBe(true);
    expect(with_(run, is + 0.0053)).toBe(false);
    expect(with_(pegs("pair"), is + 0.0049)).toBe(true);
    expect(with_(pegs("pair"), is + 0.0053)).toBe(false);
    expect(with_(pegs("bend"), is + 0.0049)).toBe(false);
  });
});
