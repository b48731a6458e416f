/** Corners that the plain drawings of the other tests have not: slants, orders, other origins. */
import { describe, expect, it } from "vitest";
import { fieldOf } from "../../../src/check/field.ts";
import { Covers, LAWN, NOTHING, piecesOf, SOFT } from "../../../src/check/ground/pieces.ts";
import { Winding } from "../../../src/check/kernel/winding.ts";
import { Boundaries } from "../../../src/check/necks.ts";
import { exclusionLoops } from "../../../src/check/rules/exclusion-loops.ts";
import { loopSpacing } from "../../../src/check/rules/loop-spacing.ts";
import { mownArea } from "../../../src/check/rules/mown-area.ts";
import { pairGap, pairOpposite } from "../../../src/check/rules/pairs.ts";
import { passages } from "../../../src/check/rules/passages.ts";
import { chainage, spans } from "../../../src/check/rules/pegs.ts";
import { reach } from "../../../src/check/rules/reach.ts";
import { setIn } from "../../../src/check/rules/set-in.ts";
import { station, stationFront, stationStraight } from "../../../src/check/rules/station.ts";
import { RULES } from "../../../src/check/rules.ts";
import { statedOfLayers } from "../../../src/check/stated/from-layers.ts";
import type { StatedLoop } from "../../../src/check/stated/stated-plan.ts";
import type { AreaM } from "../../../src/model/geometry.ts";
import type { Thing } from "../../../src/model/site.ts";
import { box, siteOf, thingOf } from "../../plan/shapes.ts";
import { corners, courtOf, loop, measure } from "./scene.ts";

const FAR = box(-200, -200, 300, 300);
const site = (things: readonly Thing[] = [], lawns: readonly AreaM[] = [FAR]) =>
  siteOf(lawns, { things });
const area = (...shell: number[]): AreaM => ({ shell: Float64Array.from(shell), holes: [] });
const firm = (one: AreaM) => thingOf("Post", one, { contact: "firm" });

it("rules and the codes of their findings, in the order of the table", () => {
  expect(RULES.map(({ id, code }) => `${id} ${code}`)).toEqual([
    "closed WIRE_NOT_CLOSED",
    "simple WIRE_MEETS_ITSELF",
    "winding WIRE_CLOCKWISE",
    "direction DIRECTION_MISSTATED",
    "on-lawn WIRE_OFF_LAWN",
    "set-in WIRE_TOO_NEAR_EDGE",
    "firm-clear WIRE_HITS_FIRM_THING",
    "shut-out THING_INSIDE_WIRE",
    "ring-direction ISLAND_RING_TURNED",
    "exclusion-loops EXCLUSION_OFF_WIRE",
    "pair-gap PAIR_APART",
    "pair-opposite PAIR_SAME_WAY",
    "spans SPAN_TOO_LONG",
    "pegs-on-wire PEG_OFF_WIRE",
    "vertices-on-pegs VERTEX_WITHOUT_PEG",
    "peg-numbers PEG_NUMBER_WRONG",
    "chainage CHAINAGE_WRONG",
    "lengths LENGTH_WRONG",
    "passages WIRES_TOO_NEAR",
    "reach MOWN_NOT_REACHED",
    "stated-passages PASSAGE_MISSTATED",
    "verdicts PASSAGE_VERDICT_WRONG",
    "loop-length LOOP_OVER_LENGTH",
    "loop-area LOOP_OVER_AREA",
    "loop-spacing LOOPS_TOO_NEAR",
    "station STATION_OFF_WIRE",
    "station-straight STATION_NOT_STRAIGHT",
    "station-front STATION_FRONT_NOT_CLEAR",
    "guide-wires GUIDE_WIRE_WRONG",
    "no-wire WIRE_IN_BARRED_GROUND",
    "mown-area MOWN_AREA_WRONG",
  ]);
  expect(RULES.every(({ title }) => title.length > 10)).toBe(true);
});

