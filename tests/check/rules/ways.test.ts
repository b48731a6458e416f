/** Rules of the machine's ways: narrow places, corners that are none, ground that is not reached. */
import { describe, expect, it } from "vitest";
import { CarriedRuns } from "../../../src/check/carried.ts";
import { fieldOf, piecesOfField } from "../../../src/check/field.ts";
import { Boundaries } from "../../../src/check/necks.ts";
import { leastWidthM, passages } from "../../../src/check/rules/passages.ts";
import { reach } from "../../../src/check/rules/reach.ts";
import type { StatedLoop } from "../../../src/check/stated/stated-plan.ts";
import type { Thing } from "../../../src/model/site.ts";
import { box, siteOf, thingOf } from "../../plan/shapes.ts";
import { corners, courtOf, loop, MACHINE, measure } from "./scene.ts";

const FAR = box(-50, -50, 50, 50);
const site = (things: readonly Thing[] = []) => siteOf([FAR], { things });
const court = (
  wire: readonly number[],
  things: readonly Thing[] = [],
  said: Partial<StatedLoop> = {},
) => courtOf(site(things), [loop(wire, said)]);
const post = (name: string, minE: number, minN: number, maxE: number, maxN: number) =>
  thingOf(name, box(minE, minN, maxE, maxN), { contact: "firm" });

/** Two rooms of 5 × 4 m with a neck of a width and 2 m of length between them. */
const dumbbell = (widthM: number) => {
  const [low, high] = [2 - widthM / 2, 2 + widthM / 2];
  return [
    ...[0, 0, 5, 0, 5, low, 7, low, 7, 0, 12, 0],
    ...[12, 4, 7, 4, 7, high, 5, high, 5, 4, 0, 4],
  ];
};

