/** The planner's small helpers on figures known by hand. */
import { describe, expect, it } from "vitest";
import type { AreaM } from "../../src/model/geometry.ts";
import { BestFirst } from "../../src/plan/best-first.ts";
import { loopName } from "../../src/plan/loop-name.ts";
import { nearestPoints } from "../../src/plan/nearest-points.ts";
import { verdictOf } from "../../src/plan/passages.ts";
import { chainages, numberPegs, wireOf } from "../../src/plan/pegs.ts";
import { directionsAt, nearestPlace } from "../../src/plan/ring-place.ts";
import { whereRingsMeet } from "../../src/plan/rings-meet.ts";
import type { Route } from "../../src/plan/route.ts";
import { shareStations } from "../../src/plan/share-stations.ts";
import { hasPlace, leftOutAt, unsoundAt } from "../../src/plan/sound-wire.ts";
import { pairsNearer } from "../../src/plan/spaced.ts";
import { pegSpacingM } from "../../src/plan/spacing.ts";
import {
  loopBound,
  meanLinkM,
  ringsM,
  roughLoad,
  wireNeededM,
} from "../../src/plan/split-bound.ts";
import { leadMark, marksOf, rankOf, scoreOf } from "../../src/plan/station-marks.ts";
import { bearingDeg } from "../../src/plan/station-search.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { box } from "./shapes.ts";

const profile = builtInProfile("medium");

it("loops are A to Z, then AA, AB, …", () => {
  expect([0, 25, 26, 27, 51, 52, 701, 702].map(loopName)).toEqual([
    "A",
    "Z",
    "AA",
    "AB",
    "AZ",
    "BA",
    "ZZ",
    "AAA",
  ]);
});

it("pegs are planned a fifth of a per mille nearer than allowed", () => {
  expect(pegSpacingM(profile)).toBeCloseTo(0.9998, 12);
});

it("a passage is shut under 0.9 m, driven under 1.6 m, else mown", () => {
  const of = (m: number) => verdictOf(m, profile);
  expect([0.85, 0.95, 1.55, 1.65].map(of)).toEqual(["shut", "drive", "drive", "mow"]);
});

it("bearings go clockwise from north", () => {
  expect(
    [
      [0, 1],
      [1, 0],
      [0, -1],
      [-1, 0],
      [1, 1],
    ].map((at) => bearingDeg(at as never)),
  ).toEqual([0, 90, 180, 270, 45]);
});

describe("places on a ring", () => {
  const ring = box(0, 0, 8, 4).shell;

  it("the nearest, by edge and share", () => {
    expect(nearestPlace(ring, [2, -3])).toEqual({ vertex: 0, share: 0.25, atM: [2, 0] });
    expect(nearestPlace(ring, [9, 1])).toEqual({ vertex: 1, share: 0.25, atM: [8, 1] });
    expect(nearestPlace(ring, [-1, 1])).toEqual({ vertex: 3, share: 0.75, atM: [0, 1] });
  });

  it("directions on and back: along the edge, or of both edges at a corner", () => {
    const at = (vertex: number, share: number) =>
      directionsAt(ring, { vertex, share, atM: [0, 0] });
    expect(at(0, 0.5)).toEqual({ on: [1, 0], back: [-1, 0] });
    expect(at(3, 0.5)).toEqual({ on: [0, -1], back: [0, 1] });
    expect(at(0, 1)).toEqual({ on: [0, 1], back: [-1, 0] });
    expect(at(1, 0)).toEqual({ on: [0, 1], back: [-1, 0] });
    expect(at(3, 1)).toEqual({ on: [1, 0], back: [0, 1] });
    expect(at(0, 0)).toEqual({ on: [1, 0], back: [0, 1] });
  });
});

