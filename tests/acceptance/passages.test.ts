/** Passages: found where there is one, measured, and not invented where there is none. */
import { describe, expect, it } from "vitest";
import type { Xy } from "../support/plane.ts";
import { judgeWritten, type Options, planDrawn } from "../support/planning.ts";
import { type Drawn, disc, Pen, rectangle } from "../support/sites.ts";

/** Two squares of 20 m joined in the middle of their sides by a neck. */
function squaresWithNeck(widthM: number, lengthM = 6, turnDeg = 0): Drawn {
  const [low, high] = [10 - widthM / 2, 10 + widthM / 2];
  const far = 20 + lengthM;
  return new Pen({ turnDeg }).lawn([
    [0, 0],
    [20, 0],
    [20, low],
    [far, low],
    [far, 0],
    [far + 20, 0],
    [far + 20, 20],
    [far, 20],
    [far, high],
    [20, high],
    [20, 20],
    [0, 20],
  ]).drawn;
}

/** Narrowest wire to wire that each built-in profile drives through, and mows (docs/profile.md). */
const PROFILES = {
  small: { drive: 0.6, mow: 1.2, report: 1.6 },
  medium: { drive: 0.9, mow: 1.6, report: 2 },
  large: { drive: 1.2, mow: 2, report: 2.5 },
} as const;
type Name = keyof typeof PROFILES;
const NAMES = Object.keys(PROFILES) as Name[];

function verdictOf(wireWidthM: number, name: Name): string {
  if (wireWidthM < PROFILES[name].drive) return "shut";
  return wireWidthM < PROFILES[name].mow ? "drive" : "mow";
}

async function planned(drawn: Drawn, options: Options = {}) {
  const written = await planDrawn(drawn, options);
  const { breaches } = judgeWritten(written, drawn.truth);
  expect(breaches).toEqual([]);
  return written.summary;
}

describe("two squares of 20 m joined by a neck", () => {
  it.each(NAMES)("1.40 m wide and 6 m long: one passage, for the %s machine", async (profile) => {
    const summary = await planned(squaresWithNeck(1.4), { profile });
    const verdict = verdictOf(0.8, profile);
    expect(summary.passages).toHaveLength(1);
    const [passage] = summary.passages;
    expect(Math.abs(passage!.width_m - 1.4)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(passage!.wire_width_m - 0.8)).toBeLessThanOrEqual(0.01);
    expect(passage!.length_m).toBeGreaterThan(5);
    expect(passage!.length_m).toBeLessThan(8.5);
    expect(passage!.verdict).toBe(verdict);
    // One square and half the neck lie beyond its narrowest place, wherever along it that is put.
    expect(passage!.beyond_m2).toBeGreaterThan(395);
    expect(passage!.beyond_m2).toBeLessThan(410);
    expect(summary.loops.map((loop) => loop.loop)).toEqual(verdict === "shut" ? ["A", "B"] : ["A"]);
  });

  const cases = [0.5, 0.7, 0.95, 1.25, 1.5, 1.55, 1.85, 2.15, 2.4, 2.65, 3].flatMap((width) =>
    [0, 33, 71].map((turn) => [width, turn] as const),
  );
  it.each(cases)("%f m wide, turned by %i°", async (width, turnDeg) => {
    const profile = NAMES[Math.round(width * 100 + turnDeg) % 3]!;
    const wire = width - 0.6;
    const summary = await planned(squaresWithNeck(width, 6, turnDeg), { profile });
    const shut = verdictOf(wire, profile) === "shut";
    expect(summary.loops).toHaveLength(shut ? 2 : 1);
    if (wire >= PROFILES[profile].report) {
      expect(summary.passages).toEqual([]);
      return;
    }
    expect(summary.passages).toHaveLength(1);
    expect(Math.abs(summary.passages[0]!.width_m - width)).toBeLessThanOrEqual(0.005);
    // Where the two set-ins overlap no width is left between the wires.
    const left = Math.max(0, wire);
    expect(Math.abs(summary.passages[0]!.wire_width_m - left)).toBeLessThanOrEqual(0.01);
    expect(summary.passages[0]!.verdict).toBe(verdictOf(wire, profile));
  });

  it("as short as a gate: the passage is the gate", async () => {
    const summary = await planned(squaresWithNeck(1.6, 0.3, 12));
    expect(summary.passages).toHaveLength(1);
    expect(summary.passages[0]).toMatchObject({ verdict: "drive" });
    expect(summary.passages[0]!.width_m).toBeCloseTo(1.6, 2);
  });
});