describe("narrow places", () => {
  // The machine drives through 0.60 m; wires wander 0.05 m each; 4 mm for rounding: 0.496 m.
  it("0.60 m less what wires may wander", () => {
    expect(leastWidthM(court(dumbbell(1)))).toBeCloseTo(0.496, 12);
    const wide = { ...MACHINE, pegs: { ...MACHINE.pegs, wanderMaxM: 0.3 } };
    // A sixth of 0.6 m at most.
    expect(leastWidthM(courtOf(site(), [loop(dumbbell(1))], { machine: wide }))).toBeCloseTo(
      0.396,
      12,
    );
  });

  it("between wires of one loop with a room on either side are ways", () => {
    expect(measure(passages, court(dumbbell(0.7)))).toMatchObject({
      holds: true,
      measured: 0.6,
      unit: "m",
      bound: "at least",
      note: "up to 0.6 m is looked for",
    });
    const holds = measure(passages, court(dumbbell(0.5)));
    expect(holds.holds).toBe(true);
    expect(holds.measured).toBeCloseTo(0.5, 9);
    expect(holds.allowed).toBeCloseTo(0.496, 12);
    const found = measure(passages, court(dumbbell(0.49)));
    expect(found.holds).toBe(false);
    expect(found.measured).toBeCloseTo(0.49, 9);
    expect(found.said[0]).toBe(
      "Two wires of loop A with lawn between them lie 0.49 m apart; the machine drives through 0.60 m (at least 0.50 m where wires wander). Shut the passage off, or move the wires apart.",
    );
    expect(found.breaches[0]!.atM![1]).toBeGreaterThan(1.7);
    expect(found.breaches[0]!.atM![1]).toBeLessThan(2.3);
  });

  /** A room with a bay of a width and depth in its east side. */
  const bay = (widthM: number, depthM: number) => {
    const [low, high] = [2 - widthM / 2, 2 + widthM / 2];
    return [0, 0, 5, 0, 5, low, 5 + depthM, low, 5 + depthM, high, 5, high, 5, 4, 0, 4];
  };

  it("where one side has no room for the machine are corners", () => {
    expect(measure(passages, court(bay(0.4, 0.5))).holds).toBe(true);
    expect(measure(passages, court(bay(0.4, 3))).holds).toBe(true);
    // A bay that opens to a room behind its mouth: a disc of 0.6 m fits, or just does not.
    const bottle = (innerM: number) => {
      const [low, high] = [2 - innerM / 2, 2 + innerM / 2];
      return [
        ...[0, 0, 5, 0, 5, 1.8, 5.3, 1.8, 5.3, low, 5.3 + innerM, low],
        ...[5.3 + innerM, high, 5.3, high, 5.3, 2.2, 5, 2.2, 5, 4, 0, 4],
      ];
    };
    expect(measure(passages, court(bottle(0.7))).holds).toBe(false);
    expect(measure(passages, court(bottle(0.55))).holds).toBe(true);
    expect(measure(passages, court(bottle(2))).holds).toBe(false);
    // Sides that taper have no narrowest place.
    expect(measure(passages, court([0, 0, 10, 0, 0, 3])).holds).toBe(true);
  });

  it("of a pair, or with no lawn between, are none", () => {
    // Two wires of a slit, and two rooms side by side that are one loop by a pair.
    expect(
      measure(passages, court([0, 0, 9, 0, 9, 9, 5.01, 9, 5.01, 2, 5, 2, 5, 9, 0, 9])).holds,
    ).toBe(true);
    // Wire outside of each other, 0.3 m apart: a bay of what is shut out.
    expect(
      measure(passages, court([0, 0, 9, 0, 9, 9, 5.3, 9, 5.3, 2, 5, 2, 5, 9, 0, 9])).measured,
    ).toBe(0.6);
  });

  it("are looked for in one loop", () => {
    const two = courtOf(site(), [
      loop(corners(0, 0, 5, 5)),
      loop(corners(5.3, 0, 10, 5), { name: "B" }),
    ]);
    expect(two.necks).toEqual([]);
    expect(measure(passages, two).measured).toBe(0.6);
  });

  it("are told by vertices that face each other or a side", () => {
    // Two tips, 0.4 m apart, the one at (5, 1.8), the other at (5, 2.2).
    const tips = [0, 0, 4, 0, 5, 1.8, 6, 0, 10, 0, 10, 4, 6, 4, 5, 2.2, 4, 4, 0, 4];
    const { necks } = court(tips);
    expect(necks).toHaveLength(1);
    expect(necks[0]!.widthM).toBeCloseTo(0.4, 12);
    expect([necks[0]!.a, necks[0]!.b].map(({ atM }) => [...atM])).toEqual([
      [5, 1.8],
      [5, 2.2],
    ]);
    expect(measure(passages, court(tips)).holds).toBe(false);
    // One tip before a straight side.
    const one = [0, 0, 4, 0, 5, 1.8, 6, 0, 10, 0, 10, 2.2, 0, 2.2];
    const found = court(one).necks;
    expect(found).toHaveLength(1);
    expect(found[0]!.b.share).toBeCloseTo(0.5, 9);
    expect(found[0]!.b.segment).toBe(5);
  });

  it("behind which something nearer stands are those of the nearer", () => {
    // A post in the neck's mouth: the wires are 0.5 m apart, the post 0.2 m from each.
    const { necks } = court(dumbbell(0.5), [post("Post", 5.9, 1.95, 6.1, 2.05)]);
    expect(necks[0]!.widthM).toBeCloseTo(0.2, 9);
    for (const { a, b } of necks) {
      const [e, n] = [(a.atM[0] + b.atM[0]) / 2, (a.atM[1] + b.atM[1]) / 2];
      const isPost = e > 5.9 && e < 6.1 && n > 1.95 && n < 2.05;
      expect(isPost).toBe(false);
    }
  });

  it("of firm things: to the wire and to each other, not to themselves", () => {
    const posts = [post("One", 4, 4, 4.1, 4.1), post("Two", 4.5, 4, 4.6, 4.1)];
    const { necks } = court(corners(0, 0, 9, 9), posts);
    expect(necks.map(({ widthM }) => Math.round(1000 * widthM) / 1000)).toEqual(
      necks.map(() => 0.4),
    );
    expect(necks.length).toBeGreaterThan(0);
    const near = court(corners(0, 0, 9, 9), [post("One", 0.2, 4, 1, 5)]).necks;
    expect(near[0]!.widthM).toBeCloseTo(0.2, 9);
    // Firm things outside the wire bound nothing.
    expect(court(corners(0, 0, 9, 9), [post("One", -1, 4, -0.2, 5)]).necks).toEqual([]);
    // However their outline is wound.
    const turned = {
      ...posts[0]!,
      areas: [{ shell: Float64Array.of(0.2, 4, 0.2, 5, 1, 5, 1, 4), holes: [] }],
    };
    expect(court(corners(0, 0, 9, 9), [turned]).necks[0]!.widthM).toBeCloseTo(0.2, 9);
  });
});

