/**
 * An independent judge of a finished plan. It reads only what was written (`plan.geojson`, and
 * `summary.json` where given) and what the test knows of the site, both in degrees, lays them on a
 * plane of its own and measures. It shares no code with the program: geodesics by
 * geographiclib-geodesic, topology by jsts, the rest plain arithmetic.
 */
import type { FeatureCollection, Geometry } from "geojson";
import { planeAt, type Xy } from "../plane.ts";
import { distance } from "../segments.ts";
import { judgeAreas } from "./areas.ts";
import { judgeGround } from "./ground.ts";
import { judgePairs } from "./pairs.ts";
import { judgePegs } from "./pegs.ts";
import { judgeSetin } from "./setin.ts";
import type { Breach, Court, Figures, Limits, SiteTruth, Verdict, WireLoop } from "./types.ts";
import { judgeWire, judgeWiresTogether } from "./wire.ts";

/** Limits of the contract with the values that the built-in profiles share. */
export const USUAL_LIMITS: Limits = {
  spacingMaxM: 1,
  pairGapM: 0.01,
  setinSlackM: 0.01,
  relaxWithinM: 1,
};

export interface JudgeInput {
  readonly plan: FeatureCollection<Geometry | null>;
  readonly summary?: Readonly<Record<string, unknown>>;
  /** Left out: only what the plan says of itself is judged. */
  readonly truth?: SiteTruth;
  readonly limits?: Partial<Limits>;
}

/** Measures a plan; an empty list of breaches is a plan that holds. */
export function judge({ plan, summary, truth, limits }: JudgeInput): Verdict {
  const wires = plan.features.filter((f) => f.properties?.kind === "boundary-wire");
  const first = wires[0]?.geometry;
  if (first?.type !== "LineString") {
    return { breaches: [{ rule: "no-wire" }], figures: emptyFigures() };
  }
  const plane = planeAt(first.coordinates[0]!);
  const breaches: Breach[] = [];
  const loops = wires.map((wire): WireLoop => {
    const degrees = wire.geometry?.type === "LineString" ? wire.geometry.coordinates : [];
    const points = degrees.map((at) => plane.toPlane(at));
    return {
      name: String(wire.properties?.loop),
      degrees,
      wire: points,
      chainage: chainages(points),
      properties: wire.properties ?? {},
    };
  });
  const court: Court = {
    plan,
    summary,
    plane,
    loops,
    limits: { ...USUAL_LIMITS, ...limits },
    figures: emptyFigures(),
    breach(rule, more = {}) {
      const { at, ...rest } = more;
      breaches.push({ rule, ...rest, ...(at ? { at: plane.toDegrees(at) } : {}) });
    },
  };
  for (const loop of loops) {
    judgeWire(court, loop);
    judgePegs(court, loop);
    judgePairs(court, loop);
  }
  judgeWiresTogether(court);
  judgeAreas(court, truth);
  if (truth) judgeSetin(court, truth);
  if (truth) judgeGround(court, truth);
  return { breaches, figures: court.figures };
}

function chainages(points: readonly Xy[]): number[] {
  const at = [0];
  for (let i = 1; i < points.length; i++)
    at.push(at[i - 1]! + distance(points[i - 1]!, points[i]!));
  return at;
}

function emptyFigures(): Figures {
  return {
    setinMarginM: Infinity,
    maxSpanM: 0,
    minGapM: Infinity,
    maxGapM: 0,
    minVertexApartM: Infinity,
    maxPegOffM: 0,
    maxChainageErrorM: 0,
    lengthErrorM: 0,
    wireM: 0,
    pegs: 0,
    pairSamples: 0,
    groundErrorM2: 0,
  };
}
