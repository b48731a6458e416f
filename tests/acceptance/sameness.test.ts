/** The same site gives the same plan, however its file is arranged. */
import type { Feature, Polygon, Position } from "geojson";
import { describe, expect, it } from "vitest";
import { planeAt } from "../support/plane.ts";
import { geojsonInput, plan, type Written } from "../support/planning.ts";
import { randomSite } from "../support/random-site.ts";
import { distance, nearestOn, SegmentGrid, segmentsOf } from "../support/segments.ts";

const SEEDS = [2, 4, 5, 8, 17, 26];

function wire({ plan: { features } }: Written): Position[][] {
  return features.flatMap(({ geometry, properties }) =>
    properties?.kind === "boundary-wire" && geometry?.type === "LineString"
      ? [geometry.coordinates]
      : [],
  );
}

/** Furthest that any vertex of one plan's wires lies from the other's wires, metres. */
function strays(one: Written, other: Written): number {
  const plane = planeAt(wire(one)[0]![0]!);
  const place = (line: Position[]) => line.map((at) => plane.toPlane(at));
  const [a, b] = [wire(one).map(place), wire(other).map(place)];
  const far = (from: typeof a, to: typeof a): number => {
    const grid = new SegmentGrid(to.flatMap((line) => segmentsOf(line, 0)));
    return Math.max(
      ...from.flat().map((p) => {
        const near = grid.near(p, p, 0.05).map((s) => grid.all[s]!);
        return Math.min(0.05, ...near.map((s) => distance(p, nearestOn(p, s.a, s.b))));
      }),
    );
  };
  return Math.max(far(a, b), far(b, a));
}

function turned(feature: Feature, by: number): Feature {
  if (feature.geometry.type !== "Polygon") return feature;
  const coordinates = (feature.geometry as Polygon).coordinates.map((ring) => {
    const body = ring.slice(0, -1);
    const k = by % body.length;
    const start = [...body.slice(k), ...body.slice(0, k)];
    return [...start, start[0]!];
  });
  return { ...feature, geometry: { type: "Polygon", coordinates } };
}

describe.each(SEEDS)("site %i", (seed) => {
  const { features } = randomSite(seed);
  const planned = (list: readonly Feature[]) => plan([geojsonInput(list)]);

  it("gives the same bytes again", async () => {
    expect((await planned(features)).texts).toEqual((await planned(features)).texts);
  });

  it("gives the same wire with its features in another order", async () => {
    expect(strays(await planned(features), await planned([...features].reverse()))).toBeLessThan(
      0.001,
    );
  });

  it("gives the same wire with its rings begun elsewhere", async () => {
    const other = features.map((feature, i) => turned(feature, 5 + 3 * i));
    expect(strays(await planned(features), await planned(other))).toBeLessThan(0.001);
  });
});