describe("boundaries", () => {
  it("are wire, then firm things inside it, clockwise", () => {
    const bounds = new Boundaries(court(corners(0, 0, 9, 9), [post("One", 4, 4, 5, 5)]));
    expect([bounds.wireCount, bounds.tree.count]).toEqual([4, 8]);
    expect([...bounds.nextOf]).toEqual([1, 2, 3, 0, 5, 6, 7, 4]);
    expect([...bounds.previousOf]).toEqual([3, 0, 1, 2, 7, 4, 5, 6]);
    const ends = [...bounds.tree.ends.subarray(16)];
    const twice = [0, 4, 8, 12].reduce(
      (sum, k) => sum + ends[k]! * ends[k + 3]! - ends[k + 2]! * ends[k + 1]!,
      0,
    );
    expect(twice).toBe(-2);
  });
});

describe("ground that the machine comes to", () => {
  const of = (
    wire: readonly number[],
    things: readonly Thing[] = [],
    said: Partial<StatedLoop> = {},
  ) => measure(reach, court(wire, things, said));
  const at = (e: number, n: number) => ({
    station: {
      atM: [e, n] as const,
      bearingDeg: undefined,
      given: undefined,
      straightM: undefined,
    },
  });

  it("is all of a plain lawn", () => {
    expect(of(corners(0, 0, 9, 9))).toMatchObject({
      holds: true,
      measured: 0,
      allowed: 0,
      unit: "m²",
      bound: "at most",
    });
    expect(measure(reach, courtOf(site(), []))).toMatchObject({
      holds: null,
      note: "there is no wire",
      unit: "m²",
      bound: "at most",
    });
  });

  it("is what lies beyond a way that is wide enough", () => {
    expect(of(dumbbell(0.7)).holds).toBe(true);
    expect(of(dumbbell(0.5)).holds).toBe(true);
    const found = of(dumbbell(0.4));
    expect(found.holds).toBe(false);
    // One of two rooms of 5 × 4 m, about.
    expect(found.measured).toBeGreaterThan(15);
    expect(found.measured).toBeLessThan(21);
    expect(found.said[0]).toMatch(
      /^\d\d\.\d m² of the ground inside loop A lie behind places narrower than 0\.50 m: the machine does not come there from the station\. Open a way, move what stands in it, or shut the ground out\.$/,
    );
  });

  it("begins at the station, else in the largest room", () => {
    const lostAt = (said: Partial<StatedLoop>) =>
      of(dumbbell(0.4), [], said).breaches.map(({ atM }) => atM![0] > 6);
    expect(lostAt(at(0, 0))).toEqual([true]);
    expect(lostAt(at(12, 0))).toEqual([false]);
    // A station far from every room says nothing.
    const uneven = dumbbell(0.4).map((x, i) => (i % 2 === 0 && x === 12 ? 11 : x));
    expect(of(uneven, [], at(40, 40)).breaches.map(({ atM }) => atM![0] > 6)).toEqual([true]);
    expect(of(uneven).breaches.map(({ atM }) => atM![0] > 6)).toEqual([true]);
  });

  it("is parted by firm things too", () => {
    const field = corners(0, 0, 5, 3);
    const wall = (gapM: number) => [post("Wall", 2.4, 0.0001, 2.6, 3 - gapM)];
    expect(of(field, wall(0.6)).holds).toBe(true);
    expect(of(field, wall(0.4)).holds).toBe(false);
    const row = (apartM: number) =>
      Array.from({ length: Math.floor(3 / apartM) }, (_, i) =>
        post(`Post ${i}`, 2.4, apartM * (i + 0.5), 2.5, apartM * (i + 0.5) + 0.1),
      );
    expect(of(field, row(0.5)).holds).toBe(false);
    expect(of(field, row(0.75)).holds).toBe(true);
  });

  it("is driven over between the two wires of a pair", () => {
    // A pair right across but for its foot: the way leads over it.
    const slit = [0, 0, 4, 0, 4, 3, 2.01, 3, 2.01, 0.2, 2, 0.2, 2, 3, 0, 3];
    expect(of(slit).holds).toBe(true);
  });

  it("is not looked at where a loop is too large for it", () => {
    // 40 km by 4 m at steps of 5 cm: 64 million places.
    const far = dumbbell(0.4).map((x) => (x === 12 ? 40_000 : x));
    expect(of(far)).toMatchObject({
      holds: true,
      note: "not looked at in 1 loops that are too large for it",
    });
    expect(of(dumbbell(0.4)).note).toBeUndefined();
  });
});

