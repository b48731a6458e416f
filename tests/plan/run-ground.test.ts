/** Paired runs and guide wires keep off ground where none may lie, and spare dearer ground. */
import { readFile } from "node:fs/promises";
import type { Feature, LineString, Position } from "geojson";
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { areaM2 } from "../../src/geometry/rings.ts";
import { builtInProfile, type Plan } from "../../src/index.ts";
import { neckGround } from "../../src/plan/neck-ground.ts";
import { planeAt, type Xy } from "../support/plane.ts";
import {
  attempt,
  geojsonInput,
  judgeWritten,
  type Options,
  planDrawn,
  type Written,
} from "../support/planning.ts";
import { blob, randomSite } from "../support/random-site.ts";
import { seeded } from "../support/seeded.ts";
import { inside, lineLength } from "../support/segments.ts";
import { type Drawn, Pen, rectangle, SOMEWHERE } from "../support/sites.ts";

beforeAll(() => loadEngine());

async function planned(drawn: Drawn, options: Options = {}): Promise<Written> {
  const written = await planDrawn(drawn, options);
  expect(judgeWritten(written, drawn.truth).breaches).toEqual([]);
  return written;
}

function codes({ summary }: Written): string[] {
  return summary.findings.map(({ code }) => code);
}

function measureOf(
  { summary }: Written,
  rule: string,
): { measured: number; holds: boolean | null } {
  const { measures } = summary.check as { measures: { rule: string }[] };
  return measures.find((one) => one.rule === rule) as never;
}

function finding({ plan }: Written, code: string): Feature {
  return plan.features.find((one) => one.properties?.code === code) as Feature;
}

function runs({ plan }: Written, kind = "paired-run", origin?: Position): Xy[][] {
  return plan.features.flatMap(({ geometry, properties }) => {
    if (properties?.kind !== kind) return [];
    const line = (geometry as LineString).coordinates;
    const plane = planeAt(origin ?? line[0]!);
    return [line.map((at): Xy => plane.toPlane(at))];
  });
}

/** What is laid: everything of the plan but its findings. */
function laid({ plan }: Written): string {
  return JSON.stringify(plan.features.filter((one) => one.properties?.kind !== "finding"));
}

/** An island 6 m from the southern edge of a long lawn, further from the others. */
function lawnWithIsland(): Pen {
  return new Pen({ turnDeg: 20 })
    .lawn(rectangle(40, 30))
    .bed(rectangle(2, 2, [19, 6]), "Bed")
    .point([5, 29.7], { role: "station" });
}