it("a notch whose tip lies level with a place is outside", () => {
  const notched = new Winding([Float64Array.of(0, 0, 6, 0, 6, 4, 0, 4, 3, 2)]);
  expect([notched.at(1, 2), notched.at(4, 2)]).toEqual([0, 1]);
});

describe("outlines at a slant", () => {
  it("are cut where they cross", () => {
    // A square on its tip, 2 m half diagonal, about the lawn's edge.
    const lawn = box(0, 0, 20, 10);
    const diamond = thingOf("Bed", area(10, -2, 12, 0, 10, 2, 8, 0));
    const leaning = thingOf("Bed", area(10, -1.5, 12.5, 1, 10.5, 3, 8, 0.5));
    for (const [thing, on, off] of [
      [diamond, 4, 2 * Math.hypot(2, 2)],
      // It crosses n = 0 at 8.5 and 11.5.
      [leaning, 3, Math.hypot(1, 1) * 1.5 * 2],
    ] as const) {
      const where = siteOf([lawn], { things: [thing] });
      const pieces = piecesOf(where, new Covers(where));
      const sum = (one: number, other: number) =>
        pieces
          .filter(({ left, right }) => left + right === one + other && left * right === one * other)
          .reduce((m, { ae, an, be, bn }) => m + Math.hypot(be - ae, bn - an), 0);
      // A fifth of a millimetre to either side of a cut is told apart.
      expect(sum(LAWN, NOTHING)).toBeCloseTo(60 - on, 2);
      expect(sum(SOFT, NOTHING)).toBeCloseTo(off, 2);
    }
  });

  it("a field of a triangle has the places in it", () => {
    const court = courtOf(site(), [loop([0, 0, 4, 0, 0, 4])]);
    const field = fieldOf(court, new Boundaries(court), 0, { passM: 0.8, roomM: 0.9, stepM: 1 })!;
    const rows = [0, 1, 2, 3, 4].map((r) => [...field.inside.subarray(5 * r, 5 * r + 5)].join(""));
    expect(rows).toEqual(["11111", "11110", "11100", "11000", "00000"]);
    // 0.9 m from all three sides: (1, 1) alone, 1.41 m from the long one.
    expect([...field.rooms].flatMap((room, i) => (room === 1 ? [i] : []))).toEqual([6]);
  });
});

describe("set-in", () => {
  const lawn = box(0, 0, 20, 10);
  const wire = loop(corners(0.3, 0.3, 19.7, 9.7));

  it("past either end of an edge its side says nothing", () => {
    for (const neighbour of [box(-5, 10.05, -0.05, 15), box(20.05, 10.05, 25, 15)]) {
      expect(measure(setIn, courtOf(site([], [lawn, neighbour]), [wire])).holds).toBe(true);
    }
    for (const neighbour of [box(-5, -5, -0.05, -0.05), box(20.05, -5, 25, -0.05)]) {
      expect(measure(setIn, courtOf(site([], [lawn, neighbour]), [wire])).holds).toBe(true);
    }
  });

  it("a slip of edge takes nothing from the edges beside it", () => {
    // 20 mm of open edge in a lawn that says 0.8 m: the wire at 0.3 m is too near on all sides.
    const notched = area(0, 0, 10, 0, 10.02, 0, 20, 0, 20, 10, 0, 10);
    const strict = {
      ...siteOf([notched]),
      lawns: [{ name: "L", area: notched, setinM: 0.8, source: {} }],
    };
    expect(measure(setIn, courtOf(strict, [wire])).measured).toBeCloseTo(-0.5, 9);
    const south = loop(corners(0.8, 0.3, 19.2, 9.2));
    expect(measure(setIn, courtOf(strict, [south])).measured).toBeCloseTo(-0.5, 9);
  });

  it("a path's edge along a bed is asked, driven over or not", () => {
    const path = thingOf("Path", box(5, 4, 10, 6), { contact: "flush", edgeKind: "flush" });
    const bed = thingOf("Bed", box(10, 4, 12, 6));
    // Round the bed at 0.05 m on the path's side, where the path's edge to it asks 0.1 m or more.
    const near = [
      ...[0.3, 0.3, 10.995, 0.3, 10.995, 3.7, 9.95, 3.7, 9.95, 6.3, 12.3, 6.3],
      ...[12.3, 3.7, 11.005, 3.7, 11.005, 0.3, 19.7, 0.3, 19.7, 9.7, 0.3, 9.7],
    ];
    expect(
      measure(setIn, courtOf(siteOf([lawn], { things: [path, bed] }), [loop(near)])).holds,
    ).toBe(false);
  });
});

