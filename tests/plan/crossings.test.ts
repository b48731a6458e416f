/** Flush paths between two lawns: crossed by one loop, on shapes with elementary answers. */
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { totalAreaM2 } from "../../src/geometry/rings.ts";
import { findCrossings } from "../../src/plan/crossings.ts";
import { planSite } from "../../src/plan/plan-site.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { judgeWritten, planDrawn } from "../support/planning.ts";
import { Pen, rectangle, SETIN_M } from "../support/sites.ts";
import { box, siteOf, thingOf } from "./shapes.ts";

beforeAll(() => loadEngine());

const flush = { role: "paving", contact: "flush", edgeKind: "flush" } as const;

describe("a flush path between two lawns", () => {
  it("is crossed as far as both lawns lie along it, and straight across at the ends", () => {
    const lawns = [box(0, 0, 20, 10), box(5, 11.2, 30, 20)];
    const path = thingOf("Path", box(-10, 10, 50, 11.2), flush);
    const [crossing] = findCrossings(lawns, [path]);
    // Both lawns from 5 to 20.
    expect(totalAreaM2(crossing!.between)).toBeCloseTo(15 * 1.2, 3);
    expect(crossing!.paths).toEqual([path]);
  });

  it.each([
    ["gaps of 9 cm to both lawns", 0.09, 1],
    ["gaps of 11 cm", 0.11, 0],
  ])("with %s", (_, gap, count) => {
    const lawns = [box(0, 0, 20, 10), box(0, 11 + 2 * gap, 20, 20)];
    const path = thingOf("Path", box(0, 10 + gap, 20, 11 + gap), flush);
    expect(findCrossings(lawns, [path])).toHaveLength(count);
  });

  it("is not crossed where it is a terrace, nor where it only meets both lawns at corners", () => {
    const terrace = thingOf("Terrace", box(0, 10, 20, 14), flush);
    expect(findCrossings([box(0, 0, 20, 10), box(0, 14, 20, 24)], [terrace])).toEqual([]);
    const path = thingOf("Path", box(0, 10, 40, 11), flush);
    expect(findCrossings([box(0, 0, 20, 10), box(19.8, 11, 40, 20)], [path])).toEqual([]);
  });

  it("is crossed where it narrows, and not where it is wide", () => {
    const lawns = [box(0, 0, 40, 10), box(0, 18, 19, 30), box(20, 11.5, 40, 30)];
    const paving = thingOf("Paving", box(0, 10, 40, 18), flush);
    const crossings = findCrossings(lawns, [paving]);
    expect(crossings).toHaveLength(1);
    expect(totalAreaM2(crossings[0]!.between)).toBeCloseTo(20 * 1.5, 3);
  });

  it("is not crossed where something on the path is in the machine's way", () => {
    const lawns = [box(0, 0, 20, 10), box(0, 11, 20, 20)];
    const path = thingOf("Path", box(-5, 10, 25, 11), flush);
    const bed = (e0: number, e1: number) => thingOf("Bed", box(e0, 10.2, e1, 10.8));
    const whole = planSite(
      siteOf(lawns, { things: [path, bed(-5, 25)] }),
      builtInProfile("medium"),
    );
    if (!whole.ok) throw new Error(whole.problem.code);
    expect(whole.value.loops).toHaveLength(2);
    expect(whole.value.findings.map((finding) => finding.code)).not.toContain("PATH_CROSSED");
    // A bed on half of the path leaves the other half.
    const half = planSite(siteOf(lawns, { things: [path, bed(-5, 10)] }), builtInProfile("medium"));
    if (!half.ok) throw new Error(half.problem.code);
    expect(half.value.loops).toHaveLength(1);
    expect(half.value.findings.map((finding) => finding.code)).toContain("PATH_CROSSED");
  });

  it("makes one loop of two lawns; the path is not mown, all areas add up", () => {
    const lawns = [box(0, 0, 20, 10), box(0, 11, 20, 20)];
    const path = thingOf("Path", box(-5, 10, 25, 11), flush);
    const outcome = planSite(siteOf(lawns, { things: [path] }), builtInProfile("medium"));
    if (!outcome.ok) throw new Error(outcome.problem.code);
    const plan = outcome.value;
    expect(plan.loops).toHaveLength(1);
    expect(plan.groundM2).toBeCloseTo(200 + 180, 3);
    // Inside the wire: 19.4 m by 19.4 m less the path.
    expect(plan.mown[0]!.areaM2).toBeCloseTo(19.4 * 19.4 - 19.4, 2);
    expect(plan.findings.map((finding) => finding.code)).toContain("PATH_CROSSED");
    expect(plan.findings.map((finding) => finding.code)).not.toContain("PARTS_SEPARATE");
  });

  it.each([0, 33, 118])("keeps every rule of the judge, turned by %i°", async (turnDeg) => {
    const pen = new Pen({ turnDeg })
      .lawn(rectangle(20, 10))
      .lawn(rectangle(14, 9, [3, 11]), { name: "Back" })
      .thing(
        rectangle(40, 1, [-10, 10]),
        { role: "paving", edge: "flush", name: "Path" },
        "flush",
        SETIN_M.flush,
      )
      .bed(rectangle(3, 2, [8, 3]));
    const { features, truth } = pen.drawn;
    // The judge is told that the machine may drive on the 14 m of path between the two.
    const crossed = { polygon: [pen.ring(rectangle(14, 1.02, [3, 9.99]))] };
    const written = await planDrawn({ features, truth });
    const told = { ...truth, lawns: [...truth.lawns, crossed] };
    expect(judgeWritten(written, told).breaches).toEqual([]);
    expect(written.summary.loops).toHaveLength(1);
    expect(written.texts.join()).toContain("WIRE_ACROSS_PAVING");
  });

  it("stays an edge where the lawns are one already, or where it has a kerb", async () => {
    const pen = (edge: string) =>
      new Pen()
        .lawn(rectangle(20, 10))
        .lawn(rectangle(20, 10, [0, 11]))
        .thing(rectangle(20, 1, [0, 10]), { role: "paving", edge, name: "Path" });
    expect((await planDrawn(pen("kerb").drawn)).summary.loops).toHaveLength(2);
    expect((await planDrawn(pen("flush").drawn)).summary.loops).toHaveLength(1);
  });
});
