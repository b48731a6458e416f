/** The plainest sites, whose wire can be worked out by hand. */
import { describe, expect, it } from "vitest";
import { judgeWritten, planDrawn } from "../support/planning.ts";
import { disc, Pen, rectangle } from "../support/sites.ts";

describe.each([0, 17, 45, 123])("a lawn of 40 m × 25 m turned by %i°", (turnDeg) => {
  it("has a wire of 2 (39.4 + 24.4) = 127.6 m, pegged in spans of 1 m at most", async () => {
    const drawn = new Pen({ turnDeg }).lawn(rectangle(40, 25)).drawn;
    const written = await planDrawn(drawn);
    const { breaches, figures } = judgeWritten(written, drawn.truth, { relaxWithinM: 0 });
    expect(breaches).toEqual([]);
    expect(Math.abs(figures.wireM - 127.6)).toBeLessThan(0.001 * 127.6);
    // Corners are not cut, so the figure is nearer than asked: four mitred corners, no arcs.
    expect(figures.wireM).toBeCloseTo(127.6, 2);
    expect(figures.pegs).toBeLessThanOrEqual(132);
    expect(figures.maxSpanM).toBeLessThanOrEqual(1);
    expect(written.summary.loops).toHaveLength(1);
    expect(written.summary.passages).toEqual([]);
    expect(written.summary.totals.wire_m).toBeCloseTo(figures.wireM, 2);
    expect(written.summary.totals.pegs).toBe(figures.pegs);
    // Inside the wire 39.4 × 24.4; the strip of 0.3 m is trimmed by hand; nothing is cut off.
    expect(written.summary.totals.mown_m2).toBeCloseTo(39.4 * 24.4, 1);
    expect(written.summary.totals.hand_trim_m2).toBeCloseTo(1000 - 39.4 * 24.4, 1);
    expect(written.summary.totals.cut_off_m2).toBe(0);
  });

  it("with a round bed in the middle: a loop round it and a pair to the nearest side", async () => {
    const drawn = new Pen({ turnDeg })
      .lawn(rectangle(40, 25))
      .bed(disc([20, 12.5], 2), "Round bed").drawn;
    const written = await planDrawn(drawn);
    const { breaches, figures } = judgeWritten(written, drawn.truth, { relaxWithinM: 0 });
    expect(breaches).toEqual([]);
    // Edge of the lawn; circle of 2 m + 0.3 m; out and back from 0.3 m to 12.5 − 2.3 m.
    const expected = 127.6 + 2 * Math.PI * 2.3 + 2 * (12.5 - 0.3 - 2.3);
    expect(Math.abs(figures.wireM / expected - 1)).toBeLessThan(0.005);
    expect(figures.minGapM).toBeGreaterThanOrEqual(0.01);
    expect(figures.maxGapM).toBeLessThanOrEqual(0.012);
    expect(figures.pairSamples).toBeGreaterThan(150);
    expect(figures.minVertexApartM).toBeGreaterThan(0.009);
    const [loop] = written.summary.loops;
    expect(loop).toMatchObject({ exclusion_loops: 1 });
    // The chords round the bed may stand off it by the profile's 0.15 m.
    expect(loop!.paired_run_m).toBeGreaterThan(9.9 - 0.15);
    expect(loop!.paired_run_m).toBeLessThan(9.91);
  });
});

it("keeps a pond at 1 m and a bed at 0.3 m, and needs no wire round a grown tree", async () => {
  const pen = new Pen({ turnDeg: 30 })
    .lawn(rectangle(40, 25))
    .thing(disc([10, 12], 2), { role: "water", name: "Pond" }, "loop", 1)
    .bed(disc([28, 12], 2), "Bed")
    .point([19, 6], { role: "tree", diameter_m: 0.5 });
  const trunk = { name: "Trunk", contact: "firm", setinM: 0.35 } as const;
  const ring = pen.ring(disc([19, 6], 0.25, 60));
  const { features, truth } = pen.tell({ ...trunk, polygons: [[ring]] }).drawn;
  const written = await planDrawn({ features, truth });
  const { breaches } = judgeWritten(written, truth, { relaxWithinM: 0 });
  expect(breaches).toEqual([]);
  expect(written.summary.loops[0]!.exclusion_loops).toBe(2);
});