it("the nearest of many points, within reach, whichever cell it lies in", () => {
  const places = [
    [0.1, 0.1],
    [10, 10],
  ] as const;
  const points = [
    [-0.5, 0.1],
    [0.1, -0.3],
    [0.9, 0.9],
    [11, 10],
    [10.9, 10.5],
    [9.5, 9.5],
  ] as const;
  expect(nearestPoints(points, places, 1)).toEqual([1, 5]);
  expect(nearestPoints(points, places, 0.3)).toEqual([-1, -1]);
  // A metre exactly is not within a metre.
  expect(nearestPoints([[1, 0]], [[0, 0]], 1)).toEqual([-1]);
  expect(
    nearestPoints(
      [
        [0.5, 0],
        [0, 0.5],
      ],
      [[0, 0]],
      1,
    ),
  ).toEqual([0]);
});

describe("stations and parts", () => {
  const parts = [box(0, 0, 10, 10), box(20, 0, 30, 10)];
  const at = (name: string, e: number, n = 5) => ({ name, atM: [e, n] as const, source: {} });

  it("each goes to the part whose edge is nearest; of two the nearer", () => {
    const shared = shareStations(parts, [at("far", 12), at("near", 9.5), at("other", 21)]);
    expect(shared.wanted).toEqual([
      [9.5, 5],
      [21, 5],
    ]);
    expect(shared.unused.map(({ name }) => name)).toEqual(["far"]);
    expect(shareStations(parts, [at("east", 19)]).wanted).toEqual([undefined, [19, 5]]);
    expect(shareStations(parts, [])).toEqual({ wanted: [undefined, undefined], unused: [] });
    expect(shareStations([], [at("x", 1)]).unused).toHaveLength(1);
  });
});

describe("rings that meet", () => {
  const square = box(0, 0, 4, 4).shell;

  it("are told by a place", () => {
    expect(whereRingsMeet([square])).toBeUndefined();
    expect(whereRingsMeet([square, box(5, 0, 9, 4).shell])).toBeUndefined();
    expect(whereRingsMeet([square, box(1, 1, 2, 2).shell])).toBeUndefined();
    expect(whereRingsMeet([square, box(3, 1, 9, 2).shell])).toEqual([4, 0]);
    // Corner on edge, and a bow tie.
    expect(whereRingsMeet([square, Float64Array.of(4, 2, 6, 1, 6, 3)])).toEqual([4, 0]);
    expect(whereRingsMeet([Float64Array.of(0, 0, 4, 0, 0, 3, 4, 3)])).toEqual([4, 0]);
    expect(whereRingsMeet([Float64Array.of(0, 0, 4, 0, 2, 3)])).toBeUndefined();
  });

  it("are unsound, as are places that are none and pegs that the walk leaves out", () => {
    expect([hasPlace(square), hasPlace(Float64Array.of(0, Number.NaN))]).toEqual([true, false]);
    expect(unsoundAt(square)).toBeUndefined();
    expect(unsoundAt(Float64Array.of(0, 0, 4, 0, Number.NaN, 3, 4, 3))).toEqual([4, 0]);
    expect(unsoundAt(Float64Array.of(Number.NaN, 0, 4, 0))).toEqual([0, 0]);
    const nodes = [{ atM: [1, 1] }, { atM: [2, 2] }] as never;
    expect(leftOutAt({ nodes, stops: [{ node: 0 }] as never })).toEqual([2, 2]);
    expect(leftOutAt({ nodes, stops: [{ node: 1 }, { node: 0 }] as never })).toBeUndefined();
  });
});

describe("wires of different loops", () => {
  const rings = (apart: number) => [
    [box(0, 0, 10, 10).shell],
    [box(10 + apart, 0, 20, 10).shell],
    [box(100, 0, 110, 10).shell],
  ];

  it("nearer than a distance are pairs, nearest place first", () => {
    expect(pairsNearer(rings(1), 1)).toEqual([]);
    const [pair, ...more] = pairsNearer(rings(0.5), 1);
    expect(more).toEqual([]);
    expect(pair).toMatchObject({ first: 0, second: 1, distanceM: 0.5 });
    expect(pair!.atM[0]).toBe(10);
    expect(pair!.segments.map((line) => [...line])).toContainEqual([10, 0, 10, 10]);
    // Rings of one loop are no pair.
    expect(pairsNearer([[box(0, 0, 10, 10).shell, box(10.2, 0, 20, 10).shell]], 1)).toEqual([]);
    const three = [[box(0, 0, 9, 9).shell], [box(9.5, 0, 19, 9).shell], [box(0, 9.5, 9, 19).shell]];
    expect(pairsNearer(three, 1).map(({ first, second }) => [first, second])).toEqual([
      [0, 1],
      [0, 2],
      [1, 2],
    ]);
  });
});