describe("an area with wire = no", () => {
  it("between an island and the edge is passed on a taut way of the textbook length", async () => {
    const plain = await planned(lawnWithIsland().drawn);
    expect(lineLength(runs(plain)[0]!)).toBeCloseTo(5.4, 1);
    const written = await planned(lawnWithIsland().ground(rectangle(8, 2, [17, 2])).drawn);
    const [run] = runs(written);
    // The run keeps 0.1 m: from the ring's corner (18.7, 5.7) round (16.9, 4.1) and (16.9, 1.9)
    // square to the wire at 0.3 m. It may end a hand's breadth off the corner, on a peg of its own.
    const taut = Math.hypot(18.7 - 16.9, 5.7 - 4.1) + (4.1 - 0.3);
    expect(lineLength(run!)).toBeGreaterThan(taut - 0.01);
    expect(lineLength(run!)).toBeLessThan(taut + 0.15);
    expect(codes(written)).toContain("PAIRED_RUN_BENDS");
    expect(codes(written)).toContain("RUN_GROUND_TAKEN");
    // It takes no lawn away.
    expect(written.summary.totals.mown_m2).toBeCloseTo(plain.summary.totals.mown_m2, 1);
    const bound = written.summary.totals as unknown as { wire_bound_m: number; wire_m: number };
    expect(bound.wire_bound_m).toBeLessThanOrEqual(bound.wire_m);
    // With one island the bound is the taut way itself.
    expect(bound.wire_m - bound.wire_bound_m).toBeLessThan(0.3);
  });

  it("far from every run changes nothing that is laid", async () => {
    const plain = await planned(lawnWithIsland().drawn);
    const far = await planned(lawnWithIsland().ground(rectangle(6, 6, [30, 20])).drawn);
    expect(laid(far)).toBe(laid(plain));
  });

  it("with a role takes lawn away as the role does", async () => {
    const drawn = lawnWithIsland().thing(rectangle(6, 6, [30, 20]), {
      role: "keep-out",
      wire: "no",
      name: "Play",
    }).drawn;
    const written = await planned(drawn);
    expect(written.summary.loops[0]!.exclusion_loops).toBe(2);
  });

  it("that walls an island in is crossed with the least breach, and told as an error", async () => {
    const drawn = lawnWithIsland().ground(rectangle(7, 8, [15, 4]), {
      wire: "no",
      name: "Play",
    }).drawn;
    const written = await planned(drawn);
    const told = finding(written, "RUN_IN_NO_WIRE").properties!;
    expect(told.severity).toBe("error");
    // From the ring round the bed (its east side at 21.3) to the area's east side at 22.
    expect(told.message).toContain("0.70 m");
    expect(told.message).toContain("Play");
    // The judge measures both wires, and says that it is broken.
    const { measured, holds } = measureOf(written, "no-wire");
    expect(holds).toBe(false);
    expect(measured).toBeCloseTo(2 * 0.7, 1);
    // Nothing is dropped: the island has its loop and its run.
    expect(written.summary.loops[0]!.exclusion_loops).toBe(1);
    expect(runs(written)).toHaveLength(1);
  });

  it("where the boundary wire must pass tells how many metres, where and what to do", async () => {
    const drawn = lawnWithIsland().ground(rectangle(5, 3, [30, -1])).drawn;
    const told = finding(await planned(drawn), "BOUNDARY_IN_NO_WIRE").properties!;
    expect(told.message).toContain("5.00 m");
    expect(told.remedy).toContain("keep-out");
  });

  it("keeps guide wires out", async () => {
    const lawn = () => new Pen().lawn(rectangle(50, 20)).point([5, 0.3], { role: "station" });
    const free = await planned(lawn().drawn, { profile: "large" });
    const drawn = lawn().ground(rectangle(4, 16, [24, 0.6])).drawn;
    const written = await planned(drawn, { profile: "large" });
    // From the station (5, 0) to the far corner (50, 20), with a bend or two for the clearance; the
    // area without wire lies across the middle and can only be passed above or below.
    const [before] = runs(free, "guide-wire");
    const [guide] = runs(written, "guide-wire");
    expect(lineLength(before!)).toBeGreaterThan(Math.hypot(44, 18));
    expect(lineLength(before!)).toBeLessThan(1.05 * Math.hypot(45, 20));
    expect(lineLength(guide!)).toBeGreaterThan(lineLength(before!) + 0.1);
    expect(measureOf(written, "no-wire")).toMatchObject({ measured: 0, holds: true });
  });
});

describe("the demo garden with a play lawn without wire", () => {
  it("leads the run to the herb bed round it, mows it, and the judge finds no wire in it", async () => {
    const read = async (name: string) => ({ name, bytes: await readFile(`fixtures/demo/${name}`) });
    const plain = await attempt([await read("house-garden.geojson")]);
    const made = await attempt([await read("house-garden-no-wire.geojson")]);
    if (!plain.ok || !made.ok) throw new Error("the demo is planned");
    const one = made.summary.findings.find(({ code }) => code === "PAIRED_RUN_BENDS")!;
    expect(one.message).toContain("Herb bed is led round Play lawn");
    expect(made.summary.totals.mown_m2).toBeCloseTo(plain.summary.totals.mown_m2, 1);
    expect(measureOf(made, "no-wire")).toMatchObject({ measured: 0, holds: true });
    expect(measureOf(plain, "no-wire").holds).toBeNull();
  });
});