describe("the grid of a loop's inside", () => {
  const grid = (things: readonly Thing[] = [], wire: readonly number[] = corners(0, 0, 4, 3)) => {
    const one = court(wire, things);
    return fieldOf(one, new Boundaries(one), 0, { passM: 0.6, roomM: 1, stepM: 0.5 })!;
  };
  const count = (places: Uint8Array) => places.reduce((sum, x) => sum + x, 0);
  const rowsOf = (places: Uint8Array, columns: number) => {
    const rows: string[] = [];
    for (let i = 0; i < places.length; i += columns)
      rows.push([...places.subarray(i, i + columns)].join(""));
    return rows;
  };

  it("has a place every step from the south-west corner on", () => {
    const field = grid();
    expect(field).toMatchObject({ minE: 0, minN: 0, stepM: 0.5, columns: 9, rows: 7 });
    // Half-open to the north: the top row lies on the wire.
    expect(count(field.inside)).toBe(54);
    // 0.6 m less 0.71 steps leave 0.246 m: all but the outermost.
    expect(rowsOf(field.passes, 9)).toEqual([
      "000000000",
      ...Array(5).fill("011111110"),
      "000000000",
    ]);
    // A full metre: what lies exactly that far off has room.
    expect(rowsOf(field.rooms, 9)).toEqual([
      ...Array(2).fill("000000000"),
      ...Array(3).fill("001111100"),
      ...Array(2).fill("000000000"),
    ]);
  });

  it("leaves firm things out, with their distance", () => {
    const field = grid([post("Post", 1.9, 1.4, 2.1, 1.6)]);
    expect(field.inside[3 * 9 + 4]).toBe(0);
    expect(count(field.inside)).toBe(53);
    expect(rowsOf(field.passes, 9)[3]).toBe("011101110");
    expect(count(field.rooms)).toBe(0);
  });

  it("takes what lies between the wires of a pair", () => {
    // The slit lies on a column of places.
    const slit = [0, 0, 4, 0, 4, 3, 2.02, 3, 2.02, 1, 1.98, 1, 1.98, 3, 0, 3];
    const field = grid([], slit);
    expect(rowsOf(field.inside, 9)[4]).toBe("111111111");
    expect(rowsOf(field.passes, 9)[4]).toBe("011111110");
    // Its foot is single wire.
    expect(rowsOf(field.passes, 9)[2]).toBe("011101110");
  });

  it("is as many pieces as hang together, corner to corner too", () => {
    const of = (rows: readonly string[]) => {
      const columns = rows[0]!.length;
      const passes = Uint8Array.from(rows.join("").split("").map(Number));
      const empty = new Uint8Array(0);
      const { pieceOf, count: pieces } = piecesOfField({
        minE: 0,
        minN: 0,
        stepM: 1,
        columns,
        rows: rows.length,
        inside: empty,
        rooms: empty,
        passes,
      });
      return { pieces, rows: rowsOf(Uint8Array.from(pieceOf), columns) };
    };
    expect(of(["1100", "0000", "0011"])).toEqual({ pieces: 2, rows: ["1100", "0000", "0022"] });
    expect(of(["1100", "0010", "0001"])).toEqual({ pieces: 1, rows: ["1100", "0010", "0001"] });
    expect(of(["0001", "0010", "1100"]).pieces).toBe(1);
    // The end of a row is no neighbour of the next one's beginning.
    expect(of(["0001", "1000", "0000"]).pieces).toBe(2);
    expect(of(["101", "101", "111"]).pieces).toBe(1);
    expect(of(["000", "000"]).pieces).toBe(0);
  });
});