describe("wire and loads of a piece", () => {
  const holed: AreaM = {
    shell: box(0, 0, 20, 10).shell,
    holes: [box(5, 4, 7, 6).shell, box(12, 4, 14, 6).shell],
  };

  it("rings, and out and back on the shortest ties", () => {
    expect(ringsM(holed)).toBe(60 + 16);
    // Each island is 4 m from the long sides and 5 m from the other.
    expect(meanLinkM(holed)).toBe(4);
    expect(wireNeededM(holed)).toBe(76 + 2 * 8);
    expect([wireNeededM(box(0, 0, 20, 10)), meanLinkM(box(0, 0, 20, 10))]).toEqual([60, 0]);
  });

  it("the greater share of a limit counts; fewer loops than by lawn or wire will not do", () => {
    // 3000 m² and 500 m.
    expect(roughLoad(holed, 150, profile)).toEqual({ lawnM2: 150, wireM: 92, worst: 92 / 500 });
    expect(roughLoad(holed, 1500, profile).worst).toBe(0.5);
    const reaching = { ...profile, mowing: { pastWireM: 0.5 } };
    expect(roughLoad(holed, 150, reaching).lawnM2).toBe(150 + 38);
    expect(loopBound(holed, 150, profile)).toEqual({ byArea: 1, byWire: 1 });
    expect(loopBound(holed, 3000, profile).byArea).toBe(1);
    expect(loopBound(holed, 3001, profile).byArea).toBe(2);
    expect(loopBound(box(0, 0, 400, 100), 40_000, profile)).toEqual({ byArea: 14, byWire: 3 });
    // 1000 m of rings are two loops; 39,789 m² of lawn are more than two circles of 500 m round.
    expect(loopBound(box(0, 0, 499, 1), 499, profile).byWire).toBe(2);
    expect(loopBound(box(0, 0, 250, 250), 62_500, profile).byWire).toBe(4);
  });
});

describe("marks of a station's place", () => {
  const place = { straightM: 2, clearAheadM: 2.5 };

  it("twice what is wanted has full marks", () => {
    const marks = marksOf(place, false, profile);
    expect(marks).toMatchObject({ straight: 0.5, front: 0.5, corner: 1, water: 1, public: 1 });
    expect([marks.level, marks.shade, marks.lead]).toEqual([undefined, undefined, undefined]);
    expect(marksOf({ straightM: 9, clearAheadM: 9 }, false, profile)).toMatchObject({
      straight: 1,
      front: 1,
    });
    const nothing = { ...profile, station: { ...profile.station, straightM: 0 } };
    expect(marksOf({ straightM: 0, clearAheadM: 1 }, false, nothing).straight).toBe(1);
  });

  it("slope and hollow, shade, lead and what is near", () => {
    const of = (more: object) => marksOf({ ...place, ...more }, true, profile);
    expect(of({}).level).toBe(0.5);
    // 5 % at most: 2.5 % has three quarters, 10 % none; a hollow of 5 cm takes a quarter.
    expect(of({ slopePercent: 2.5 }).level).toBe(0.75);
    expect(of({ slopePercent: 2.5, hollowM: 0.05 }).level).toBeCloseTo(0.5, 12);
    expect(of({ slopePercent: 12 }).level).toBe(0);
    expect(of({ sun: { hotShade: 0.3 } }).shade).toBe(0.3);
    expect(of({ lead: { lengthM: 15, acrossLawn: false } }).lead).toBe(0.5);
    expect(leadMark(15, true, 15)).toBe(0.25);
    expect(leadMark(0, false, 15)).toBe(1);
    expect(of({ cornerM: 1, passageM: 2, islandM: 3, waterM: 4, publicM: 9 })).toMatchObject({
      corner: 0.2,
      passage: 0.4,
      island: 0.6,
      water: 0.8,
      public: 1,
    });
  });

  it("the score is the weighted mean of what is known", () => {
    // Weights: straight 2, level 3.
    expect(scoreOf({ straight: 1, level: 0 }, profile)).toBeCloseTo(0.4, 12);
    expect(scoreOf({ straight: 0.5 }, profile)).toBe(0.5);
    expect(scoreOf({}, profile)).toBe(0);
  });

  it("straight wire and clear lawn come before all else, then level ground, then the score", () => {
    const rank = (more: object, score = 0) => rankOf({ ...place, ...more }, score, profile);
    expect(rank({})).toBe(14);
    expect(rank({}, 0.5)).toBe(14.5);
    expect(rank({ slopePercent: 5 })).toBe(14);
    expect(rank({ slopePercent: 5.1 })).toBe(13);
    expect(rank({ straightM: 1 })).toBe(2.5);
    expect(rank({ straightM: 1, clearAheadM: 1.25, slopePercent: 9 })).toBe(0.75);
  });
});

