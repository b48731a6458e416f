import type { Feature, FeatureCollection, Geometry } from "geojson";
import type { Verdict } from "../check/check-plan.ts";
import type { StatedLoop } from "../check/stated/stated-plan.ts";
import type { AsLaid, LoopAsLaid } from "../handover/as-laid/as-laid.ts";
import type { Profile } from "../model/profile.ts";
import type { SiteGrid } from "../model/site.ts";
import { loopReading } from "../physics/reading/loop-reading.ts";
import { TOOL, VERSION } from "../version.ts";
import { writtenMeasure } from "./check-result.ts";
import { lineInDegrees, positionOf, ringInDegrees } from "./degrees.ts";
import { lengthM, rounded } from "./numbers.ts";
import { orderedFindings, writtenFinding } from "./ordered-findings.ts";

/** What was compared, with where and with what machine. */
export interface AsLaidToWrite extends AsLaid {
  readonly grid: SiteGrid;
  readonly profile: Profile;
  readonly verdict: Verdict | undefined;
}

/** What `pegline compare --json` prints (docs/commands/compare.md). */
export function asLaidResult(made: AsLaidToWrite) {
  const { loops, plan, stretches, wholeM, aligned, verdict, findings, grid, profile } = made;
  return {
    tool: TOOL,
    version: VERSION,
    profile: profile.name,
    loops: loops.map((loop, l) => ({
      loop: loop.name,
      planned_m: lengthM(loop.plannedM),
      laid_m: lengthM(loop.laidM),
      pegs: loop.pegs.length,
      pegs_measured: loop.pegs.length - loop.unmeasured,
      pegs_moved: loop.pegs.filter((peg) => peg.moved).length,
      rms_m: lengthM(loop.rmsM),
      most_m: lengthM(loop.mostM),
      joints: jointsOf(plan.loops[l]!),
      reading: reading(loop, jointsOf(plan.loops[l]!), profile),
    })),
    stretches: stretches.map((one) => ({
      loop: one.loop,
      from: one.from,
      to: one.to,
      pegs: one.pegs,
      most_left_m: lengthM(one.mostLeftM),
      at: positionOf(one.atM, grid),
    })),
    common_shift_m: wholeM ? [lengthM(wholeM[0]), lengthM(wholeM[1])] : null,
    aligned,
    verdict: verdict?.verdict ?? null,
    measures: verdict?.measures.map(writtenMeasure) ?? [],
    findings: orderedFindings(findings).map((one) => writtenFinding(one, grid)),
  };
}

/** Joints that the pegs of a loop state; a peg may have several. */
function jointsOf({ pegs }: StatedLoop): number {
  return (pegs ?? []).reduce((sum, { joint }) => sum + (joint?.split(",").length ?? 0), 0);
}

/** What a meter shows across the loop as laid. */
function reading({ laidM }: LoopAsLaid, joints: number, { wire }: Profile) {
  const found = loopReading({
    wireM: laidM,
    slackShare: wire.slackShare,
    ohmPerKm: wire.ohmPerKm,
    joints,
  });
  return {
    at_20_c_ohm: rounded(found.at20Ohm, 2),
    least_ohm: rounded(found.leastOhm, 2),
    most_ohm: rounded(found.mostOhm, 2),
  };
}

/** The record: the plan as it was laid, in the features of plan.geojson. */
export function asLaidGeojson(made: AsLaidToWrite): FeatureCollection<Geometry> {
  const { plan, loops, grid, profile } = made;
  const features = plan.loops.flatMap((stated, l): Feature<Geometry>[] => {
    const laid = loops[l]!;
    const loop = { loop: stated.name };
    return [
      feature(
        { type: "LineString", coordinates: ringInDegrees(stated.wire, grid) },
        {
          kind: "boundary-wire",
          ...loop,
          as_laid: true,
          length_m: lengthM(laid.laidM),
          planned_length_m: lengthM(laid.plannedM),
          direction: "anticlockwise",
          ...(stated.numberedTo === undefined ? {} : { numbered_to: stated.numberedTo }),
          ...reading(laid, jointsOf(stated), profile),
        },
      ),
      ...(stated.exclusionLoops ?? []).map((one) =>
        feature(
          { type: "Polygon", coordinates: [ringInDegrees(one.ring, grid)] },
          { kind: "exclusion-loop", ...loop, name: one.name },
        ),
      ),
      ...(stated.pairedRuns ?? []).map((run) =>
        feature(
          { type: "LineString", coordinates: lineInDegrees(run.line, grid) },
          { kind: "paired-run", ...loop, from: run.from, to: run.to },
        ),
      ),
      ...(stated.pegs ?? []).map((peg, i) => {
        const { leftM, awayM, moved, measured } = laid.pegs[i]!;
        return feature(
          { type: "Point", coordinates: positionOf(peg.atM, grid) },
          {
            kind: "peg",
            ...loop,
            number: peg.number,
            chainage_m: lengthM(peg.chainageM ?? 0),
            ...(peg.secondChainageM === undefined
              ? {}
              : { second_chainage_m: lengthM(peg.secondChainageM) }),
            on: peg.on ?? null,
            ...(peg.joint === undefined ? {} : { joint: peg.joint }),
            measured,
            moved,
            from_plan_m: lengthM(awayM),
            left_m: lengthM(leftM),
          },
        );
      }),
      ...(stated.station
        ? [
            feature(
              { type: "Point", coordinates: positionOf(stated.station.atM, grid) },
              {
                kind: "station",
                ...loop,
                bearing_deg: stated.station.bearingDeg ?? null,
                given: stated.station.given ?? null,
              },
            ),
          ]
        : []),
    ];
  });
  return { type: "FeatureCollection", features };
}

function feature(geometry: Geometry, properties: Record<string, unknown>): Feature<Geometry> {
  return { type: "Feature", geometry, properties };
}
