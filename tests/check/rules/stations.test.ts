/** Rules of stations, guide wires and neighbouring loops. */
import { describe, expect, it } from "vitest";
import { guideWires } from "../../../src/check/rules/guide-wires.ts";
import { loopSpacing } from "../../../src/check/rules/loop-spacing.ts";
import { station, stationFront, stationStraight } from "../../../src/check/rules/station.ts";
import type { StatedLoop, StatedStation } from "../../../src/check/stated/stated-plan.ts";
import type { AreaM } from "../../../src/model/geometry.ts";
import type { Site, Thing } from "../../../src/model/site.ts";
import { box, siteOf, thingOf } from "../../plan/shapes.ts";
import { corners, courtOf, loop, MACHINE, measure } from "./scene.ts";

const site = siteOf([box(-50, -50, 50, 50)]);
/** 20 m by 10 m, begun in the middle of its south side. */
const FIELD = [10, 0, 20, 0, 20, 10, 0, 10, 0, 0];
const at = (e: number, n: number, said: Partial<StatedStation> = {}) => ({
  station: {
    atM: [e, n] as const,
    bearingDeg: undefined,
    given: undefined,
    straightM: undefined,
    ...said,
  },
});
const court = (wire: readonly number[], said: Partial<StatedLoop>, where: Site = site) =>
  courtOf(where, [loop(wire, said)]);

describe("the station", () => {
  const of = (e: number, n: number, said: Partial<StatedStation> = {}) =>
    measure(station, court(FIELD, at(e, n, said)));

  it.each([station, stationStraight, stationFront])("$id is not measured without one", (rule) => {
    expect(measure(rule, court(FIELD, {}))).toMatchObject({
      holds: null,
      note: "the plan has no station",
      unit: "m",
      bound: rule === station ? "at most" : "at least",
    });
  });

  it("stands where the wire begins, to a millimetre", () => {
    expect(of(10, 0)).toMatchObject({ holds: true, measured: 0, allowed: 0.001, unit: "m" });
    expect(of(10, 0).bound).toBe("at most");
    expect(of(10, 0.0009).holds).toBe(true);
    expect(of(10.0009, 0).measured).toBeCloseTo(0.0009, 9);
    expect(of(10, 0.0011).holds).toBe(false);
    expect(of(10.5, 0).said).toEqual([
      "The station of loop A stands 0.500 m from the beginning of its wire. Begin the wire at the station: lengths along it are measured from there.",
    ]);
    expect(of(10.5, 0).measured).toBe(0.5);
    expect(of(10.5, 0).breaches[0]!.atM).toEqual([10.5, 0]);
    // Only one thing is wrong with it.
    expect(of(10.5, 0, { bearingDeg: 0, straightM: 99 }).said).toHaveLength(1);
  });

  it("faces along the wire, to a degree", () => {
    const holds = (bearingDeg: number) => of(10, 0, { bearingDeg }).holds;
    expect([90, 89.1, 90.9, 450, -270, 89.01, 90.99].map(holds)).toEqual(Array(7).fill(true));
    expect([88.9, 91.1, 270, 0, 180].map(holds)).toEqual(Array(5).fill(false));
    expect(of(10, 0, { bearingDeg: 180 }).said).toEqual([
      "The station of loop A is stated to face 180.0°; the wire leaves it at 90.0°. Turn the station along the wire.",
    ]);
    expect(of(10, 0, { bearingDeg: 180 }).breaches[0]!.atM).toEqual([10, 0]);
    // North, by way of 360°; and south-west.
    const north = measure(
      station,
      court([5, 0, 5, 9, 0, 9, 0, 0], at(5, 0, { bearingDeg: 359.5 })),
    );
    expect(north.holds).toBe(true);
    const west = measure(station, court([5, 5, 0, 0, 9, 0, 9, 5], at(5, 5, { bearingDeg: 1 })));
    expect(west.said[0]).toContain("the wire leaves it at 225.0°");
  });

  it("has the straight wire on each side that is stated, 11 mm less at most", () => {
    expect(of(10, 0, { straightM: 10 }).holds).toBe(true);
    expect(of(10, 0, { straightM: 10.0109 }).holds).toBe(true);
    expect(of(10, 0, { straightM: 10.0111 }).holds).toBe(false);
    expect(of(10, 0, { straightM: 12 }).said).toEqual([
      "The station of loop A is stated to have 12.00 m of straight wire on each side; it has 10.00 m. Correct the figure, or move the station.",
    ]);
    expect(of(10, 0, { straightM: 12 }).breaches[0]!.atM).toEqual([10, 0]);
  });
});

