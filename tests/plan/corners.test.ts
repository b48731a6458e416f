/** Corners and bends as the machine can follow them, on shapes with elementary answers. */
import { beforeAll, describe, expect, it } from "vitest";
import { loadEngine } from "../../src/geometry/engine.ts";
import { grow, shrink } from "../../src/geometry/offset.ts";
import { difference } from "../../src/geometry/overlay.ts";
import {
  anticlockwise,
  areaM2,
  discRing,
  ringContains,
  toPoints,
  totalAreaM2,
} from "../../src/geometry/rings.ts";
import type { AreaM } from "../../src/model/geometry.ts";
import type { Loop } from "../../src/model/plan.ts";
import type { Profile } from "../../src/model/profile.ts";
import { cornerReach, findParts } from "../../src/plan/parts.ts";
import { planSite } from "../../src/plan/plan-site.ts";
import { roundCorners } from "../../src/plan/round-corners.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";
import { invalidity } from "../support/topology.ts";
import { box, siteOf, thingOf } from "./shapes.ts";

beforeAll(() => loadEngine());

const medium = builtInProfile("medium");
const bending = (radiusM: number): Profile => ({
  ...medium,
  corners: { ...medium.corners, bendRadiusMinM: radiusM },
});

const closedRing = (ring: Float64Array): [number, number][] => {
  const points = toPoints(ring).map(([e, n]): [number, number] => [e, n]);
  return [...points, points[0]!];
};

/** A triangle with a tip of the given angle at the origin, 12 m long. */
function tip(angleDeg: number): AreaM {
  const half = (angleDeg * Math.PI) / 360;
  const across = 12 * Math.tan(half);
  return { shell: Float64Array.of(0, 0, 12, -across, 12, across), holes: [] };
}

describe("inner corners", () => {
  it("reach past a disc by 1/sin(half the angle) − 1 of its radius", () => {
    expect(cornerReach(90)).toBeCloseTo(Math.SQRT2 - 1, 12);
    expect(cornerReach(60)).toBeCloseTo(1, 12);
  });

  it.each([
    [82, 85, false],
    [86, 85, true],
    [89, 95, false],
    [61, 60, true],
    [44, 45, false],
    [46, 45, true],
  ])("of %i° where the machine follows %i° and wider: left as it is: %s", (angle, least, kept) => {
    const [part] = findParts([tip(angle)], 0.9, least).parts;
    expect(ringContains(part!.shell, 0.005, 0)).toBe(kept);
  });

  it("are cut where the machine's own limit wants it: the rest stays", () => {
    const whole = areaM2(tip(50));
    const [part] = findParts([tip(50)], 0.9, 85).parts;
    // The tip goes from the reach of an 85° corner past the disc on: less than the whole tip.
    const r = 0.45;
    const all = r * r * (1 / Math.tan((25 * Math.PI) / 180) - (130 / 360) * Math.PI);
    expect(whole - areaM2(part!)).toBeGreaterThan(0.1 * all);
    expect(whole - areaM2(part!)).toBeLessThan(all);
  });
});

