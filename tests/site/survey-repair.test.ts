/**
 * Repairs of what surveys and tracings hold beyond single outlines. Areas are elementary geometry.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { difference } from "../../src/geometry/overlay.ts";
import { lineLengthM, totalAreaM2 } from "../../src/geometry/rings.ts";
import type { GridLayer } from "../../src/model/features.ts";
import type { Site } from "../../src/model/site.ts";
import { REPAIR_TOLERANCES, type RepairTolerances } from "../../src/model/site-rules.ts";
import { labelEdges } from "../../src/plan/edge-kinds.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { buildSite } from "../../src/site/build-site.ts";
import { box, codes, type Drawn, grid, layer, line, polygon, rect, ring } from "./builder.ts";

beforeAll(() => loadEngine());

function built(layers: readonly GridLayer[], tolerances: Partial<RepairTolerances> = {}) {
  const outcome = buildSite({
    name: "test",
    layers,
    grid,
    profile: builtInProfile(),
    tolerances: { ...REPAIR_TOLERANCES, ...tolerances },
  });
  if (!outcome.ok) throw new Error(outcome.problem.message);
  const finding = (code: string) => outcome.findings.find((one) => one.code === code);
  return { site: outcome.value, codes: codes(outcome.findings), finding };
}

const survey = (...drawn: Drawn[]) => [layer("survey", drawn)];
const lawnM2 = (site: Site) => totalAreaM2(site.lawns.map((lawn) => lawn.area));
const groundM2 = (site: Site) =>
  totalAreaM2(
    difference(
      site.lawns.map((lawn) => lawn.area),
      site.things.flatMap((thing) => thing.areas),
    ),
  );

describe("adjoining lawns digitised twice", () => {
  const apart = (gapM: number) =>
    survey([rect(0, 0, 20), { role: "lawn" }], [rect(20 + gapM, 0, 20), { role: "lawn" }]);

  it("are one ground across a gap up to the tolerance, which the site file sets", () => {
    expect(built(apart(0.019)).site.lawns).toHaveLength(1);
    expect(built(apart(0.06)).site.lawns).toHaveLength(2);
    const wider = built(apart(0.06), { joinGapM: 0.08 });
    expect(wider.site.lawns).toHaveLength(1);
    expect(lawnM2(wider.site)).toBeCloseTo(40.06 * 20, 2);
    expect(wider.finding("LAWNS_JOINED")?.message).toContain("8 cm");
  });

  it("are one ground over an overlap, whose area is told", () => {
    const { site, finding } = built(apart(-0.03));
    expect(lawnM2(site)).toBeCloseTo(39.97 * 20, 4);
    expect(finding("LAWNS_OVERLAP")?.message).toContain("0.60 m²");
  });

  it("keep each what it says of its own edges, however small beside the other", () => {
    const profile = builtInProfile();
    const { site, finding } = built(
      survey(
        [rect(0, 0, 5, 20), { role: "lawn", edge: "water" }],
        [rect(5.01, 0, 30, 20), { role: "lawn" }],
      ),
    );
    expect(finding("LAWN_ATTRIBUTES_DIFFER")?.severity).toBe("info");
    const runs = labelEdges(
      site.lawns.map((lawn) => lawn.area),
      site,
      profile,
    );
    const lengthOf = (kind: string) =>
      runs
        .filter(({ label }) => label.kind === kind)
        .reduce((sum, run) => sum + lineLengthM(run.line), 0);
    // Three sides of the small lawn, three of the large one.
    expect(lengthOf("water")).toBeGreaterThan(29.98);
    expect(lengthOf("water")).toBeLessThan(30.02);
    expect(lengthOf("open")).toBeGreaterThan(79.98);
    expect(lengthOf("open")).toBeLessThan(80.03);
    expect(runs.every(({ label }) => label.setinM === profile.setinM[label.kind])).toBe(true);
  });
});

describe("slivers", () => {
  it("between a bed and the lawn's edge go to the bed", () => {
    const { site, finding } = built(
      survey([rect(0, 0, 20), { role: "lawn" }], [rect(5, 0.015, 10, 2), { role: "bed" }]),
    );
    expect(groundM2(site)).toBeCloseTo(400 - 10 * 2.015, 2);
    expect(finding("SLIVERS_FILLED")?.message).toMatch(/1 strip .* 0\.15 m² in all/);
  });

  it("between two beds go to one of them", () => {
    const { site, finding } = built(
      survey(
        [rect(0, 0, 20), { role: "lawn" }],
        [rect(5, 5, 4), { role: "bed" }],
        [rect(9.01, 5, 4), { role: "bed" }],
      ),
    );
    expect(groundM2(site)).toBeCloseTo(400 - 8.01 * 4, 2);
    expect(finding("SLIVERS_FILLED")?.message).toMatch(/1 strip .* 0\.0400 m² in all/);
  });

  it("wider than the tolerance, or where a thing only crosses the edge, stay", () => {
    const wide = built(
      survey([rect(0, 0, 20), { role: "lawn" }], [rect(5, 0.1, 10, 2), { role: "bed" }]),
    );
    expect(wide.codes).not.toContain("SLIVERS_FILLED");
    const across = built(
      survey([rect(0, 0, 20), { role: "lawn" }], [rect(-5, 8, 30, 2), { role: "paving" }]),
    );
    expect(across.codes).not.toContain("SLIVERS_FILLED");
    expect(groundM2(across.site)).toBeCloseTo(400 - 40, 6);
  });

  it("that are lawns of their own are left out", () => {
    const { site, finding } = built(
      survey([rect(0, 0, 20), { role: "lawn" }], [rect(0, 21, 15, 0.015), { role: "lawn" }]),
    );
    expect(site.lawns).toHaveLength(1);
    expect(finding("SLIVER_LAWNS")?.message).toContain("1 lawn nowhere wider than 2 cm");
  });
});

describe("a bed over the edge", () => {
  const over = (m: number) =>
    survey([rect(0, 0, 20), { role: "lawn" }], [rect(5, -m, 4, 2 + m), { role: "bed" }]);

  it("by a hand's breadth is cut back, with its area before and after", () => {
    const { site, finding } = built(over(0.1));
    expect(totalAreaM2(site.things[0]!.areas)).toBeCloseTo(8, 4);
    expect(finding("ISLAND_CUT_BACK")?.message).toContain("8.40 m² before, 8.00 m² after");
  });

  it("by more stays as it is; the lawn ends where it begins", () => {
    const { site, codes: found } = built(over(0.5));
    expect(totalAreaM2(site.things[0]!.areas)).toBeCloseTo(10, 6);
    expect(found).toContain("ISLAND_OVER_EDGE");
    expect(groundM2(site)).toBeCloseTo(392, 4);
  });
});

describe("the same in two layers, not quite", () => {
  // 20 m squares moved by d share (20 - d)·20 of (20 + d)·20: 0.99 for d = 0.1, 0.975 for 0.25.
  const twice = (d: number, role = "lawn") => [
    layer("plan", [
      [rect(-50, -50, 200), { role: "lawn" }],
      [rect(0, 0, 20), { role, name: "A" }],
    ]),
    layer("aerial", [[rect(d, 0, 20), { role, name: "B" }]]),
  ];

  it("is there once, the first of the two", () => {
    const { site, finding } = built(twice(0.1, "bed"));
    expect(site.things.map((thing) => thing.name)).toEqual(["A"]);
    expect(groundM2(site)).toBeCloseTo(40_000 - 400, 4);
    expect(finding("NEAR_DUPLICATES")?.message).toContain("99.0 %");
    expect(finding("NEAR_DUPLICATES")?.message).toContain("in plan.test");
  });

  it("is two below the share, which the site file sets", () => {
    expect(built(twice(0.25, "bed")).site.things).toHaveLength(2);
    expect(built(twice(0.25, "bed"), { sameShare: 0.97 }).site.things).toHaveLength(1);
  });

  it("holds for lawns, which would otherwise grow to the outer rim of both", () => {
    const layers = [
      layer("plan", [[rect(0, 0, 20), { role: "lawn" }]]),
      layer("aerial", [[rect(0.1, 0, 20), { role: "lawn" }]]),
    ];
    const { site, codes: found } = built(layers);
    expect(lawnM2(site)).toBe(400);
    expect(found).toEqual(["NEAR_DUPLICATES"]);
  });
});

describe("lawns drawn as lines", () => {
  it("closed, are outlines", () => {
    const { site, finding } = built([layer("lawn", [[line(...box(0, 0, 20))]])]);
    expect(lawnM2(site)).toBe(400);
    expect(finding("CLOSED_LINES_AS_OUTLINES")?.message).toContain("1 feature");
  });

  it("in pieces that meet end to end in any order and direction, are put together", () => {
    const sides: Drawn[] = [
      [line([0, 0], [20, 0], [20, 10])],
      [line([0, 20], [0.02, 0.01])],
      [line([0, 20], [20, 20.03], [20, 10.02])],
    ];
    const { site, finding } = built([layer("lawn", sides)]);
    expect(site.lawns).toHaveLength(1);
    expect(lawnM2(site)).toBeCloseTo(400, 0);
    expect(finding("LINES_JOINED_TO_OUTLINES")?.message).toContain("3 lines");
  });

  it("with a gap over the tolerance or a fork stay lines, which is told", () => {
    const open: Drawn[] = [
      [line([0, 0], [20, 0], [20, 10])],
      [line([20, 10.5], [20, 20], [0, 20], [0, 0.5])],
    ];
    const withLawn = [layer("lawn", open), layer("survey", [[rect(50, 0, 5), { role: "lawn" }]])];
    expect(built(withLawn).codes).toContain("LINE_DOES_NOT_FIT");
    expect(built(withLawn, { lineGapM: 0.6 }).codes).not.toContain("LINE_DOES_NOT_FIT");
    const fork: Drawn[] = [...open, [line([20, 10], [25, 10])], [line([20, 10], [20, 10.5])]];
    expect(built([layer("lawn", fork), withLawn[1]!]).codes).toContain("LINE_DOES_NOT_FIT");
  });

  it("one in another: the inner is a hole, and one inside that is lawn", () => {
    const drawn: Drawn[] = [
      [line(...box(0, 0, 20))],
      [line(...box(5, 5, 10))],
      [line(...box(8, 8, 4))],
    ];
    const { site, finding } = built([layer("lawn", drawn)]);
    expect(groundM2(site)).toBeCloseTo(400 - 100 + 16, 4);
    expect(finding("LAWN_LINES_NESTED")?.message).toContain("1 closed line");
  });
});

describe("islands inside islands", () => {
  it("keep the lawn of a courtyard whose house stands on an outer lawn drawn without a hole", () => {
    const { site } = built(
      survey(
        [rect(0, 0, 40), { role: "lawn" }],
        [rect(10, 10, 20), { role: "building" }],
        [rect(15, 15, 8), { role: "lawn" }],
      ),
    );
    expect(groundM2(site)).toBeCloseTo(1600 - 400 + 64, 4);
  });

  it("keep a pond in a bed in a lawn as one shut-out ground", () => {
    const { site } = built(
      survey(
        [polygon(box(0, 0, 20), ring([5, 5], [15, 5], [15, 15], [5, 15])), { role: "lawn" }],
        [rect(5, 5, 10), { role: "bed" }],
        [rect(8, 8, 2), { role: "water" }],
      ),
    );
    expect(groundM2(site)).toBeCloseTo(300, 4);
  });
});

describe("lawns far away", () => {
  it("are told with their distance, and planned all the same", () => {
    const { site, finding } = built(
      survey([rect(0, 0, 20), { role: "lawn" }], [rect(3000, 0, 10), { role: "lawn" }]),
    );
    expect(site.lawns).toHaveLength(2);
    expect(finding("LAWNS_FAR_AWAY")?.message).toContain("2980 m away");
    expect(finding("LAWNS_FAR_AWAY")?.severity).toBe("warning");
  });
});

describe("a spike wider than a millimetre", () => {
  it("is taken off where the site file says how wide, with the area it takes", () => {
    const spiky = polygon(
      ring([0, 0], [20, 0], [20, 10], [25, 10.004], [20, 10.008], [20, 20], [0, 20]),
    );
    const drawn = survey([spiky, { role: "lawn" }]);
    expect(built(drawn).codes).toEqual([]);
    const { site, finding } = built(drawn, { spikeWidthM: 0.01 });
    expect(lawnM2(site)).toBeCloseTo(400, 2);
    expect(finding("RING_SPIKE")?.message).toContain("changes the area by 0.02");
  });
});