describe("dearer ground", () => {
  it("of cost 1 changes nothing that is laid", async () => {
    const plain = await planned(lawnWithIsland().drawn);
    const same = lawnWithIsland().ground(rectangle(8, 2, [17, 2]), { run_cost: 1 }).drawn;
    expect(laid(await planned(same))).toBe(laid(plain));
  });

  it("is crossed where that is cheaper than the way round, and told with its cost", async () => {
    const drawn = lawnWithIsland().ground(rectangle(30, 1, [5, 2]), { run_cost: 1.5 }).drawn;
    const written = await planned(drawn);
    const totals = written.summary.totals as unknown as Record<string, number>;
    expect(totals.paired_run_cost_m! - totals.paired_run_m!).toBeCloseTo(0.5, 2);
    expect(codes(written)).toContain("RUN_ON_DEAR_GROUND");
  });

  it("is led round where that is cheaper", async () => {
    const drawn = lawnWithIsland().ground(rectangle(4, 4, [18, 1]), { run_cost: 20 }).drawn;
    const written = await planned(drawn);
    expect(codes(written)).not.toContain("RUN_ON_DEAR_GROUND");
    const totals = written.summary.totals as unknown as Record<string, number>;
    expect(totals.paired_run_cost_m).toBeUndefined();
  });

  it("a slope counts from the profile's percentage on", async () => {
    const on = (slope: number) =>
      planned(lawnWithIsland().ground(rectangle(30, 3, [5, 1]), { slope_percent: slope }).drawn);
    expect(codes(await on(15))).not.toContain("RUN_ON_DEAR_GROUND");
    expect(codes(await on(25))).toContain("RUN_ON_DEAR_GROUND");
  });

  it("flush paving is crossed only where the way round costs more than the cut", async () => {
    const site = (length: number) =>
      lawnWithIsland().thing(
        rectangle(length, 1.2, [20 - length / 2, 2]),
        { role: "paving", edge: "flush", name: "Drive" },
        "flush",
        0.1,
      ).drawn;
    expect(codes(await planned(site(5)))).not.toContain("RUN_CROSSES_PAVING");
    const crossed = await planned(site(36));
    expect(codes(crossed)).toContain("RUN_CROSSES_PAVING");
    const totals = crossed.summary.totals as unknown as Record<string, number>;
    // 1.2 m of it at five times.
    expect(totals.paired_run_cost_m! - totals.paired_run_m!).toBeCloseTo(4 * 1.2, 1);
  });

  it("no run crosses the open lawn in front of the station where another way is at hand", async () => {
    const drawn = new Pen()
      .lawn(rectangle(40, 30))
      .bed(rectangle(2, 2, [15.5, 4]), "Bed")
      .point([16.5, 0.3], { role: "station" }).drawn;
    const written = await planned(drawn);
    const [run] = runs(written, "paired-run", SOMEWHERE);
    // 2 m to either side and 2.5 m deep, as the medium machine asks; the wire lies at 0.3 m.
    const front = rectangle(4 - 0.02, 2.5 - 0.02, [14.51, 0.31]);
    for (let i = 1; i < run!.length; i++) {
      for (let k = 0; k <= 50; k++) {
        const [a, b] = [run![i - 1]!, run![i]!];
        const at: Xy = [a[0] + (k / 50) * (b[0] - a[0]), a[1] + (k / 50) * (b[1] - a[1])];
        expect(inside(at, front)).toBe(false);
      }
    }
    expect(codes(written)).not.toContain("RUN_ON_DEAR_GROUND");
  });

  it("of a passage that leads to lawn beyond counts where a run lies in it", () => {
    const profile = builtInProfile("small");
    const passage = (beyondM2: number) => ({
      number: 1,
      centreLine: Float64Array.of(10, 5, 16, 5),
      beyondM2,
    });
    const plan = (beyondM2: number, line: Float64Array) =>
      ({
        profile,
        passages: [passage(beyondM2)],
        loops: [{ pairedRuns: [{ line, lengthM: Math.hypot(line[2]! - line[0]!, 0) }] }],
      }) as unknown as Plan;
    const [ground] = neckGround(plan(200, Float64Array.of(8, 5, 14, 5)));
    expect(ground).toMatchObject({ factor: 2, why: "passage", name: "passage 1" });
    // As wide as passages are looked for: 1.6 m between the wires and 0.3 m to either edge.
    expect(areaM2(ground!.area)).toBeCloseTo(6 * 2.2, 2);
    // A gap beside an island leads to nothing; a run elsewhere lies in no passage.
    expect(neckGround(plan(0, Float64Array.of(8, 5, 14, 5)))).toEqual([]);
    expect(neckGround(plan(200, Float64Array.of(0, 5, 9, 5)))).toEqual([]);
  });
});