describe("bends with a least radius", () => {
  const small = builtInProfile("small");
  const lawns = [
    { at: [5.5, 5.6, 5.5, 2.1, 2.2, 2.1], innerAngleMinDeg: 67, bendRadiusMinM: 0.56 },
    { at: [8.6, 2.6, 8.7, 1.1, 2.5, 1.1], innerAngleMinDeg: 87, bendRadiusMinM: 0.44 },
    {
      at: [2.85, 2.65, 3.41, 1.5, 4.19, 0.46, 17.27, 7.27],
      innerAngleMinDeg: 87,
      bendRadiusMinM: 0.42,
    },
  ];
  it.each(lawns)("$bendRadiusMinM m keep the wire of a sharp lawn simple", ({ at, ...corners }) => {
    const shell = anticlockwise(Float64Array.from(at));
    const outcome = planSite(siteOf([{ shell, holes: [] }]), { ...small, corners });
    if (!outcome.ok) throw new Error(outcome.problem.code);
    const [{ wire, pegs }] = outcome.value.loops as [Loop];
    expect(invalidity([[closedRing(wire)]])).toBeUndefined();
    // No island: nothing to lead a pair to.
    expect(pegs.map((peg) => peg.on)).not.toContain("pair");
    expect(outcome.value.findings.map((one) => one.code)).toContain("BEND_TOO_TIGHT");
  });

  it("keep any tip valid, within itself, and clear of what a disc covers", () => {
    for (let angle = 12; angle < 180; angle += 7) {
      for (const radiusM of [0.1, 0.3, 0.45, 0.6, 1, 3]) {
        const [part] = findParts([tip(angle)], 0.9, 60).parts;
        const { part: rounded } = roundCorners(part!, bending(radiusM));
        expect(invalidity([[closedRing(rounded.shell)]])).toBeUndefined();
        expect(rounded.holes).toEqual([]);
        expect(totalAreaM2(difference([rounded], [part!]))).toBeLessThan(1e-3);
        // The grid of 0.01 mm along some tens of metres; an opening takes nothing that a disc of the radius reaches.
        const covered = grow(shrink([part!], radiusM, "round"), radiusM - 0.002, "round");
        expect(totalAreaM2(difference(covered, [rounded]))).toBeLessThan(1e-3);
      }
    }
  });

  it("take (1 − π/4) r² off each right angle of a rectangle", () => {
    const { part, tight } = roundCorners(box(0, 0, 20, 10), bending(1));
    expect(areaM2(part)).toBeCloseTo(200 - 4 * (1 - Math.PI / 4), 2);
    expect(tight).toEqual([]);
  });

  it("leave everything as it is without one", () => {
    expect(roundCorners(box(0, 0, 20, 10), medium).part.shell).toHaveLength(8);
  });

  it("keep a bay that is narrower than the bend, round it as they can, and say so", () => {
    const bay: AreaM = {
      shell: Float64Array.of(0, 0, 20, 0, 20, 4, 24, 4, 24, 5.4, 20, 5.4, 20, 10, 0, 10),
      holes: [],
    };
    const { part, tight } = roundCorners(bay, bending(1));
    const lost = areaM2(bay) - areaM2(part);
    const small = 0.45 - 0.002;
    expect(lost).toBeCloseTo((1 - Math.PI / 4) * (4 + 2 * small * small), 1);
    // The bay's end, and the two corners of 90° at its mouth, which stick out into the lawn.
    expect(tight.some(([e]) => e > 20)).toBe(true);
  });

  it("say where an island's corner cannot be laid as round as asked", () => {
    const lawn = box(0, 0, 30, 20);
    const square = thingOf("Square bed", box(10, 8, 13, 11));
    const round = thingOf("Round bed", { shell: discRing([22, 10], 1.5), holes: [] });
    const site = siteOf([lawn], { things: [square, round] });
    const outcome = planSite(site, bending(0.8));
    if (!outcome.ok) throw new Error(outcome.problem.code);
    const [finding] = outcome.value.findings.filter((one) => one.code === "BEND_TOO_TIGHT");
    expect(finding!.message).toContain("4 places");
    expect(finding!.message).toContain("Square bed");
    expect(finding!.message).not.toContain("Round bed");
    const trimmed = outcome.value.handTrim.areaM2;
    const plain = planSite(site, medium);
    if (!plain.ok) throw new Error(plain.problem.code);
    expect(trimmed).toBeGreaterThan(plain.value.handTrim.areaM2);
    const enough = planSite(site, bending(0.3));
    if (!enough.ok) throw new Error(enough.problem.code);
    expect(enough.value.findings.map((one) => one.code)).not.toContain("BEND_TOO_TIGHT");
  });
});
