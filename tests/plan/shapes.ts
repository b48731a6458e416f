/** Sites in plain metres for tests of the planner's decisions. */
import type { AreaM, PointM } from "../../src/model/geometry.ts";
import type { Lawn, Site, Thing } from "../../src/model/site.ts";

export function box(minE: number, minN: number, maxE: number, maxN: number): AreaM {
  return { shell: Float64Array.of(minE, minN, maxE, minN, maxE, maxN, minE, maxN), holes: [] };
}

export function thingOf(name: string, area: AreaM, more: Partial<Thing> = {}): Thing {
  return {
    id: name,
    role: "bed",
    name,
    areas: [area],
    contact: "loop",
    edgeKind: "open",
    source: {},
    ...more,
  };
}

export function siteOf(lawns: readonly AreaM[], more: Partial<Site> = {}): Site {
  return {
    name: "test",
    grid: {
      origin: [0, 0],
      projString: "",
      forward: ([e, n]): PointM => [e, n],
      inverse: ([e, n]) => [e, n],
    },
    lawns: lawns.map((area, i): Lawn => ({ name: `lawn ${i + 1}`, area, source: {} })),
    things: [],
    edgeLines: [],
    stations: [],
    outlets: [],
    controls: [],
    ...more,
  };
}