describe("the site file", () => {
  const rules = (rule: object): Options => ({ rules: { runGround: [rule as never] } });

  it("draws an area, or names the layer of areas", async () => {
    const pen = lawnWithIsland();
    const corners = rectangle(8, 2, [17, 2]).map((at) => pen.at(at) as [number, number]);
    const drawn = lawnWithIsland().ground(rectangle(8, 2, [17, 2])).drawn;
    const wanted = laid(await planned(drawn));
    const byArea = await attempt(
      [geojsonInput(lawnWithIsland().drawn.features)],
      rules({ area: corners, wire: "no", name: "Play" }),
    );
    expect(byArea.ok && laid(byArea)).toBe(wanted);
    const features = new Pen({ turnDeg: 20 }).ground(rectangle(8, 2, [17, 2]), {}).drawn.features;
    const byLayer = await attempt(
      [geojsonInput(lawnWithIsland().drawn.features), geojsonInput(features, "quiet.geojson")],
      rules({ layer: "quiet", wire: "no" }),
    );
    expect(byLayer.ok && laid(byLayer)).toBe(wanted);
  });
});

const SEEDS = Array.from({ length: Number(process.env.SITES ?? 12) }, (_, i) => 301 + i);

describe("invented sites with areas without wire", () => {
  it.each(SEEDS)("seed %i: no run in them but where it is told", async (seed) => {
    const { features, truth } = randomSite(seed, { oneKind: true });
    const random = seeded(seed);
    const first = (features[0]!.geometry as { coordinates: number[][][] }).coordinates[0]!;
    const plane = planeAt(first[0]!);
    const outline = first.map((at) => plane.toPlane(at as [number, number]));
    const middle: Xy = [
      outline.reduce((sum, [x]) => sum + x, 0) / outline.length,
      outline.reduce((sum, [, y]) => sum + y, 0) / outline.length,
    ];
    const noWire = Array.from({ length: 3 }, () => {
      const at: Xy = [middle[0] + 16 * (random() - 0.5), middle[1] + 16 * (random() - 0.5)];
      const ring = blob(random, at, 1 + 2.5 * random(), 8 + Math.floor(30 * random()), 0.4);
      return [[...ring, ring[0]!].map((p) => plane.toDegrees(p))];
    });
    const areas = noWire.map(
      (coordinates): Feature => ({
        type: "Feature",
        properties: { wire: "no" },
        geometry: { type: "Polygon", coordinates },
      }),
    );
    const drawn = { features: [...features, ...areas], truth: { ...truth, noWire } };
    const written = await planDrawn(drawn, { profile: "small" });
    const { breaches } = judgeWritten(written, drawn.truth, { relaxWithinM: 0 });
    expect(breaches).toEqual([]);
  });
});
