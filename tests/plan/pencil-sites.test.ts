/**
 * Whole plans of sites that a pencil can plan: lengths, areas and counts are elementary geometry, and
 * the judge, which shares no code with the planner, measures the wire.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { checkPlan } from "../../src/check/check-plan.ts";
import { statedOfPlan } from "../../src/check/stated/from-plan.ts";
import { loadEngine } from "../../src/geometry/engine.ts";
import type { AreaM } from "../../src/model/geometry.ts";
import type { Plan } from "../../src/model/plan.ts";
import type { PlanOptions } from "../../src/model/plan-options.ts";
import type { Profile } from "../../src/model/profile.ts";
import type { Site } from "../../src/model/site.ts";
import { planSite } from "../../src/plan/plan-site.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { box, siteOf, thingOf } from "./shapes.ts";

beforeAll(() => loadEngine());

// Set-ins: open 0.3 m, wall 0.35 m, flush 0.1 m, water 1 m; drives 0.6 m, mows 1.2 m; pegs every metre.
const small = builtInProfile("small");

function planned(site: Site, profile: Profile = small, options: PlanOptions = {}): Plan {
  const made = planSite(site, profile, options);
  if (!made.ok) throw new Error(made.problem.code);
  const { verdict, findings } = checkPlan(site, profile, statedOfPlan(made.value));
  expect([verdict, findings.map(({ message }) => message)]).toEqual(["holds", []]);
  return made.value;
}

const area = (...shell: number[]): AreaM => ({ shell: Float64Array.from(shell), holes: [] });
const mownM2 = (plan: Plan) => plan.mown.reduce((sum, one) => sum + one.areaM2, 0);
const codes = (plan: Plan) => plan.findings.map(({ code }) => code).sort();

describe("a rectangle", () => {
  it.each([
    [20, 10],
    [8, 5],
    [40, 3],
  ])("of %d × %d m", (width, height) => {
    const plan = planned(siteOf([box(0, 0, width, height)]));
    const [loop, ...more] = plan.loops;
    expect(more).toEqual([]);
    const [w, h] = [width - 0.6, height - 0.6];
    // Pegs may let the wire cut corners by no more than their wander; here none is cut.
    expect(loop!.lengthM).toBeCloseTo(2 * (w + h), 3);
    expect(mownM2(plan)).toBeCloseTo(w * h, 3);
    expect(plan.groundM2).toBeCloseTo(width * height, 9);
    // Corners, and between them pegs no more than 0.9998 m apart; the station has a peg of its own.
    const sides = [w, h, w, h].reduce((sum, m) => sum + Math.ceil(m / 0.9998), 0);
    expect(loop!.pegs.length).toBeGreaterThanOrEqual(sides);
    expect(loop!.pegs.length).toBeLessThanOrEqual(sides + 1);
    expect(loop!.pegs.map(({ number }) => number)).toEqual(loop!.pegs.map((_, i) => `A${i + 1}`));
    expect(loop!.pegs[0]).toMatchObject({ on: "station", chainageM: 0 });
    expect(loop!.boundM).toBeLessThanOrEqual(loop!.lengthM + 1e-9);
    expect(loop!.pairedRuns).toEqual([]);
    expect(loop!.exclusionLoops).toEqual([]);
    expect(plan.cutOff).toEqual([]);
    expect(codes(plan)).toEqual(
      height > 5 ? ["STATION_CHOSEN"] : expect.arrayContaining(["STATION_CHOSEN"]),
    );
  });

  it("too narrow for any wire is refused; a piece of it is told", () => {
    expect(planSite(siteOf([box(0, 0, 20, 0.5)]), small)).toMatchObject({
      ok: false,
      problem: { code: "NO_ROOM_FOR_WIRE" },
    });
    const plan = planned(siteOf([box(0, 0, 20, 10), box(30, 0, 50, 0.5)]));
    expect(plan.loops).toHaveLength(1);
    expect(codes(plan)).toContain("LAWN_PIECE_TOO_NARROW");
  });

  it("with a station that is given begins there, on the wire", () => {
    const stations = [{ name: "Shed", atM: [20, 5] as const, source: {} }];
    const plan = planned(siteOf([box(0, 0, 20, 10)], { stations }));
    const { station, wire } = plan.loops[0]!;
    expect(station.given).toBe(true);
    expect(station.atM[0]).toBeCloseTo(19.7, 3);
    expect(station.atM[1]).toBeCloseTo(5, 1);
    expect([wire[0], wire[1]]).toEqual([...station.atM]);
    // Driving in along the wire, anticlockwise on the east side: north.
    expect(station.bearingDeg).toBeCloseTo(0, 6);
    expect(codes(plan)).not.toContain("STATION_CHOSEN");
  });
});

describe("edges", () => {
  it("of a wall, a flush path and water have their own set-ins", () => {
    const site = siteOf([box(0, 0, 20, 10)], {
      edgeLines: [
        { kind: "wall", line: Float64Array.of(0, 0, 20, 0), source: {} },
        { kind: "flush", line: Float64Array.of(20, 0, 20, 10), source: {} },
        { kind: "water", line: Float64Array.of(0, 10, 20, 10), source: {} },
      ],
    });
    const plan = planned(site);
    // West 0.3, south 0.35, east 0.1, north 1 m.
    expect(plan.loops[0]!.lengthM).toBeCloseTo(2 * (20 - 0.4 + 10 - 1.35), 3);
    expect(mownM2(plan)).toBeCloseTo(19.6 * 8.65, 3);
  });
});

describe("an island", () => {
  const bed = (minE: number, minN: number, maxE: number, maxN: number, name = "Bed") =>
    thingOf(name, box(minE, minN, maxE, maxN));

  it("has a ring clockwise, tied by the shortest run", () => {
    // 2 × 2 m, 3 m from the south edge, 5 m from the north: the run is 3 − 2 × 0.3 m.
    const plan = planned(siteOf([box(0, 0, 20, 10)], { things: [bed(9, 3, 11, 5)] }));
    const [loop] = plan.loops;
    expect(loop!.exclusionLoops.map(({ name }) => name)).toEqual(["Bed"]);
    expect(loop!.pairedRuns).toHaveLength(1);
    expect(loop!.pairedRuns[0]!.lengthM).toBeCloseTo(2.4, 1);
    expect([loop!.pairedRuns[0]!.from, loop!.pairedRuns[0]!.to]).toEqual(["boundary", "Bed"]);
    // Rings of 57.6 m and, with corners cut or rounded, between 8 + 2π 0.3 and 10.4 m; the run twice.
    expect(loop!.lengthM).toBeGreaterThan(57.6 + 8 + 2 * Math.PI * 0.3 + 4.7 - 0.1);
    expect(loop!.lengthM).toBeLessThan(57.6 + 10.4 + 4.9);
    expect(mownM2(plan)).toBeLessThan(19.4 * 9.4 - 4 - 8 * 0.3);
    expect(mownM2(plan)).toBeGreaterThan(19.4 * 9.4 - 2.6 ** 2 - 0.3);
    const pair = loop!.pegs.filter((peg) => peg.secondChainageM !== undefined);
    expect(pair.length).toBeGreaterThanOrEqual(3);
    expect(pair.every(({ on }) => on === "pair")).toBe(true);
  });

  it("too near another shares its ring; too near the edge joins it", () => {
    const near = planned(
      siteOf([box(0, 0, 20, 12)], {
        things: [bed(8, 5, 9, 6, "One"), bed(9.8, 5, 10.8, 6, "Two")],
      }),
    );
    expect(near.loops[0]!.exclusionLoops.map(({ things }) => [...things].sort())).toEqual([
      ["One", "Two"],
    ]);
    expect(codes(near)).toContain("ISLANDS_MERGED");
    // 1 m from the edge: 0.4 m are left between two wires.
    const edge = planned(siteOf([box(0, 0, 20, 12)], { things: [bed(8, 1, 10, 2)] }));
    expect(edge.loops[0]!.exclusionLoops).toEqual([]);
    expect(codes(edge)).toContain("ISLAND_JOINS_EDGE");
    expect(edge.loops[0]!.pairedRuns).toEqual([]);
  });

  it("that is firm needs no wire where the machine passes, and joins the edge where it does not", () => {
    const house = (minN: number) =>
      thingOf("House", box(8, minN, 10, minN + 2), {
        contact: "firm",
        edgeKind: "wall",
        role: "building",
      });
    const free = planned(siteOf([box(0, 0, 20, 12)], { things: [house(5)] }));
    expect(free.loops[0]!.lengthM).toBeCloseTo(2 * (19.4 + 11.4), 3);
    expect(mownM2(free)).toBeCloseTo(19.4 * 11.4 - 4, 3);
    const joined = planned(siteOf([box(0, 0, 20, 12)], { things: [house(0.8)] }));
    expect(codes(joined)).toContain("FIRM_THING_SHUT_OUT");
    expect(joined.loops[0]!.lengthM).toBeGreaterThan(2 * (19.4 + 11.4) + 3);
  });
});

describe("two rooms", () => {
  /** 8 × 6 m each, joined by a neck of a width and 2 m of length. */
  const rooms = (widthM: number) => {
    const [low, high] = [3 - widthM / 2, 3 + widthM / 2];
    return siteOf([
      area(
        ...[0, 0, 8, 0, 8, low, 10, low, 10, 0, 18, 0],
        ...[18, 6, 10, 6, 10, high, 8, high, 8, 6, 0, 6],
      ),
    ]);
  };

  it("are one loop where the machine drives through", () => {
    // 1.4 m edge to edge are 0.8 m between the wires: driven, not mown.
    const plan = planned(rooms(1.4));
    expect(plan.loops).toHaveLength(1);
    expect(plan.passages).toHaveLength(1);
    expect(plan.passages[0]).toMatchObject({ number: 1, verdict: "drive" });
    expect(plan.passages[0]!.widthM).toBeCloseTo(1.4, 3);
    expect(plan.passages[0]!.wireWidthM).toBeCloseTo(0.8, 3);
    // About 48 m² lie on either side.
    expect(plan.passages[0]!.beyondM2).toBeGreaterThan(46);
    expect(plan.passages[0]!.beyondM2).toBeLessThan(52);
    expect(codes(plan)).toContain("PASSAGE_DRIVE_ONLY");
    const wide = planned(rooms(2.1));
    expect(wide.passages.map(({ verdict }) => verdict)).toEqual(["mow"]);
    expect(planned(rooms(2.4)).passages).toEqual([]);
  });

  it("are two loops, one on the other's wire, or one left out, where it does not", () => {
    const site = rooms(1.1);
    const own = planned(site);
    expect(own.loops.map(({ name }) => name)).toEqual(["A", "B"]);
    expect(own.passages[0]).toMatchObject({ verdict: "shut" });
    expect(own.passages[0]!.wireWidthM).toBeCloseTo(0.5, 3);
    expect(codes(own)).toEqual(expect.arrayContaining(["PARTS_SEPARATE", "PASSAGE_SHUT"]));
    expect(own.parts.choice).toBe("own");
    expect(own.parts.compared.map(({ parts }) => parts).sort()).toEqual(["carried", "none", "own"]);
    const carried = planned(site, small, { parts: "carried" });
    expect(carried.loops).toHaveLength(1);
    expect(codes(carried)).toContain("PART_CARRIED");
    expect(carried.loops[0]!.pairedRuns.map(({ to }) => to)).toEqual(["part"]);
    const none = planned(site, small, { parts: "none" });
    expect(none.loops).toHaveLength(1);
    expect(codes(none)).toContain("PARTS_LEFT_OUT");
    // Rooms with set-ins hold 7.4 × 5.4 m, and a little of the neck's mouth.
    for (const plan of [own, none]) {
      for (const { areaM2 } of plan.mown) {
        expect(areaM2).toBeGreaterThan(7.4 * 5.4 - 0.01);
        expect(areaM2).toBeLessThan(7.4 * 5.4 + 0.5);
      }
    }
    expect(none.cutOff.reduce((sum, one) => sum + one.areaM2, 0)).toBeGreaterThan(40);
  });

  it("apart are two loops, spaced where they come near each other", () => {
    const plan = planned(siteOf([box(0, 0, 8, 6), box(9, 0, 17, 6)]));
    expect(plan.loops.map(({ lengthM }) => Math.round(1000 * lengthM) / 1000)).toEqual([
      25.6, 25.6,
    ]);
    expect(mownM2(plan)).toBeCloseTo(2 * 7.4 * 5.4, 3);
    const near = planned(siteOf([box(0, 0, 8, 6), box(8.05, 0, 17, 6)]));
    expect(near.loops).toHaveLength(2);
  });
});