describe("plain shapes have no passage and one loop", () => {
  const star = Array.from({ length: 10 }, (_, i): Xy => {
    const radius = i % 2 === 0 ? 20 : 9;
    const angle = (2 * Math.PI * i) / 10 + 0.1;
    return [radius * Math.cos(angle), radius * Math.sin(angle)];
  });
  const shapes: readonly (readonly [string, Xy[]])[] = [
    ["disc", disc([0, 0], 12)],
    ["small disc", disc([0, 0], 2)],
    [
      "L",
      [
        [0, 0],
        [20, 0],
        [20, 8],
        [8, 8],
        [8, 20],
        [0, 20],
      ],
    ],
    [
      "U",
      [
        [0, 0],
        [24, 0],
        [24, 20],
        [16, 20],
        [16, 8],
        [8, 8],
        [8, 20],
        [0, 20],
      ],
    ],
    [
      "triangle",
      [
        [0, 0],
        [30, 0],
        [5, 22],
      ],
    ],
    [
      "thin triangle",
      [
        [0, 0],
        [40, 0],
        [20, 6],
      ],
    ],
    ["long rectangle", rectangle(60, 3)],
    ["long narrow rectangle", rectangle(40, 1.7)],
    ["square", rectangle(15, 15)],
    ["star", star],
    ["ellipse", disc([0, 0], 1).map(([x, y]): Xy => [25 * x, 6 * y])],
  ];
  it.each(shapes)("%s", async (_, outline) => {
    for (const [turnDeg, profile] of [
      [0, "small"],
      [38, "medium"],
    ] as const) {
      const summary = await planned(new Pen({ turnDeg }).lawn(outline).drawn, { profile });
      expect(summary.passages).toEqual([]);
      expect(summary.loops).toHaveLength(1);
    }
  });
});

describe("passages beside islands", () => {
  it("an island off the middle of a round lawn: the narrow side of the ring round it", async () => {
    // Lawn of radius 10, bed of radius 6 whose centre is 2.6 m out: 1.4 m left on one side.
    const drawn = new Pen({ turnDeg: 5 })
      .lawn(disc([0, 0], 10, 720))
      .bed(disc([2.6, 0], 6, 720)).drawn;
    const summary = await planned(drawn, { profile: "small" });
    expect(summary.passages).toHaveLength(1);
    expect(summary.passages[0]!.width_m).toBeCloseTo(1.4, 2);
    expect(summary.passages[0]!.wire_width_m).toBeCloseTo(0.8, 2);
    expect(summary.passages[0]).toMatchObject({ verdict: "drive" });
    expect(summary.loops).toMatchObject([{ exclusion_loops: 1 }]);
  });

  it("the gap between two islands, driven through or shut with one loop round both", async () => {
    const drawn = new Pen()
      .lawn(rectangle(40, 25))
      .bed(rectangle(5, 5, [12, 10]), "West")
      .bed(rectangle(5, 5, [18.5, 10]), "East").drawn;
    const wide = await planned(drawn);
    expect(wide.passages).toMatchObject([{ verdict: "drive", beyond_m2: 0 }]);
    expect(wide.passages[0]!.width_m).toBeCloseTo(1.5, 2);
    expect(wide.loops).toMatchObject([{ exclusion_loops: 2 }]);
    const shut = await planned(drawn, { profile: "large" });
    expect(shut.passages).toMatchObject([{ verdict: "shut" }]);
    expect(shut.loops).toMatchObject([{ exclusion_loops: 1 }]);
    expect(shut.findings.map((finding) => finding.code)).toContain("ISLANDS_MERGED");
  });

  it("an island near the edge, passed behind or taken into the edge", async () => {
    const drawn = new Pen({ turnDeg: 8 })
      .lawn(rectangle(40, 25))
      .bed(rectangle(6, 4, [15, 1.4])).drawn;
    const open = await planned(drawn, { profile: "small" });
    expect(open.passages).toMatchObject([{ verdict: "drive", beyond_m2: 0 }]);
    expect(open.passages[0]!.width_m).toBeCloseTo(1.4, 2);
    expect(open.loops).toMatchObject([{ exclusion_loops: 1 }]);
    const joined = await planned(drawn);
    expect(joined.passages).toMatchObject([{ verdict: "shut" }]);
    expect(joined.loops).toMatchObject([{ exclusion_loops: 0 }]);
  });
});
