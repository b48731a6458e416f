/** Plans read from features: ours by their kinds, others' as drawn lines; and what cannot be read. */
import type { Geometry } from "geojson";
import { describe, expect, it } from "vitest";
import { statedOfLayers } from "../../../src/check/stated/from-layers.ts";
import { statedOfPlan } from "../../../src/check/stated/from-plan.ts";
import { outOfReach } from "../../../src/check/stated/reach.ts";
import { readableFeatures } from "../../../src/check/stated/readable.ts";
import type { StatedPlan } from "../../../src/check/stated/stated-plan.ts";
import type { GridLayer, RawFeature } from "../../../src/model/features.ts";
import type { Plan } from "../../../src/model/plan.ts";
import { box, siteOf } from "../../plan/shapes.ts";
import { corners, loop } from "./scene.ts";

const feature = (geometry: Geometry | null, properties: object = {}): RawFeature =>
  ({ index: 0, geometry, properties }) as unknown as RawFeature;
const layer = (features: readonly RawFeature[]): GridLayer =>
  ({ file: "plan.geojson", name: "plan", features }) as unknown as GridLayer;
const read = (...features: RawFeature[]) => statedOfLayers([layer(features)]);
function plan(...features: RawFeature[]): StatedPlan {
  const made = read(...features);
  if (!made.ok) throw new Error(made.problem.code);
  return made.value;
}
const line = (...coordinates: number[][]): Geometry => ({ type: "LineString", coordinates });
const point = (e: number, n: number): Geometry => ({ type: "Point", coordinates: [e, n] });
const RING = [
  [0, 0],
  [4, 0],
  [4, 3],
  [0, 0],
];

describe("drawn lines", () => {
  it("are loops: lines, and every ring of a polygon, named A, B, …", () => {
    const { loops, passages, mown } = plan(
      feature(line(...RING)),
      feature({ type: "Polygon", coordinates: [RING, RING] }),
      feature({ type: "MultiPolygon", coordinates: [[RING], [RING]] }),
      feature({ type: "MultiLineString", coordinates: [RING] }),
      feature(point(1, 1)),
      feature(null),
    );
    expect(loops.map(({ name }) => name).join("")).toBe("ABCDEF");
    expect([...loops[0]!.wire]).toEqual([0, 0, 4, 0, 4, 3]);
    expect(loops[0]).toEqual({
      name: "A",
      wire: Float64Array.of(0, 0, 4, 0, 4, 3),
      openM: 0,
      lengthM: undefined,
      direction: undefined,
      pegs: undefined,
      station: undefined,
      pairedRuns: undefined,
      exclusionLoops: undefined,
      guideWires: [],
    });
    expect([passages, mown]).toEqual([undefined, undefined]);
  });

  it("past Z come AA, AB, …", () => {
    const { loops } = plan(...Array.from({ length: 54 }, () => feature(line(...RING))));
    expect([25, 26, 27, 51, 52, 53].map((i) => loops[i]!.name)).toEqual([
      "Z",
      "AA",
      "AB",
      "AZ",
      "BA",
      "BB",
    ]);
  });

  it("that are open say by how much; half a millimetre is none", () => {
    const openM = (gap: number) => plan(feature(line([0, 0], [4, 0], [4, 3], [0, gap]))).loops[0]!;
    expect(openM(0.0005)).toMatchObject({ openM: 0 });
    expect(openM(0.0005).wire).toHaveLength(6);
    expect(openM(0.0006)).toMatchObject({ openM: 0.0006 });
    expect(openM(0.0006).wire).toHaveLength(8);
  });

  it("of fewer than three places are no wire, nor repeated places", () => {
    expect(plan(feature(line([0, 0], [4, 0])), feature(line(...RING))).loops).toHaveLength(1);
    const repeated = line([0, 0], [0, 0], [4, 0], [4, 3], [4, 3], [0, 3], [0, 0]);
    expect([...plan(feature(repeated)).loops[0]!.wire]).toEqual([0, 0, 4, 0, 4, 3, 0, 3]);
  });

  it("are what a plan needs", () => {
    const none = read(feature(point(1, 1)));
    expect(none).toMatchObject({
      ok: false,
      problem: {
        code: "PLAN_WITHOUT_WIRE",
        kind: "input",
        file: "plan.geojson",
        message: "there is no line in the plan that could be wire",
        remedy:
          "Give a plan.geojson of ours, or a file in which the wire is drawn as a line or polygon; the site's files come after it.",
      },
    });
    const nowhere = statedOfLayers([]);
    expect(nowhere.ok).toBe(false);
    if (!nowhere.ok) expect("file" in nowhere.problem).toBe(false);
  });
});

