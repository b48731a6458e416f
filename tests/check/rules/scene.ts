/**
 * Small sites and wires drawn by hand for the judge's rules: figures that anyone can check with a
 * pencil. The machine is an invented one with round figures.
 */
import { Case } from "../../../src/check/case.ts";
import type { MeasureOf } from "../../../src/check/measure.ts";
import type { Rule } from "../../../src/check/rule.ts";
import type { StatedLoop, StatedPlan } from "../../../src/check/stated/stated-plan.ts";
import type { Profile } from "../../../src/model/profile.ts";
import type { Site } from "../../../src/model/site.ts";
import { builtInProfile } from "../../../src/profile/built-in.ts";

const SMALL = builtInProfile("small");

export const MACHINE: Profile = {
  ...SMALL,
  setinM: {
    open: 0.3,
    wall: 0.4,
    fence: 0.4,
    hedge: 0.3,
    kerb: 0.4,
    flush: 0.1,
    water: 1,
    drop: 1,
  },
  passage: { driveMinM: 0.6, mowMinM: 1.2, reportBelowM: 1.6 },
  pegs: { ...SMALL.pegs, spacingMaxM: 1, wanderMaxM: 0.05 },
  wire: { ...SMALL.wire, pairGapM: 0.01 },
  station: { ...SMALL.station, straightM: 1.5, clearAheadM: 2 },
  loop: { lengthMaxM: 250, areaMaxM2: 1000, spacingM: 0.6 },
  mowing: { pastWireM: 0 },
};

/** A loop of wire by its vertices, with what is said of it. */
export function loop(vertices: readonly number[], said: Partial<StatedLoop> = {}): StatedLoop {
  return {
    name: "A",
    wire: Float64Array.from(vertices),
    openM: 0,
    lengthM: undefined,
    direction: undefined,
    pegs: undefined,
    station: undefined,
    pairedRuns: undefined,
    exclusionLoops: undefined,
    guideWires: [],
    ...said,
  };
}

/** Corners of a rectangle, anticlockwise from its south-west. */
export function corners(minE: number, minN: number, maxE: number, maxN: number): number[] {
  return [minE, minN, maxE, minN, maxE, maxN, minE, maxN];
}

/** Vertices the other way round, the same one first. */
export function turned(vertices: readonly number[]): number[] {
  const points: number[][] = [];
  for (let i = 0; i < vertices.length; i += 2) points.push([vertices[i]!, vertices[i + 1]!]);
  const [first, ...rest] = points;
  return [first!, ...rest.reverse()].flat();
}

export function courtOf(
  site: Site,
  loops: readonly StatedLoop[],
  { machine = MACHINE, ...said }: Partial<Omit<StatedPlan, "loops">> & { machine?: Profile } = {},
): Case {
  return new Case(site, machine, { loops, passages: undefined, mown: undefined, ...said });
}

/** What a rule measures, its breaches as sentences. */
export function measure(rule: Rule, court: Case): MeasureOf & { readonly said: readonly string[] } {
  const found = rule.measure(court);
  return { ...found, said: found.breaches.map(({ message, remedy }) => `${message} ${remedy}`) };
}