describe("mown areas", () => {
  const of = (
    areaM2: number,
    wire: readonly number[],
    things: readonly Thing[],
    said: Partial<StatedLoop> = {},
  ) =>
    measure(
      mownArea,
      courtOf(siteOf([box(0, 0, 20, 10)], { things }), [loop(wire, said)], {
        mown: [{ loop: "A", areaM2 }],
      }),
    ).measured;

  it("wire that crosses several things, in whatever order they are told", () => {
    const beds = [box(12, -1, 14, 3), box(4, -1, 5, 3), box(8, -1, 9, 3)].map((one, i) =>
      thingOf(`Bed ${i}`, one),
    );
    // 19.4 × 9.4 m less 2.7 m of each bed's height inside the wire.
    for (const things of [beds, [...beds].reverse()]) {
      expect(of(182.36 - 2.7 * 4, corners(0.3, 0.3, 19.7, 9.7), things)).toBeLessThan(1e-6);
    }
  });

  it("things that reach out of the lawn inside the wire take what is lawn of them", () => {
    const bed = thingOf("Bed", box(5, 9, 7, 12));
    expect(of(20 * 9.7 - 2, corners(-1, 0.3, 21, 11), [bed])).toBeLessThan(1e-6);
  });

  it("nobody mows between the wires of a run to a part that the machine is carried to", () => {
    // Two squares of 4 × 4 m and 6 m of run of 10 mm.
    const wire = [
      ...[1, 1, 5, 1, 5, 2.995, 11, 2.995, 11, 1, 15, 1, 15, 5, 11, 5],
      ...[11, 3.005, 5, 3.005, 5, 5, 1, 5],
    ];
    const line = Float64Array.of(5, 3, 11, 3);
    const run = (to: string) => ({
      pairedRuns: [{ line, from: "boundary", to, lengthM: undefined }],
    });
    expect(of(32, wire, [], run("part"))).toBeLessThan(1e-9);
    expect(of(32, wire, [], run("Bed"))).toBeCloseTo(0.06, 9);
    expect(of(32.06, wire, [])).toBeLessThan(1e-9);
  });
});

