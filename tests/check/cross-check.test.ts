/**
 * The judge's own kernel against JTS (by way of jsts): set-in, crossings and mown area of the same
 * wires, by overlay and distance operations that the judge does without.
 */
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import { expect, it } from "vitest";
import { lineM, meet } from "../../src/check/kernel/plane.ts";
import { Winding } from "../../src/check/kernel/winding.ts";
import { checkPlan } from "../../src/index.ts";
import { seeded } from "../../src/physics/coverage/seeded.ts";
import { multiPolygonOf, polygonOf } from "../support/jsts.ts";
import {
  areaOf,
  differenceOf,
  isSimpleLine,
  lineShape,
  type Shape,
  unionOfShapes,
} from "../support/topology.ts";
import { randomPlan } from "./plans.ts";

const SEEDS = [3, 4, 6, 7, 10, 12, 14, 19];

const closed = (ring: Float64Array): [number, number][] => {
  const points = Array.from({ length: ring.length >> 1 }, (_, i): [number, number] => [
    ring[2 * i]!,
    ring[2 * i + 1]!,
  ]);
  return [...points, points[0]!];
};

const figure = (measures: ReturnType<typeof checkPlan>["measures"], rule: string): number =>
  measures.find((one) => one.rule === rule)!.measured!;

it.each(SEEDS)("set-in, crossings and mown area of random site %i", async (seed) => {
  const good = (await randomPlan(seed, true))!;
  const { site, profile, plan } = good;
  const { measures } = checkPlan(site, profile, plan);
  const lawn: Shape = multiPolygonOf(site.lawns.map((one) => one.area));
  const things: Shape = unionOfShapes(
    site.things.flatMap((one) => one.areas.map((area) => polygonOf(area.shell, area.holes))),
  );
  const ground: Shape = things.isEmpty() ? lawn : differenceOf(lawn, things);
  // Every edge is open and asks for the same.
  const kept = plan.loops.map(({ wire }) =>
    DistanceOp.distance(lineShape(closed(wire)), ground.getBoundary()),
  );
  expect(figure(measures, "set-in")).toBeCloseTo(Math.min(...kept) - profile.setinM.open, 6);
  expect(plan.loops.every(({ wire }) => isSimpleLine(closed(wire)))).toBe(true);
  expect(figure(measures, "simple")).toBe(0);
  // The wire's inside by the shoelace formula of JTS; between two wires of a pair lies a slit.
  for (const { name, wire, pairedRuns } of plan.loops) {
    const inside = areaOf(polygonOf(wire));
    const slits = (pairedRuns ?? []).reduce((sum, run) => sum + lineM(run.line), 0) * 0.0103;
    const stated = plan.mown!.filter((one) => one.loop === name);
    const statedM2 = stated.reduce((sum, one) => sum + one.areaM2, 0);
    expect(Math.abs(inside + slits - statedM2)).toBeLessThan(0.005);
  }
  expect(figure(measures, "mown-area")).toBeLessThan(0.02);
});

it("segments meet as JTS says, grazing and collinear ones too", () => {
  const random = seeded(7);
  // Whole numbers: shared ends, touches and overlaps come up all the time.
  const at = () => Math.floor(6 * random());
  let met = 0;
  for (let i = 0; i < 4000; i++) {
    const [a, b, c, d] = [at(), at(), at(), at()];
    const [e, f, g, h] = [at(), at(), at(), at()];
    if ((a === c && b === d) || (e === g && f === h)) continue;
    const one = lineShape([
      [a, b],
      [c, d],
    ]);
    const other = lineShape([
      [e, f],
      [g, h],
    ]);
    const meets = DistanceOp.distance(one, other) === 0;
    if (meets) met++;
    expect([i, meet(a, b, c, d, e, f, g, h)]).toEqual([i, meets]);
  }
  expect(met).toBeGreaterThan(500);
});

it("winding numbers tell inside from outside as JTS areas do", () => {
  const ring = Float64Array.of(0, 0, 10, 0, 10, 10, 6, 10, 6, 4, 4, 4, 4, 10, 0, 10);
  const winding = new Winding([ring]);
  expect([winding.at(5, 2), winding.at(5, 6), winding.at(2, 9), winding.at(11, 5)]).toEqual([
    1, 0, 1, 0,
  ]);
  const turned = Float64Array.from(
    [...ring].reverse().flatMap((_, i, all) => (i % 2 ? [] : [all[i + 1]!, all[i]!])),
  );
  expect(new Winding([turned]).at(5, 2)).toBe(-1);
  expect(new Winding([ring, ring]).at(5, 2)).toBe(2);
});