describe("a lawn for more than one loop", () => {
  it("is divided into as few as its area asks for, apart by the spacing", () => {
    // 1,000 m² a loop: 1,180 m² inside the wire need two.
    const plan = planned(siteOf([box(0, 0, 60, 20.6)]));
    expect(plan.loops).toHaveLength(2);
    expect(codes(plan)).toContain("LOOPS_SPLIT");
    const whole = 59.4 * 20;
    // A strip of 0.6 m across 20 m goes to the trimmer.
    expect(mownM2(plan)).toBeGreaterThan(whole - 0.6 * 20.5);
    expect(mownM2(plan)).toBeLessThan(whole - 0.6 * 19.5);
    const loads = plan.mown.map(({ areaM2 }) => areaM2);
    expect(Math.max(...loads) / Math.min(...loads)).toBeLessThan(1.15);
  });
});

describe("what stands or lies in the way of runs", () => {
  const bed = (name: string, minE: number, minN: number, size = 2) =>
    thingOf(name, box(minE, minN, minE + size, minN + size));

  it("a firm thing: the run goes round it", () => {
    // The straight way of 3.4 m from the bed to the south edge leads through the post.
    const post = thingOf("Post", box(9.6, 2, 10.4, 2.8), { contact: "firm", edgeKind: "wall" });
    const plan = planned(siteOf([box(0, 0, 20, 14)], { things: [bed("Bed", 9, 4.3), post] }));
    const [run, ...more] = plan.loops[0]!.pairedRuns;
    expect(more).toEqual([]);
    expect(run!.lengthM).toBeGreaterThan(3.6);
    expect(run!.lengthM).toBeLessThan(6);
  });

  it("an area without wire: the run goes another way, or is told", () => {
    const barred = (area_: AreaM) => ({
      runGround: [
        { area: area_, factor: "barred", why: "no-wire", name: "Play", source: {} } as const,
      ],
    });
    const lawn = box(0, 0, 20, 14);
    const free = planned(siteOf([lawn], { things: [bed("Bed", 9, 4)] }));
    const round = planned(
      siteOf([lawn], { things: [bed("Bed", 9, 4)], ...barred(box(5, 1, 15, 3)) }),
    );
    expect(round.loops[0]!.pairedRuns[0]!.lengthM).toBeGreaterThan(
      free.loops[0]!.pairedRuns[0]!.lengthM + 0.5,
    );
    expect(codes(round)).not.toContain("RUN_IN_NO_WIRE");
    expect(codes(round)).not.toContain("BOUNDARY_IN_NO_WIRE");
  });

  it("dearer ground: worth a way round as long as that is shorter than its price", () => {
    const dear = (factor: number) => ({
      runGround: [
        {
          area: box(5, 1.5, 15, 2.5),
          factor,
          why: "drawn-cost",
          name: "Slope",
          source: {},
        } as const,
      ],
    });
    const of = (factor: number) =>
      planned(siteOf([box(0, 0, 20, 30)], { things: [bed("Bed", 9, 4)], ...dear(factor) }));
    const across = of(1.2);
    expect(across.loops[0]!.pairedRuns[0]!.lengthM).toBeCloseTo(3.4, 1);
    expect(codes(across)).toContain("RUN_ON_DEAR_GROUND");
    expect(across.loops[0]!.pairedRuns[0]!.costM).toBeCloseTo(3.4 + 0.2, 1);
    const round = of(50);
    expect(codes(round)).not.toContain("RUN_ON_DEAR_GROUND");
    expect(round.loops[0]!.pairedRuns[0]!.lengthM).toBeGreaterThan(4);
  });

  it("several islands: the shortest network, never above the least spanning tree", () => {
    // Four beds at the corners of a square; ties to the edge and to each other.
    const beds = [
      [6, 6],
      [14, 6],
      [14, 14],
      [6, 14],
    ].map(([e, n], i) => bed(`Bed ${i}`, e! - 1, n! - 1));
    const plan = planned(siteOf([box(0, 0, 20, 20)], { things: beds }));
    const runs = plan.loops[0]!.pairedRuns;
    // Each is 5 m from its nearest edge, 0.6 m of set-ins taken off.
    const lengthM = runs.reduce((sum, run) => sum + run.lengthM, 0);
    expect(lengthM).toBeLessThan(4 * 4.4 + 0.2);
    expect(lengthM).toBeGreaterThan(4 * 4.4 * 0.86);
    expect(plan.loops[0]!.exclusionLoops).toHaveLength(4);
  });
});

