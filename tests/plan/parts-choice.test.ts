/** Parts that cannot be driven to: own, carried, none. */
import type { LineString, Point, Position } from "geojson";
import { describe, expect, it } from "vitest";
import type { PlanOptions } from "../../src/index.ts";
import { judgeWritten, planDrawn } from "../support/planning.ts";
import { type Drawn, Pen, rectangle } from "../support/sites.ts";

type Parts = NonNullable<NonNullable<PlanOptions["rules"]>["plan"]>["parts"];

interface Figures {
  parts: string;
  wire_m: number;
  pegs: number;
  stations: number;
  mown_m2: number;
}

/** Two lawns with a neck of 1.2 m between them, through which the medium machine does not drive. */
function neck(turnDeg: number, more: (pen: Pen) => unknown = () => {}): Drawn {
  const pen = new Pen({ turnDeg }).lawn([
    [0, 0],
    [20, 0],
    [20, 9],
    [26, 9],
    [26, 0],
    [40, 0],
    [40, 20],
    [26, 20],
    [26, 10.2],
    [20, 10.2],
    [20, 20],
    [0, 20],
  ]);
  pen.bed(rectangle(3, 2, [31, 6]), "Far bed");
  pen.bed(rectangle(3, 2, [8, 6]), "Near bed");
  more(pen);
  return pen.drawn;
}

async function planned(drawn: Drawn, parts: Parts) {
  const written = await planDrawn(drawn, { rules: { plan: parts ? { parts } : {} } });
  const compared = (written.summary.parts as { choice: string; compared: Figures[] }).compared;
  return {
    ...written,
    loops: written.summary.loops,
    totals: written.summary.totals,
    codes: written.summary.findings.map((finding) => finding.code),
    compared,
    figures: (name: string) => compared.find((one) => one.parts === name)!,
  };
}

describe("a part beyond a shut passage", () => {
  it.each([0, 24, 77, 190])(
    "carried, turned by %i°: one wire, every rule of the judge",
    async (turnDeg) => {
      const drawn = neck(turnDeg);
      const own = await planned(drawn, "own");
      const carried = await planned(drawn, "carried");
      expect(own.loops).toHaveLength(2);
      expect(carried.loops).toHaveLength(1);
      expect(judgeWritten(carried, drawn.truth).breaches).toEqual([]);
      expect(carried.codes).toContain("PART_CARRIED");
      expect(carried.totals.mown_m2).toBeCloseTo(own.totals.mown_m2, 1);
      // Out and back through the neck of 6 m and from wire to wire: 6.6 m and no more than a peg
      // span to either side.
      const more = carried.totals.wire_m - own.totals.wire_m;
      expect(more).toBeGreaterThan(2 * 6.5);
      expect(more).toBeLessThan(2 * 7.2);
      const runs = carried.plan.features.filter((one) => one.properties?.kind === "paired-run");
      expect(runs.filter((one) => one.properties?.to === "part")).toHaveLength(1);
    },
  );

  it("left out: cut off with its reason, one loop, one station", async () => {
    const drawn = neck(11);
    const none = await planned(drawn, "none");
    expect(none.loops).toHaveLength(1);
    expect(judgeWritten(none, drawn.truth).breaches).toEqual([]);
    expect(none.codes).toContain("PARTS_LEFT_OUT");
    const cut = none.plan.features.filter(
      (one) => one.properties?.reason === "cannot be driven to, left out as asked",
    );
    // The part of 14 by 20 m less its bed of 3 by 2 m, and less the strip round the bed.
    const area = cut.reduce((sum, one) => sum + Number(one.properties?.area_m2), 0);
    expect(area).toBeGreaterThan(14 * 20 - 3.6 * 2.6 - 1);
    expect(area).toBeLessThan(14 * 20 - 6 + 1);
  });

  it("compares the three, and each is what the plan made by it says", async () => {
    const drawn = neck(40);
    const plans = {
      own: await planned(drawn, "own"),
      carried: await planned(drawn, "carried"),
      none: await planned(drawn, "none"),
    };
    for (const name of ["own", "carried", "none"] as const) {
      const { totals, loops } = plans[name];
      for (const plan of Object.values(plans)) {
        expect(plan.compared.map((one) => one.parts)).toEqual(["own", "carried", "none"]);
        expect(plan.figures(name)).toMatchObject({ stations: loops.length, pegs: totals.pegs });
        expect(plan.figures(name).wire_m).toBeCloseTo(totals.wire_m, 3);
        expect(plan.figures(name).mown_m2).toBeCloseTo(totals.mown_m2, 2);
      }
    }
    expect(plans.own.texts[2] ?? "").toContain("");
  });

  it("keeps its loop where a station is given for it", async () => {
    const drawn = neck(0, (pen) => {
      pen.point([10, 0.3], { role: "station", name: "Front" });
      pen.point([33, 0.3], { role: "station", name: "Back" });
    });
    const none = await planned(drawn, "none");
    expect(none.loops).toHaveLength(2);
    expect(none.compared).toEqual([]);
  });

  it("keeps the loop of the station that is given, though it is the smaller part", async () => {
    const drawn = neck(0, (pen) => pen.point([33, 0.3], { role: "station", name: "Back" }));
    const none = await planned(drawn, "none");
    const station = none.plan.features.find((one) => one.properties?.kind === "station")!;
    expect(station.properties).toMatchObject({ given: true });
    const given = drawn.features.find((one) => one.properties?.role === "station")!;
    const [a, b] = [station, given].map((one) => (one.geometry as Point).coordinates);
    expect(Math.hypot(a![0]! - b![0]!, a![1]! - b![1]!)).toBeLessThan(1e-6);
  });
});