describe("pegs along a route", () => {
  // A square of 2 m with a pair from its north side: 10 mm apart, pegs 3 and 4 shared.
  const node = (e: number, n: number, more: object = {}) => ({
    atM: [e, n],
    onPair: false,
    isStation: false,
    ...more,
  });
  const route = {
    nodes: [
      node(0, 0, { isStation: true }),
      node(2, 0),
      node(2, 2),
      node(1, 2, { onPair: true }),
      node(1, 1, { onPair: true }),
      node(0, 2),
      node(0, 1),
    ],
    stops: [
      { node: 0, atM: [0, 0] },
      { node: 1, atM: [2, 0] },
      { node: 2, atM: [2, 2] },
      { node: 3, atM: [1.005, 2] },
      { node: 4, atM: [1.005, 1] },
      { node: 4, atM: [0.995, 1] },
      { node: 3, atM: [0.995, 2] },
      { node: 5, atM: [0, 2] },
      { node: 6, atM: [0, 1] },
    ],
  } as unknown as Route;

  it("chainages add up the wire, the last span closes it", () => {
    const { atM, lengthM } = chainages(route.stops);
    expect([...atM].map((m) => Math.round(1000 * m) / 1000)).toEqual([
      0, 2, 4, 4.995, 5.995, 6.005, 7.005, 8, 9,
    ]);
    expect(lengthM).toBeCloseTo(10, 9);
    expect([...wireOf(route.stops)].slice(6, 10)).toEqual([1.005, 2, 1.005, 1]);
  });

  it("are numbered by their first touch, with the second beside it, and by why they stand", () => {
    const pegs = numberPegs("B", route);
    expect(pegs.map(({ number, on }) => `${number} ${on}`)).toEqual([
      "B1 station",
      "B2 bend",
      "B3 bend",
      "B4 pair",
      "B5 pair",
      "B6 bend",
      "B7 straight",
    ]);
    expect(pegs[3]!.chainageM).toBeCloseTo(4.995, 9);
    expect(pegs[3]!.secondChainageM).toBeCloseTo(7.005, 9);
    expect(pegs[4]!.secondChainageM).toBeCloseTo(6.005, 9);
    expect(pegs[0]!.secondChainageM).toBeUndefined();
    expect(pegs[3]!.atM).toEqual([1, 2]);
  });
});

it("a heap gives all back, best first", () => {
  const numbers = [5, 3, 9, 1, 7, 3, 8, 2];
  const heap = new BestFirst([...numbers], (a, b) => a < b);
  for (const more of [4, 0, 6]) heap.push(more);
  const out: number[] = [];
  for (let one = heap.pop(); one !== undefined; one = heap.pop()) out.push(one);
  expect(out).toEqual([0, 1, 2, 3, 3, 4, 5, 6, 7, 8, 9]);
  expect(heap.pop()).toBeUndefined();
  heap.push(2);
  expect(heap.pop()).toBe(2);
});