describe("straight wire at the station", () => {
  const straight = (wire: readonly number[], said = {}) =>
    measure(stationStraight, court(wire, at(wire[0]!, wire[1]!, said)));

  it("is that of the shorter side, over all pegs in a row", () => {
    expect(straight(FIELD)).toMatchObject({ holds: true, measured: 10, allowed: 1.5, unit: "m" });
    expect(straight(FIELD).bound).toBe("at least");
    // Pegs every few metres; 6 m one way, 10 m the other.
    const pegged = [10, 0, 12, 0, 15, 0, 16, 0, 16, 10, 0, 10, 0, 0, 4, 0, 9, 0];
    expect(straight(pegged).measured).toBe(6);
    const other = [14, 0, 20, 0, 20, 10, 9, 10, 9, 0, 12, 0];
    expect(straight(other).measured).toBe(5);
  });

  it("pegs 2 mm and 1 mm a metre off the line are on it", () => {
    const off = (m: number) => [10, 0, 11, m, 20, 0, 20, 10, 0, 10, 0, 0];
    // The line is that of the first metre; at 20 m, 10 m along, 12 mm are let pass.
    expect(straight(off(0.0011)).measured).toBeCloseTo(10, 4);
    expect(straight(off(0.0015)).measured).toBe(0);
    // Back over itself is not on.
    expect(straight([10, 0, 12, 0, 11, 0.0005, 11, 9, 0, 9, 0, 0]).measured).toBeCloseTo(2, 6);
  });

  const CORNER = [0, 0, 20, 0, 20, 10, 0, 10];
  it("is asked where the loop has a place with it and with a clear front", () => {
    const found = straight(CORNER);
    expect(found).toMatchObject({ holds: false, measured: 0 });
    expect(found.note).toBeUndefined();
    expect(found.said).toEqual([
      "The station of loop A has 0.00 m of straight wire on each side; 1.50 m are wanted, and the loop has a place with them. Move the station along the wire to a straight run with open lawn in front.",
    ]);
    expect(found.breaches[0]!.atM).toEqual([0, 0]);
    expect(straight(CORNER, { given: true })).toMatchObject({
      holds: true,
      note: "nothing asked of 1 that the user placed or whose loop has no better place",
    });
    expect(straight(CORNER, { given: false }).holds).toBe(false);
  });

  it("a run of twice the straight wire and a peg's span is such a place, a shorter one none", () => {
    // 2 × 1.5 + 1 m, and 2 m of depth.
    expect(straight(corners(0, 0, 4, 3.9)).holds).toBe(false);
    expect(straight(corners(0, 0, 3.99, 3.9)).holds).toBe(true);
    expect(straight(corners(0, 0, 30, 1.97)).holds).toBe(true);
    expect(straight(corners(0, 0, 30, 2.01)).holds).toBe(false);
  });

  it("11 mm less are straight enough", () => {
    const of = (m: number) => straight([m, 0, 20, 0, 20, 10, 0, 10, 0, 0]);
    expect(of(1.4895).holds).toBe(true);
    expect(of(1.4885).holds).toBe(false);
  });
});