describe("plans of ours", () => {
  const wire = feature(line(...RING), {
    kind: "boundary-wire",
    loop: "A",
    length_m: 12,
    direction: "anticlockwise",
  });

  it("say what they say of each loop", () => {
    const made = plan(
      wire,
      feature(line(...RING), { kind: "boundary-wire", loop: "B" }),
      feature(point(0, 0), {
        kind: "peg",
        loop: "A",
        number: "A1",
        chainage_m: 0,
        second_chainage_m: 7,
        on: "pair",
      }),
      feature(
        {
          type: "MultiPoint",
          coordinates: [
            [1, 0],
            [2, 0],
          ],
        },
        { kind: "peg", loop: "A", chainage_m: "" },
      ),
      feature(point(0, 0), {
        kind: "station",
        loop: "A",
        bearing_deg: 90,
        given: true,
        straight_m: 2,
      }),
      feature(line([1, 1], [2, 1]), {
        kind: "paired-run",
        loop: "A",
        from: "boundary",
        to: "Bed",
        length_m: 1,
      }),
      feature(
        { type: "Polygon", coordinates: [RING] },
        { kind: "exclusion-loop", loop: "A", name: "Bed", length_m: 12 },
      ),
      feature(line([0, 0], [3, 1]), {
        kind: "guide-wire",
        loop: "A",
        length_m: 3,
        clearance_m: 0.5,
      }),
      feature(line([5, 5], [6, 5]), {
        kind: "passage",
        number: 1,
        width_m: 2,
        wire_width_m: 1.4,
        verdict: "mow",
      }),
      feature(
        { type: "Polygon", coordinates: [RING] },
        { kind: "mown-area", loop: "A", area_m2: 6 },
      ),
      feature({ type: "Polygon", coordinates: [RING] }, { kind: "mown-area" }),
    );
    expect(made.loops).toHaveLength(2);
    expect(made.loops[0]).toEqual({
      name: "A",
      wire: Float64Array.of(0, 0, 4, 0, 4, 3),
      openM: 0,
      lengthM: 12,
      direction: "anticlockwise",
      pegs: [
        { number: "A1", atM: [0, 0], chainageM: 0, secondChainageM: 7, on: "pair" },
        {
          number: "",
          atM: [1, 0],
          chainageM: undefined,
          secondChainageM: undefined,
          on: undefined,
        },
        {
          number: "",
          atM: [2, 0],
          chainageM: undefined,
          secondChainageM: undefined,
          on: undefined,
        },
      ],
      station: { atM: [0, 0], bearingDeg: 90, given: true, straightM: 2 },
      pairedRuns: [{ line: Float64Array.of(1, 1, 2, 1), from: "boundary", to: "Bed", lengthM: 1 }],
      exclusionLoops: [{ ring: Float64Array.of(0, 0, 4, 0, 4, 3), name: "Bed", lengthM: 12 }],
      guideWires: [{ line: Float64Array.of(0, 0, 3, 1), lengthM: 3, clearanceM: 0.5 }],
    });
    expect(made.loops[1]).toMatchObject({ name: "B", pegs: undefined, station: undefined });
    expect(made.loops[1]).toMatchObject({ pairedRuns: undefined, exclusionLoops: undefined });
    expect(made.passages).toEqual([
      {
        number: "1",
        centreLine: Float64Array.of(5, 5, 6, 5),
        widthM: 2,
        wireWidthM: 1.4,
        verdict: "mow",
      },
    ]);
    expect(made.mown).toEqual([{ loop: "A", areaM2: 6 }]);
    expect(plan(wire)).toMatchObject({ passages: undefined, mown: undefined });
  });

  it("a line of no kind, or a line of two places, is no wire", () => {
    const short = feature(line([0, 0], [1, 0]), { kind: "boundary-wire" });
    expect(plan(wire, feature(line(...RING)), short).loops).toHaveLength(1);
    expect(read(short)).toMatchObject({ ok: false, problem: { code: "PLAN_WITHOUT_WIRE" } });
  });

  it("what is not named gets a name", () => {
    const bare = feature(line(...RING), { kind: "boundary-wire" });
    expect(plan(bare, bare).loops.map(({ name }) => name)).toEqual(["A", "B"]);
    const made = plan(
      wire,
      feature(line([1, 1], [2, 1]), { kind: "paired-run", loop: "A" }),
      feature({ type: "Polygon", coordinates: [RING] }, { kind: "exclusion-loop", loop: "A" }),
      feature(line([5, 5], [6, 5]), { kind: "passage" }),
      feature(null, { kind: "mown-area", area_m2: 2 }),
    );
    expect(made.loops[0]!.pairedRuns![0]).toMatchObject({ from: "?", to: "?" });
    expect(made.loops[0]!.exclusionLoops![0]).toMatchObject({ name: "?" });
    expect(made.passages![0]).toMatchObject({ number: "?" });
    expect(made.mown).toEqual([{ loop: "?", areaM2: 2 }]);
  });

  it.each([
    [true, true],
    ["true", true],
    [false, false],
    ["false", false],
    [null, undefined],
    [undefined, undefined],
  ])("a station that is given as %s", (given, is) => {
    const made = plan(wire, feature(point(0, 0), { kind: "station", loop: "A", given }));
    expect(made.loops[0]!.station!.given).toBe(is);
  });
});