describe("lawns that lie apart", () => {
  const apart = (between: (pen: Pen) => unknown): Drawn => {
    const pen = new Pen({ turnDeg: 33 }).lawn(rectangle(20, 12)).lawn(rectangle(15, 12, [2, 16]));
    between(pen);
    return pen.drawn;
  };

  it("keep their own where wire has no way between them, and it is said", async () => {
    const drawn = apart(() => {});
    const carried = await planned(drawn, "carried");
    expect(carried.loops).toHaveLength(2);
    expect(carried.codes).toContain("PART_NOT_CARRIED");
    expect(carried.compared.map((one) => one.parts)).toEqual(["own", "carried", "none"]);
  });

  it("hang together over flush paving too wide to be a path", async () => {
    const drawn = apart((pen) =>
      pen.thing(
        rectangle(30, 4, [-5, 12]),
        { role: "paving", edge: "flush", name: "Terrace" },
        "flush",
        0.1,
      ),
    );
    const carried = await planned(drawn, "carried");
    expect(carried.loops).toHaveLength(1);
    const run = carried.plan.features.find((one) => one.properties?.to === "part")!;
    expect(run.properties?.length_m).toBeGreaterThan(4);
    expect(run.properties?.length_m).toBeLessThan(5);
  });

  it("go round a house that stands in the straight way", async () => {
    // A lawn on either side of a house, tied by a strip of 1 m round it.
    const drawn = new Pen({ turnDeg: 12 }).lawn(
      [
        [0, 0],
        [20, 0],
        [20, 10],
        [19, 10],
        [19, 10],
        [20, 10.001],
        [20, 18],
        [20, 28],
        [0, 28],
        [0, 18],
        [19, 18],
        [19, 10],
        [0, 10],
      ].filter((_, i) => ![3, 4, 5, 6].includes(i)) as [number, number][],
    ).drawn;
    const carried = await planned(drawn, "carried");
    expect(carried.loops).toHaveLength(1);
    expect(carried.summary.findings.filter((one) => one.severity === "error")).toEqual([]);
    const run = carried.plan.features.find((one) => one.properties?.to === "part")!;
    const line = (run.geometry as LineString).coordinates as Position[];
    expect(line.length).toBeGreaterThan(8);
    expect(run.properties?.length_m).toBeLessThan(10);
  });
});