describe("parts that the machine is carried to", () => {
  /**
   * Two lawns of 4 × 4 m in one loop, joined by two wires 10 mm apart with lawn between them, from
   * (4, 2) to (10, 2).
   */
  const wire = [
    ...[0, 0, 4, 0, 4, 1.995, 10, 1.995, 10, 0, 14, 0, 14, 4, 10, 4],
    ...[10, 2.005, 4, 2.005, 4, 4, 0, 4],
  ];
  const run = {
    line: Float64Array.of(4, 2, 10, 2),
    from: "boundary",
    to: "part",
    lengthM: undefined,
  };
  const joined = (said: Partial<StatedLoop> = { pairedRuns: [run] }) => court(wire, [], said);

  it("lie between the two times that the wire comes along the run", () => {
    const { carried } = joined();
    expect([...carried.segments].sort((x, y) => x - y)).toEqual([2, 8]);
    expect(Array.from({ length: 12 }, (_, s) => carried.partOf(s))).toEqual([
      0,
      0,
      undefined,
      1,
      1,
      1,
      1,
      1,
      undefined,
      0,
      0,
      0,
    ]);
    expect(carried.offM(6, 2.02)).toBeCloseTo(0.02, 12);
    expect(carried.offM(6, 2.031)).toBeUndefined();
    expect(carried.offM(3.9, 2)).toBeUndefined();
  });

  it("are none where a run leads elsewhere, or where none is stated", () => {
    for (const said of [{}, { pairedRuns: [{ ...run, to: "Bed" }] }]) {
      const { carried } = joined(said);
      expect(carried.segments.size).toBe(0);
      expect(carried.partOf(4)).toBe(0);
      expect(carried.offM(6, 2)).toBeUndefined();
    }
    // A run that lies beside no wire parts nothing.
    const aside = { ...run, line: Float64Array.of(4, 3, 10, 3) };
    const { carried } = joined({ pairedRuns: [aside] });
    expect([carried.segments.size, carried.partOf(4)]).toEqual([0, 0]);
  });

  it("beyond another part are parts of their own", () => {
    // A third lawn of 2 × 2 m hangs on the second.
    const three = [
      ...wire.slice(0, 12),
      ...[14, 1.995, 18, 1.995, 18, 0, 20, 0, 20, 4, 18, 4, 18, 2.005, 14, 2.005],
      ...wire.slice(12),
    ];
    const runs = [run, { ...run, line: Float64Array.of(14, 2, 18, 2) }];
    const one = courtOf(site(), [loop(three, { pairedRuns: runs })]);
    const parts = Array.from({ length: 20 }, (_, s) => one.carried.partOf(s));
    expect(parts).toEqual([
      0,
      0,
      undefined,
      1,
      1,
      1,
      undefined,
      2,
      2,
      2,
      2,
      2,
      undefined,
      1,
      1,
      1,
      undefined,
      0,
      0,
      0,
    ]);
    const reversed = courtOf(site(), [loop(three, { pairedRuns: [...runs].reverse() })]);
    expect(reversed.carried.partOf(9)).toBe(1);
    expect(reversed.carried.partOf(4)).toBe(2);
  });

  it("bound no way along their run, and are not driven to", () => {
    expect(measure(passages, joined()).holds).toBe(true);
    expect(measure(passages, joined({})).holds).toBe(false);
    expect(measure(reach, joined()).holds).toBe(true);
    expect(measure(reach, joined({})).holds).toBe(false);
    expect(
      new CarriedRuns({ loops: [], passages: undefined, mown: undefined }, joined().wires).segments
        .size,
    ).toBe(0);
  });

  it("have rooms of their own that must hang together", () => {
    // The second lawn is itself parted by a neck of 0.4 m: its larger room is where it begins.
    const parted = [
      ...[0, 0, 4, 0, 4, 1.995, 10, 1.995, 10, 0, 14, 0, 14, 1.8, 16, 1.8, 16, 0, 18, 0, 18, 4],
      ...[16, 4, 16, 2.2, 14, 2.2, 14, 4, 10, 4, 10, 2.005, 4, 2.005, 4, 4, 0, 4],
    ];
    const found = measure(reach, court(parted, [], { pairedRuns: [run] }));
    expect(found.holds).toBe(false);
    expect(found.breaches).toHaveLength(1);
    expect(found.breaches[0]!.atM![0]).toBeGreaterThan(15.9);
    const narrow = measure(passages, court(parted, [], { pairedRuns: [run] }));
    expect(narrow.holds).toBe(false);
    expect(narrow.measured).toBeCloseTo(0.4, 9);
    expect(narrow.breaches[0]!.atM![0]).toBeGreaterThan(13.9);
  });
});