describe("values that cannot be read", () => {
  const kept = (properties: object) => {
    const { features, findings } = readableFeatures([feature(null, properties)], undefined);
    return {
      properties: features[0]!.properties,
      messages: findings.map(({ message }) => message),
    };
  };

  it.each(
    "length_m chainage_m second_chainage_m bearing_deg straight_m clearance_m area_m2 width_m wire_width_m".split(
      " ",
    ),
  )("%s is a number", (key) => {
    expect(kept({ [key]: "1.5" })).toEqual({ properties: { [key]: 1.5 }, messages: [] });
    expect(kept({ [key]: true }).properties).toEqual({});
    expect(kept({ kind: "peg", [key]: "far" }).messages).toEqual([
      `${key} of peg is "far": it cannot be read, and is not measured.`,
    ]);
    expect(kept({ [key]: Infinity }).properties).toEqual({});
    for (const none of [null, ""])
      expect(kept({ [key]: none }).properties).toEqual({ [key]: none });
  });

  it.each("loop number name from to on direction verdict".split(" "))(
    "%s is a short text",
    (key) => {
      expect(kept({ [key]: 7 }).properties).toEqual({ [key]: "7" });
      expect(kept({ [key]: [1] })).toEqual({
        properties: {},
        messages: [`${key} of undefined is [1]: it cannot be read, and is not measured.`],
      });
      expect(kept({ [key]: "x".repeat(80) }).properties).toEqual({ [key]: "x".repeat(80) });
      expect(kept({ [key]: "x".repeat(81) }).properties).toEqual({ [key]: `${"x".repeat(80)}…` });
    },
  );

  it("other values stay as they are; many of one kind are one finding", () => {
    expect(kept({ colour: [1, 2] })).toEqual({ properties: { colour: [1, 2] }, messages: [] });
    const bad = feature(null, { kind: "peg", chainage_m: "y".repeat(99) });
    const { findings } = readableFeatures([bad, bad, bad], "p.json");
    expect(findings).toEqual([
      {
        code: "PLAN_VALUE_UNREADABLE",
        severity: "error",
        file: "p.json",
        message: `chainage_m of peg is "${"y".repeat(79)}… and the like, 3 times: it cannot be read, and is not measured.`,
        remedy: "Write it as docs/formats/plan-geojson.md says, or leave it out.",
      },
    ]);
    expect("file" in readableFeatures([bad], undefined).findings[0]!).toBe(false);
    expect(read(feature(line(...RING), { kind: "boundary-wire", length_m: "x" }))).toMatchObject({
      ok: true,
      findings: [{ code: "PLAN_VALUE_UNREADABLE", file: "plan.geojson" }],
    });
  });
});

