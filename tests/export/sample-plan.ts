import proj4 from "proj4";
import type { PointM } from "../../src/model/geometry.ts";
import type { Loop, Plan } from "../../src/model/plan.ts";
import type { Site, SiteGrid } from "../../src/model/site.ts";
import { builtInProfile } from "../../src/profile/built-in.ts";

/** A site grid in the open Atlantic, by proj4 directly. */
export function sampleGrid(): SiteGrid {
  const origin = [-28.5, 47.25] as const;
  const projString = `+proj=tmerc +lat_0=${origin[1]} +lon_0=${origin[0]} +k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=m +no_defs`;
  const converter = proj4(projString);
  return {
    origin,
    projString,
    forward: (lonLat) => converter.forward([...lonLat]) as unknown as PointM,
    inverse: (pointM) => converter.inverse([...pointM]) as unknown as readonly [number, number],
  };
}

const flat = (...numbers: number[]) => Float64Array.from(numbers);

/** A 10 m × 6 m wire with one exclusion loop on a paired run; figures are round on purpose. */
export function sampleLoop(name = "A", lengthM = 32): Loop {
  return {
    name,
    wire: flat(0, 0, 10, 0, 10, 6, 0, 6),
    lengthM,
    boundM: lengthM - 1,
    station: { atM: [0, 0], bearingDeg: 90, given: false, straightM: 3 },
    pegs: [
      { number: `${name}1`, atM: [0, 0], chainageM: 0, on: "station" },
      { number: `${name}2`, atM: [10, 0], chainageM: 10, on: "bend" },
      { number: `${name}3`, atM: [5, 3], chainageM: 12, secondChainageM: 20, on: "pair" },
    ],
    pairedRuns: [{ line: flat(5, 0, 5, 2), from: "boundary", to: "Pond", lengthM: 2, costM: 2 }],
    guideWires: [],
    exclusionLoops: [
      {
        ring: flat(4, 2, 6, 2, 6, 4, 4, 4),
        name: "Pond",
        role: "water",
        things: ["Pond"],
        lengthM: 8,
      },
    ],
  };
}

export function samplePlan(loops: readonly Loop[] = [sampleLoop()]): Plan {
  return {
    siteName: "sample",
    grid: sampleGrid(),
    profile: builtInProfile("medium"),
    groundM2: 80,
    loops,
    passages: [
      {
        number: 1,
        centreLine: flat(0, 3, 1, 3),
        widthM: 1.4,
        wireWidthM: 0.8,
        lengthM: 1,
        bearingDeg: 90,
        verdict: "shut",
        beyondM2: 12,
        islandsBeyond: ["Bed"],
        openings: [{ means: "widen", amountM: 0.1, gives: "drive" }],
        cost: { comesTo: "cut-off", areaM2: 12 },
        atM: [0.5, 3],
      },
    ],
    parts: { choice: "own", compared: [] },
    mown: [
      {
        loop: "A",
        part: 1,
        // Wound the wrong way round on purpose: the writer has to turn both rings.
        areas: [{ shell: flat(0, 6, 10, 6, 10, 0, 0, 0), holes: [flat(4, 2, 6, 2, 6, 4, 4, 4)] }],
        areaM2: 56,
      },
    ],
    cutOff: [{ area: { shell: flat(20, 0, 23, 0, 23, 4), holes: [] }, areaM2: 6, reason: "shut" }],
    handTrim: { areas: [{ shell: flat(0, -1, 10, -1, 10, -0.5, 0, -0.5), holes: [] }], areaM2: 5 },
    findings: [],
  };
}

export function sampleSite(): Site {
  return {
    name: "sample",
    grid: sampleGrid(),
    lawns: [],
    things: [],
    edgeLines: [],
    stations: [],
    outlets: [],
    controls: [],
  };
}