describe("the front of the station", () => {
  const front = (wire: readonly number[], things: readonly Thing[] = [], said = {}) =>
    measure(
      stationFront,
      court(wire, at(wire[0]!, wire[1]!, said), siteOf([box(-50, -50, 50, 50)], { things })),
    );
  const post = (area: AreaM) => thingOf("Post", area, { contact: "firm" });

  it("is clear for the depth that is wanted", () => {
    expect(front(FIELD)).toMatchObject({ holds: true, measured: 2, allowed: 2, unit: "m" });
    expect(front(FIELD).bound).toBe("at least");
    // A lawn 1.5 m deep has no better place.
    const shallow = [10, 0, 20, 0, 20, 1.5, 0, 1.5, 0, 0];
    expect(front(shallow).measured).toBeCloseTo(1.5, 9);
    expect(front(shallow).holds).toBe(true);
    expect(front(shallow).note).toContain("nothing asked of 1");
  });

  it("is as wide as the straight wire and not wider", () => {
    const found = front(FIELD, [post(box(9, 1, 10.5, 1.2))]);
    expect(found.holds).toBe(false);
    expect(found.measured).toBeCloseTo(1, 9);
    expect(found.said[0]).toBe(
      "The lawn in front of the station of loop A is clear for 1.00 m; 2.00 m are wanted, and the loop has a place with them. Move the station along the wire to a straight run with open lawn in front.",
    );
    // 1.5 m to each side, less the 2 cm in which the wire itself lies.
    expect(front(FIELD, [post(box(11.49, 1, 12, 1.2))]).holds).toBe(true);
    expect(front(FIELD, [post(box(11.47, 1, 12, 1.2))]).holds).toBe(false);
    expect(front(FIELD, [post(box(8, 1, 8.51, 1.2))]).holds).toBe(true);
    expect(front(FIELD, [post(box(8, 1, 8.53, 1.2))]).holds).toBe(false);
    expect(front(FIELD, [post(box(9, 2.001, 11, 2.2))]).holds).toBe(true);
    expect(front(FIELD, [post(box(9, 1.98, 11, 2.2))]).holds).toBe(false);
  });

  it("a wall across at a slant counts where it is nearest within the width", () => {
    // From (8, 0.5) to (13, 3): at 8.52 its depth is 0.76.
    const slant: AreaM = { shell: Float64Array.of(8, 0.5, 13, 3, 12.9, 3.1), holes: [] };
    expect(front(FIELD, [post(slant)]).measured).toBeCloseTo(0.5 + 0.52 / 2, 6);
  });

  it("wire of a pair in front is driven over", () => {
    // A slit from the top to 1 m above the station.
    const slit = [10, 0, 20, 0, 20, 10, 10.005, 10, 10.005, 1, 9.995, 1, 9.995, 10, 0, 10, 0, 0];
    // The two wires of the pair do not count, the short one at its end does.
    expect(front(slit).measured).toBeCloseTo(1, 9);
    const aside = [10, 0, 20, 0, 20, 10, 10.005, 10, 10.005, 3, 9.995, 3, 9.995, 10, 0, 10, 0, 0];
    expect(front(aside).holds).toBe(true);
    const across = [...[10, 0, 20, 0, 20, 1, 9, 1, 9, 1.01, 20, 1.01, 20, 10, 0, 10, 0, 0]];
    expect(front(across).measured).toBeCloseTo(1, 2);
  });

  it("wire behind the station does not count", () => {
    const tail = [10, 0, 20, 0, 20, -1, 21, -1, 21, 10, 0, 10, 0, 0];
    expect(front(tail).holds).toBe(true);
  });
});

describe("guide wires", () => {
  const guide = (line: readonly number[], clearanceM?: number, where: Site = site) =>
    measure(
      guideWires,
      court(
        FIELD,
        { guideWires: [{ line: Float64Array.from(line), lengthM: undefined, clearanceM }] },
        where,
      ),
    );

  it("are measured where there are any", () => {
    expect(measure(guideWires, court(FIELD, {}))).toMatchObject({
      holds: null,
      note: "the plan has no guide wire",
      unit: "m",
      bound: "at least",
    });
    expect(guide([10, 0, 10, 10])).toMatchObject({ holds: true, unit: "m", allowed: -0.001 });
    expect(guide([10, 0, 10, 10]).bound).toBe("at least");
  });

  it("begin and end on the wire, within 10 mm", () => {
    expect(guide([10, 0.0099, 10, 9.9901]).holds).toBe(true);
    const late = guide([10, 0.0101, 10, 10]);
    expect(late.said[0]).toBe(
      "The guide wire of loop A begins 0.010 m from the wire. Lead it to the station and to the boundary wire.",
    );
    expect(late.breaches[0]!.atM).toEqual([10, 0.0101]);
    const short = guide([10, 0, 10, 9]);
    expect(short.said[0]).toContain("The guide wire of loop A ends 1.000 m from the wire.");
    expect(short.breaches[0]!.atM).toEqual([10, 9]);
    expect(guide([10, 0, 300, 500]).said[0]).toContain("ends 100.000 m");
  });

  it("keep the clearance that they state, but at their ends", () => {
    // In the middle 0.5 m from the west side, 9.5 m long.
    const beside = [10, 0, 0.5, 3, 0.5, 7, 10, 10];
    expect(guide(beside, 0.5).holds).toBe(true);
    expect(guide(beside, 0.5).measured).toBeCloseTo(0, 9);
    expect(guide(beside, 0.5009).holds).toBe(true);
    const found = guide(beside, 0.6);
    expect(found.holds).toBe(false);
    expect(found.measured).toBeCloseTo(-0.1, 9);
    expect(found.said[0]).toBe(
      "The guide wire of loop A is stated to keep 0.600 m; it keeps 0.500 m. Lead it clear of all other wire and of firm things.",
    );
    expect(found.breaches[0]!.atM![0]).toBeCloseTo(0.5, 9);
    expect(guide(beside, 0.502).holds).toBe(false);
    // Farther than 5 cm over it is not told.
    expect(guide(beside, 0.3).measured).toBeCloseTo(0.05, 9);
    expect(guide(beside).holds).toBe(true);
  });

  it("cross nothing", () => {
    const house = siteOf([box(-50, -50, 50, 50)], {
      things: [thingOf("House", box(9, 4, 11, 6), { contact: "firm" })],
    });
    const found = guide([10, 0, 10, 10], undefined, house);
    expect(found.holds).toBe(false);
    expect(found.said[0]).toContain("The guide wire of loop A crosses other wire or a firm thing.");
    expect(guide([10, 0, 12, 5, 10, 10], 0.5, house).holds).toBe(true);
    const out = guide([10, 0, 15, -3, 15, 12, 10, 10]);
    expect(out.said[0]).toContain("crosses other wire");
  });
});