describe("a plan elsewhere", () => {
  const site = siteOf([box(0, 0, 100, 50)]);
  const bare: StatedPlan = { loops: [], passages: undefined, mown: undefined };
  const at = (e: number, n: number) => ({ ...bare, loops: [loop([10, 10, 20, 10, e, n])] });

  it("is one with anything 10 km from the lawns, in any direction", () => {
    for (const [e, n] of [
      [10_099, 20],
      [-9_999, 20],
      [20, 10_049],
      [20, -9_999],
      [100 + 7070, 50 + 7070],
    ] as const) {
      expect(outOfReach(at(e, n), site, "p.json")).toBeUndefined();
    }
    for (const [e, n] of [
      [10_101, 20],
      [-10_001, 20],
      [20, 10_051],
      [20, -10_001],
      [100 + 7072, 50 + 7072],
    ] as const) {
      expect(outOfReach(at(e, n), site, "p.json")).toMatchObject({ code: "PLAN_ELSEWHERE" });
    }
    expect(outOfReach(at(25_100, 20), site, "p.json")).toEqual({
      code: "PLAN_ELSEWHERE",
      kind: "input",
      file: "p.json",
      message: "something in the plan lies 25 km from the lawns; at most 10 km are measured",
      remedy: "Check that the plan is of this site, that its coordinates are right, and --crs.",
    });
    expect("file" in outOfReach(at(25_100, 20), site, undefined)!).toBe(false);
    expect(outOfReach(at(Number.NaN, 20), site, undefined)).toMatchObject({
      code: "PLAN_ELSEWHERE",
    });
  });

  it("without a site: 100 km from the beginning of its wire", () => {
    expect(outOfReach(at(100_000, 10), undefined, undefined)).toBeUndefined();
    expect(outOfReach(at(100_011, 10), undefined, undefined)?.message).toBe(
      "something in the plan lies 100 km from the rest of it; at most 100 km are measured",
    );
  });

  it("whatever it is that lies there", () => {
    const far = Float64Array.of(1, 1, 99_999, 1);
    const said = { lengthM: undefined, clearanceM: undefined, name: "", from: "", to: "" };
    const peg = {
      number: "",
      atM: [99_999, 1] as const,
      chainageM: undefined,
      secondChainageM: undefined,
      on: undefined,
    };
    const station = {
      atM: [1, 99_999] as const,
      bearingDeg: undefined,
      given: undefined,
      straightM: undefined,
    };
    for (const more of [
      { pairedRuns: [{ ...said, line: far }] },
      { exclusionLoops: [{ ...said, ring: far }] },
      { guideWires: [{ ...said, line: far }] },
      { pegs: [peg] },
      { station },
    ]) {
      const one = { ...bare, loops: [loop(corners(1, 1, 9, 9), more)] };
      expect(outOfReach(one, site, undefined)).toMatchObject({ code: "PLAN_ELSEWHERE" });
    }
    const passage = { number: "1", centreLine: far, widthM: 1, wireWidthM: 1, verdict: "mow" };
    const only = outOfReach({ ...bare, passages: [passage] }, site, undefined);
    expect(only).toMatchObject({ code: "PLAN_ELSEWHERE" });
    expect(
      outOfReach({ ...bare, loops: [loop(corners(1, 1, 9, 9))] }, site, undefined),
    ).toBeUndefined();
  });

  it("or longer than 500 km altogether", () => {
    const zigzag = (times: number) =>
      Array.from({ length: times }, (_, i) => [0, i % 2 ? 5000 : 0]).flat();
    expect(outOfReach({ ...bare, loops: [loop(zigzag(101))] }, site, undefined)).toBeUndefined();
    expect(outOfReach({ ...bare, loops: [loop(zigzag(103))] }, site, "p.json")).toEqual({
      code: "PLAN_TOO_LONG",
      kind: "input",
      file: "p.json",
      message: "the lines of the plan are 510 km long together; at most 500 km are measured",
      remedy: "Check its coordinates; measure a large estate in pieces.",
    });
    const two = { ...bare, loops: [loop(zigzag(60)), loop(zigzag(60))] };
    expect(outOfReach(two, site, undefined)).toMatchObject({ code: "PLAN_TOO_LONG" });
    expect("file" in outOfReach(two, site, undefined)!).toBe(false);
  });
});

it("a plan of ours is taken at its word", () => {
  const made = {
    loops: [
      {
        name: "A",
        wire: Float64Array.of(0, 0, 1, 0, 1, 1),
        lengthM: 3.4,
        pegs: [{ number: "A1", atM: [0, 0], chainageM: 0, on: "station" }],
        station: { atM: [0, 0], bearingDeg: 90, given: false, straightM: 1 },
        pairedRuns: [],
        exclusionLoops: [],
        guideWires: [],
      },
    ],
    passages: [
      {
        number: 1,
        centreLine: Float64Array.of(0, 0, 1, 1),
        widthM: 0.5,
        wireWidthM: -0.1,
        verdict: "shut",
      },
    ],
    mown: [{ loop: "A", areaM2: 0.5, part: 1, area: undefined }],
  } as unknown as Plan;
  expect(statedOfPlan(made)).toEqual({
    loops: [
      {
        name: "A",
        wire: Float64Array.of(0, 0, 1, 0, 1, 1),
        openM: 0,
        lengthM: 3.4,
        direction: "anticlockwise",
        pegs: [
          { number: "A1", atM: [0, 0], chainageM: 0, secondChainageM: undefined, on: "station" },
        ],
        station: { atM: [0, 0], bearingDeg: 90, given: false, straightM: 1 },
        pairedRuns: [],
        exclusionLoops: [],
        guideWires: [],
      },
    ],
    passages: [
      {
        number: "1",
        centreLine: Float64Array.of(0, 0, 1, 1),
        widthM: 0.5,
        wireWidthM: 0,
        verdict: "shut",
      },
    ],
    mown: [{ loop: "A", areaM2: 0.5 }],
  });
});