describe("narrow places", () => {
  it("a tip is told whether its side comes before or after it along the wire", () => {
    for (const wire of [
      [0, 0, 4, 0, 5, 1.8, 6, 0, 10, 0, 10, 2.2, 0, 2.2],
      [10, 2.2, 0, 2.2, 0, 0, 4, 0, 5, 1.8, 6, 0, 10, 0],
    ]) {
      const { necks } = courtOf(site(), [loop(wire)]);
      expect(necks.map(({ widthM }) => Math.round(1e6 * widthM) / 1e6)).toEqual([0.4]);
    }
  });

  it("the end of a pair before other wire is none: the machine drives over the pair", () => {
    const slit = [0, 0, 9, 0, 9, 9, 4.51, 9, 4.51, 0.3, 4.5, 0.3, 4.5, 9, 0, 9];
    expect(courtOf(site(), [loop(slit)]).necks).toEqual([]);
    expect(measure(passages, courtOf(site(), [loop(slit)])).measured).toBe(0.6);
  });

  it("a funnel has one, at its narrow end, whatever vertices its sides have", () => {
    // From 0.56 m at e = 5 to 0.40 m at e = 9; each side with a vertex on the way.
    const funnel = [
      ...[0, 0, 5, 0, 5, 1.72, 7, 1.76, 9, 1.8, 9, 0, 14, 0],
      ...[14, 4, 9, 4, 9, 2.2, 7, 2.24, 5, 2.28, 5, 4, 0, 4],
    ];
    const mirrored = funnel.map((x, i) => (i % 2 === 0 ? 14 - x : x));
    const points = Array.from({ length: funnel.length / 2 }, (_, i) => [
      mirrored[2 * i]!,
      mirrored[2 * i + 1]!,
    ]);
    for (const wire of [funnel, points.reverse().flat()]) {
      const { necks } = courtOf(site(), [loop(wire)]);
      expect(necks.map(({ widthM }) => Math.round(1e6 * widthM) / 1e6)).toEqual([0.4]);
      expect(measure(passages, courtOf(site(), [loop(wire)])).measured).toBeCloseTo(0.4, 9);
    }
  });

  it("a corner seen from outside is none: no mown ground lies between", () => {
    // Two bays of what is shut out, whose corners come within 0.3 m of each other across the wire.
    const wire = [
      ...[0, 0, 10, 0, 10, 8, 6, 8, 6, 5, 5.31, 5, 5.31, 8, 4.69, 8, 4.69, 5, 4, 5, 4, 8, 0, 8],
    ];
    const { necks } = courtOf(site(), [loop(wire)]);
    // The tongue between the bays is 0.62 m wide, more than the machine.
    expect(necks).toEqual([]);
  });

  it("the two wires of a run to a carried part face each other and bound none", () => {
    const wire = [
      ...[0, 0, 4, 0, 4, 1.995, 10, 1.995, 10, 0, 14, 0, 14, 4, 10, 4],
      ...[10, 2.005, 4, 2.005, 4, 4, 0, 4],
    ];
    const line = Float64Array.of(4, 2, 10, 2);
    const run = (to: string) => ({
      pairedRuns: [{ line, from: "boundary", to, lengthM: undefined }],
    });
    expect(courtOf(site(), [loop(wire, run("part"))]).necks).toEqual([]);
    expect(courtOf(site(), [loop(wire, run("Bed"))]).necks.length).toBeGreaterThan(0);
  });

  it("the narrowest is told first", () => {
    const chain = (one: number, other: number) => [
      ...[0, 0, 5, 0, 5, 2 - one / 2, 6, 2 - one / 2, 6, 0, 11, 0, 11, 2 - other / 2],
      ...[12, 2 - other / 2, 12, 0, 17, 0, 17, 4, 12, 4, 12, 2 + other / 2, 11, 2 + other / 2],
      ...[11, 4, 6, 4, 6, 2 + one / 2, 5, 2 + one / 2, 5, 4, 0, 4],
    ];
    for (const wire of [chain(0.48, 0.3), chain(0.3, 0.48)]) {
      const found = measure(passages, courtOf(site(), [loop(wire)]));
      expect(found.said[0]).toContain("lie 0.30 m apart");
      expect(found.measured).toBeCloseTo(0.3, 9);
      expect(found.said.at(-1)).toContain("lie 0.48 m apart");
    }
  });

  it("a pocket of a part that the machine is carried to is a corner, not a passage", () => {
    const line = Float64Array.of(5, 3, 11, 3);
    const said = { pairedRuns: [{ line, from: "boundary", to: "part", lengthM: undefined }] };
    const wire = (deepM: number) => [
      ...[1, 1, 5, 1, 5, 2.995, 11, 2.995, 11, 1, 15, 1, 15, 2.8, 15 + deepM, 2.8],
      ...[15 + deepM, 3.2, 15, 3.2, 15, 5, 11, 5, 11, 3.005, 5, 3.005, 5, 5, 1, 5],
    ];
    expect(measure(passages, courtOf(site(), [loop(wire(0.5), said)])).holds).toBe(true);
  });
});

