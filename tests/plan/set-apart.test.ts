/** Loops of different parts: apart by the profile's spacing, measured with JTS. */
import type { LineString } from "geojson";
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { planeAt, type Xy } from "../support/plane.ts";
import { judgeWritten, planDrawn, type Written } from "../support/planning.ts";
import { type Drawn, Pen, rectangle } from "../support/sites.ts";
import { lineShape } from "../support/topology.ts";

beforeAll(() => loadEngine());

/** The medium machine wants 1 m between loops. */
const SPACING_M = 1;

/** A lawn of 20 × 15 m and one of 10 × 15 m beside it. */
function lawns(gapM: number, turnDeg: number, widthM = 10): Pen {
  return new Pen({ turnDeg }).lawn(rectangle(20, 15)).lawn(rectangle(widthM, 15, [20 + gapM, 0]));
}

async function planned(drawn: Drawn, parts?: "carried"): Promise<Written> {
  const written = await planDrawn(drawn, { rules: { plan: parts ? { parts } : {} } });
  expect((written.summary.check as { verdict: string }).verdict).toBe("holds");
  return written;
}

function apartM({ plan }: Written): number {
  const wires = plan.features.filter((one) => one.properties?.kind === "boundary-wire");
  const lines = wires.map((one) => (one.geometry as LineString).coordinates);
  const plane = planeAt(lines[0]![0]!);
  const [a, b] = lines.map((line) => lineShape(line.map((at): Xy => plane.toPlane(at))));
  return new DistanceOp(a, b).distance();
}

const codes = ({ summary }: Written): string[] => summary.findings.map(({ code }) => code);

describe("two lawns with a loop each", () => {
  it.each([
    [0.1, 0],
    [0.2, 33],
    [0.35, 118],
  ])("%f m apart, turned by %i°: the smaller one's wire is set in further", async (gapM, turn) => {
    const drawn = lawns(gapM, turn).drawn;
    const written = await planned(drawn);
    expect(apartM(written)).toBeGreaterThan(SPACING_M - 0.002);
    expect(apartM(written)).toBeLessThan(SPACING_M + 0.01);
    expect(codes(written)).toContain("LOOPS_SET_APART");
    expect(codes(written)).not.toContain("LOOPS_NEAR");
    expect(judgeWritten(written, drawn.truth, { relaxWithinM: 0 }).breaches).toEqual([]);
    // Both wires lie 0.3 m in; what lacks to 1 m is given up along 15 m less twice the set-in.
    const givenUpM2 = (SPACING_M - 0.6 - gapM) * (15 - 0.6);
    const mownM2 = 19.4 * 14.4 + 9.4 * 14.4 - givenUpM2;
    expect(written.summary.totals.mown_m2).toBeCloseTo(mownM2, 0);
  });

  it("far enough apart lie as they would alone", async () => {
    const written = await planned(lawns(0.45, 12).drawn);
    expect(codes(written)).not.toContain("LOOPS_SET_APART");
    expect(apartM(written)).toBeCloseTo(1.05, 2);
  });

  it("are not set in where one hangs on the other's wire", async () => {
    const written = await planned(lawns(0.2, 12).drawn, "carried");
    expect(codes(written)).not.toContain("LOOPS_SET_APART");
  });

  it("stay too near, and are told, where setting in would take a fifth of the smaller one", async () => {
    const written = await planned(lawns(0.1, 12, 2).drawn);
    expect(codes(written)).toContain("LOOPS_NEAR");
    expect(codes(written)).not.toContain("LOOPS_SET_APART");
    expect(apartM(written)).toBeCloseTo(0.7, 2);
  });

  it("keep a firm thing by the new edge out of the machine's way", async () => {
    const pen = lawns(0.1, 20);
    pen.thing(rectangle(0.4, 0.4, [21.8, 7]), { role: "firm", name: "Urn", height_m: 1 }, "firm");
    const written = await planned(pen.drawn);
    expect(apartM(written)).toBeGreaterThan(SPACING_M - 0.002);
    expect(judgeWritten(written, pen.drawn.truth, { relaxWithinM: 0 }).breaches).toEqual([]);
  });
});