describe("more of what a profile asks", () => {
  it("a guide wire leads from the station into the lawn, clear of other wire", () => {
    const guided = { ...small, guide: { wires: 1, clearanceM: 0.5 } };
    const bedInTheWay = thingOf("Bed", box(14, 4, 16, 6));
    const plan = planned(siteOf([box(0, 0, 30, 10)], { things: [bedInTheWay] }), guided);
    const guides = plan.loops.flatMap((loop) => loop.guideWires);
    expect(guides).toHaveLength(1);
    expect(guides[0]!.clearanceM).toBeGreaterThan(0.3);
    expect(guides[0]!.lengthM).toBeGreaterThan(5);
  });

  it("bends with a least radius cut every corner by its arc", () => {
    const round = { ...small, corners: { innerAngleMinDeg: 85, bendRadiusMinM: 0.5 } };
    const plan = planned(siteOf([box(0, 0, 20, 10)]), round);
    // Four quarter circles of 0.5 m: 2π 0.5 in place of 4 m, chords a little less.
    const whole = 57.6 - 4 + Math.PI;
    expect(plan.loops[0]!.lengthM).toBeLessThan(whole + 0.05);
    expect(plan.loops[0]!.lengthM).toBeGreaterThan(whole - 0.3);
  });

  it("a lawn that may not be divided is told to be too large, or to have too much wire", () => {
    const site = siteOf([box(0, 0, 60, 20.6)]);
    const made = planSite(site, small, { split: false });
    if (!made.ok) throw new Error(made.problem.code);
    expect(made.value.loops).toHaveLength(1);
    expect(codes(made.value)).toContain("LOOP_TOO_LARGE");
    const long = planSite(siteOf([box(0, 0, 130, 4)]), small, { split: false });
    if (!long.ok) throw new Error(long.problem.code);
    expect(codes(long.value)).toContain("LOOP_TOO_LONG");
  });

  it("islands count where a lawn is divided", () => {
    const beds = Array.from({ length: 6 }, (_, i) =>
      thingOf(`Bed ${i}`, box(5 + 9 * i, 9, 8 + 9 * i, 12)),
    );
    const plan = planned(siteOf([box(0, 0, 60, 20.6)], { things: beds }));
    expect(plan.loops.length).toBeGreaterThanOrEqual(2);
    const rings = plan.loops.flatMap((loop) => loop.exclusionLoops.flatMap(({ things }) => things));
    // A bed by a cut may become part of the edge between two loops.
    expect(new Set(rings).size).toBeGreaterThanOrEqual(4);
    for (const { lengthM } of plan.loops) expect(lengthM).toBeLessThanOrEqual(250);
    for (const { areaM2 } of plan.mown) expect(areaM2).toBeLessThanOrEqual(1000);
  });
});

describe("paving", () => {
  it("a flush path between two lawns is crossed by one loop, and not mown", () => {
    const path = thingOf("Path", box(10, -1, 11.5, 11), {
      contact: "flush",
      edgeKind: "flush",
      role: "paving",
    });
    const plan = planned(siteOf([box(0, 0, 10, 10), box(11.5, 0, 22, 10)], { things: [path] }));
    expect(plan.loops).toHaveLength(1);
    expect(codes(plan)).toContain("PATH_CROSSED");
    // 21.4 m of lawn and path by 9.4 m, less 1.5 m of path.
    expect(mownM2(plan)).toBeGreaterThan((21.4 - 1.5) * 9.4 - 1);
    expect(mownM2(plan)).toBeLessThan((21.4 - 1.5) * 9.4 + 0.1);
  });
});