describe("neighbouring loops", () => {
  const of = (apartM: number, where: Site = site, machine = MACHINE) =>
    measure(
      loopSpacing,
      courtOf(
        where,
        [loop(corners(0, 0, 10, 10)), loop(corners(10 + apartM, 0, 20, 10), { name: "B" })],
        { machine },
      ),
    );

  it("one loop has none", () => {
    expect(measure(loopSpacing, court(FIELD, {}))).toMatchObject({
      holds: null,
      note: "there is one loop",
      unit: "m",
      bound: "at least",
    });
  });

  it("keep the machine's spacing on open lawn, 2 mm less", () => {
    expect(of(0.7)).toMatchObject({ holds: true, measured: 0.6, unit: "m", bound: "at least" });
    expect(of(0.7).allowed).toBeCloseTo(0.598, 12);
    expect(of(0.599).holds).toBe(true);
    const found = of(0.5);
    expect(found.holds).toBe(false);
    expect(found.measured).toBeCloseTo(0.5, 9);
    expect(found.said[0]).toBe(
      "Wires of loops A and B lie 0.500 m apart; at least 0.60 m are asked. Move one of the two wires away from the other.",
    );
    expect(found.breaches[0]!.atM![0]).toBeCloseTo(10, 9);
    expect(of(0.597).holds).toBe(false);
  });

  it("across what is no lawn, or beside an edge, only 0.05 m", () => {
    // A bed, a hedge's lawn edge and a hole between the two.
    const between = siteOf([box(-50, -50, 50, 50)], {
      things: [thingOf("Bed", box(10.02, -60, 10.08, 60))],
    });
    expect(of(0.1, between).holds).toBe(true);
    expect(of(0.1, between).measured).toBe(0.6);
    expect(of(0.049, between).holds).toBe(false);
    expect(of(0.049, between).measured).toBeCloseTo(0.049, 9);
    expect(of(0.051, between).holds).toBe(true);
    const edges = siteOf([box(-50, -50, 10.2, 50), box(10.3, -50, 50, 50)]);
    expect(of(0.5, edges).holds).toBe(true);
  });

  it("a gate that the machine cannot drive through is no border of two loops", () => {
    // The two face each other over lawn for 0.5 m; the rest is hedge. The machine is 0.6 m wide.
    const gate = (widthM: number) =>
      siteOf([box(-50, -50, 50, 50)], {
        things: [
          thingOf("North", box(10.1, 5 + widthM / 2, 10.4, 60)),
          thingOf("South", box(10.1, -60, 10.4, 5 - widthM / 2)),
        ],
      });
    // The hedges ask 0.3 m, and half a machine more: that much of the gate is no open lawn.
    expect(of(0.5, gate(0.5)).holds).toBe(true);
    expect(of(0.5, gate(1.6)).holds).toBe(true);
    expect(of(0.5, gate(2.1)).holds).toBe(false);
  });

  it("do not lie inside each other", () => {
    const found = measure(
      loopSpacing,
      courtOf(site, [loop(corners(0, 0, 20, 20)), loop(corners(5, 5, 10, 10), { name: "B" })]),
    );
    expect(found.holds).toBe(false);
    expect(found.said).toEqual(["Loop B lies inside loop A. Keep loops beside each other."]);
    expect(found.breaches[0]!.atM).toEqual([5, 5]);
    expect(found.measured).toBe(0.6);
  });
});