describe("loops beside each other", () => {
  it("to the north as to the east", () => {
    const of = (apartM: number, things: readonly Thing[] = []) =>
      measure(
        loopSpacing,
        courtOf(site(things), [
          loop(corners(0, 0, 10, 10)),
          loop(corners(0, 10 + apartM, 10, 20), { name: "B" }),
        ]),
      ).holds;
    expect(of(0.5)).toBe(false);
    expect(of(0.61)).toBe(true);
    expect(of(0.1, [thingOf("Bed", box(-60, 10.02, 60, 10.08))])).toBe(true);
  });
});

describe("stations anywhere on earth", () => {
  it("are measured from where they stand", () => {
    const [e, n] = [100, 50];
    const wire = [10, 0, 20, 0, 20, 10, 0, 10, 0, 0].map((x, i) => x + (i % 2 ? n : e));
    const said: Partial<StatedLoop> = {
      station: { atM: [e + 10, n], bearingDeg: 90, given: undefined, straightM: 10 },
    };
    const court = (thing?: Thing) => courtOf(site(thing ? [thing] : []), [loop(wire, said)]);
    expect(measure(station, court()).holds).toBe(true);
    expect(measure(stationStraight, court()).measured).toBe(10);
    expect(measure(stationFront, court()).measured).toBe(2);
    const post = firm(box(e + 9, n + 1, e + 10.5, n + 1.2));
    expect(measure(stationFront, court(post)).measured).toBeCloseTo(1, 9);
  });

  it("say where the machine begins only within one and a half of its widths", () => {
    const dumbbell = [
      ...[0, 0, 5, 0, 5, 1.8, 7, 1.8, 7, 0, 11, 0, 11, 4, 7, 4, 7, 2.2, 5, 2.2, 5, 4, 0, 4],
    ];
    const lost = (atE: number) => {
      const at = {
        atM: [atE, 2] as const,
        bearingDeg: undefined,
        given: undefined,
        straightM: undefined,
      };
      const found = measure(reach, courtOf(site(), [loop(dumbbell, { station: at })]));
      return found.breaches.map(({ atM }) => atM![0] > 6);
    };
    // Rooms begin 0.3 m inside the wire: 0.8 m and 1.2 m from these stations.
    expect(lost(11.5)).toEqual([false]);
    expect(lost(11.95)).toEqual([true]);
  });
});

describe("pegs where two wires come near", () => {
  it("passes are those of the peg's own loop", () => {
    const peg = {
      number: "A1",
      atM: [2, 0.5] as const,
      chainageM: 2.5,
      secondChainageM: undefined,
      on: undefined,
    };
    const other = loop(corners(2.004, 0, 4, 1), { name: "B" });
    const court = courtOf(site(), [loop(corners(0, 0, 2, 1), { pegs: [peg] }), other]);
    expect(measure(chainage, court).holds).toBe(true);
    expect(measure(spans, court).measured).toBe(6);
  });

  it("a pair's two passes come in the order of the wire, however its segments are told", () => {
    // The later wire is found first where the pair runs the other way.
    const wire = [1, 2, 0, 2, 0, 0, 2, 0, 2, 2, 1.005, 2, 1.005, 1, 0.995, 1, 0.995, 2];
    const pegs = [
      {
        number: "A1",
        atM: [1, 2] as const,
        chainageM: 0,
        secondChainageM: undefined,
        on: undefined,
      },
      {
        number: "A2",
        atM: [1, 1.5] as const,
        chainageM: 7.495,
        secondChainageM: 8.505,
        on: "pair",
      },
    ];
    const found = measure(chainage, courtOf(site(), [loop(wire, { pegs })]));
    expect(found.said.filter((text) => text.includes("A2"))).toEqual([]);
  });
});

it("numbers that a plan leaves empty are not stated", () => {
  const line = {
    type: "LineString",
    coordinates: [
      [0, 0],
      [4, 0],
      [4, 3],
      [0, 0],
    ],
  };
  const features = [
    { geometry: line, properties: { kind: "boundary-wire", loop: "A", length_m: null } },
    {
      geometry: { type: "Point", coordinates: [0, 0] },
      properties: { kind: "peg", loop: "A", chainage_m: "" },
    },
    {
      geometry: { type: "Point", coordinates: [4, 0] },
      properties: { kind: "peg", loop: "A", chainage_m: "4" },
    },
  ];
  const read = statedOfLayers([{ file: "p", features }] as never);
  if (!read.ok) throw new Error(read.problem.code);
  const [one] = read.value.loops;
  expect(one!.lengthM).toBeUndefined();
  expect(one!.pegs!.map(({ chainageM }) => chainageM)).toEqual([undefined, 4]);
});

describe("directions and sizes that the plain drawings leave out", () => {
  it("a room of two metres is measured by two metres, not by one", () => {
    const court = courtOf(site(), [loop(corners(0, 0, 6, 6))]);
    const field = fieldOf(court, new Boundaries(court), 0, { passM: 2.7, roomM: 2, stepM: 1 })!;
    const rows = [0, 1, 2, 3, 4, 5, 6].map((r) =>
      [...field.rooms.subarray(7 * r, 7 * r + 7)].join(""),
    );
    // 2.7 m less 0.71 steps: the middle may go wherever it is 1.99 m from the wire.
    const middle = ["0000000", "0000000", "0011100", "0011100", "0011100", "0000000", "0000000"];
    expect(rows).toEqual(middle);
    expect([...field.passes].join("")).toBe(middle.join(""));
  });

  it("a pair that runs east is a pair as one that runs south", () => {
    const slit = (gapM: number) => [
      ...[0, 0, 10, 0, 10, 5 - gapM / 2, 6, 5 - gapM / 2],
      ...[6, 5 + gapM / 2, 10, 5 + gapM / 2, 10, 10, 0, 10],
    ];
    const line = Float64Array.of(10, 5, 6, 5);
    const said = { pairedRuns: [{ line, from: "boundary", to: "Bed", lengthM: undefined }] };
    const of = (gapM: number) => measure(pairGap, courtOf(site(), [loop(slit(gapM), said)]));
    expect(of(0.01).holds).toBe(true);
    expect(of(0.0124).holds).toBe(false);
    expect(of(0.02).measured).toBeCloseTo(0.02, 9);
    expect(measure(pairOpposite, courtOf(site(), [loop(slit(0.01), said)])).holds).toBe(true);
  });

  it("an exclusion loop is looked into from the middle of its longest side", () => {
    const ring = Float64Array.from(corners(7.7, 3.7, 10.3, 4.7));
    const turned = Float64Array.of(10.3, 3.7, 10.3, 4.7, 7.7, 4.7, 7.7, 3.7);
    for (const [one, n] of [
      [ring, 3.73],
      [turned, 4.67],
    ] as const) {
      const said = { exclusionLoops: [{ ring: one, name: "Bed", lengthM: undefined }] };
      const found = measure(exclusionLoops, courtOf(site(), [loop(corners(0, 0, 20, 10), said)]));
      const at = found.breaches.at(-1)!.atM!;
      expect(at[0]).toBeCloseTo(9, 9);
      expect(at[1]).toBeCloseTo(n, 9);
    }
  });

  it("ground that posts alone fence in is not reached, though no wire is near", () => {
    const posts = (apartM: number) => {
      const count = Math.round(3 / apartM);
      const side = Array.from({ length: count }, (_, i) => (3 * i) / count);
      const ring = side.flatMap((d) => [
        [3.5 + d, 3.5],
        [6.5, 3.5 + d],
        [6.5 - d, 6.5],
        [3.5, 6.5 - d],
      ]);
      return ring.map(([e, n]) => firm(box(e! - 0.05, n! - 0.05, e! + 0.05, n! + 0.05)));
    };
    const of = (apartM: number) =>
      measure(reach, courtOf(site(posts(apartM)), [loop(corners(0, 0, 10, 10))]));
    // 0.4 m between posts of 0.1 m; the machine wants 0.496 m.
    const shut = of(0.5);
    expect(shut.holds).toBe(false);
    expect(shut.measured).toBeGreaterThan(5);
    expect(shut.measured).toBeLessThan(9.5);
    expect(of(0.75).holds).toBe(true);
  });
});
