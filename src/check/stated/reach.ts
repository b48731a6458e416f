/** A plan that lies elsewhere is no plan of the site; measuring it would take for ever. */
import type { Problem } from "../../model/finding.ts";
import type { Site } from "../../model/site.ts";
import type { StatedPlan } from "./stated-plan.ts";

/** No place of a plan lies farther from the box round the lawns than this, metres. */
const FAR_M = 10_000;
/** The same from the first vertex of its wire, where the lawns are not known. */
const FAR_FROM_ITSELF_M = 100_000;
/** All lines of a plan together are no longer than this, metres; as much as is planned of lawn edge. */
const LENGTH_MAX_M = 500_000;

/**
 * Why a plan is not measured; undefined where it can be.
 *
 * @param site the site that it is for, where that is known
 */
export function outOfReach(
  plan: StatedPlan,
  site: Site | undefined,
  file: string | undefined,
): Problem | undefined {
  const box = boxOf(
    site
      ? site.lawns.map(({ area }) => area.shell)
      : plan.loops.map(({ wire }) => wire.slice(0, 2)),
  );
  const mostM = site ? FAR_M : FAR_FROM_ITSELF_M;
  let [farM, lengthM] = [0, 0];
  const look = (line: Float64Array): void => {
    for (let i = 0; i < line.length; i += 2) {
      const [e, n] = [line[i]!, line[i + 1]!];
      const beyondE = Math.max(box[0] - e, e - box[2], 0);
      const beyondN = Math.max(box[1] - n, n - box[3], 0);
      farM = Math.max(farM, Math.hypot(beyondE, beyondN));
      if (i > 0) lengthM += Math.hypot(e - line[i - 2]!, n - line[i - 1]!);
    }
  };
  for (const loop of plan.loops) {
    look(loop.wire);
    for (const { line } of loop.pairedRuns ?? []) look(line);
    for (const { ring } of loop.exclusionLoops ?? []) look(ring);
    for (const { line } of loop.guideWires) look(line);
    for (const { atM } of loop.pegs ?? []) look(Float64Array.from(atM));
    if (loop.station) look(Float64Array.from(loop.station.atM));
  }
  for (const { centreLine } of plan.passages ?? []) look(centreLine);
  const where = file === undefined ? {} : { file };
  if (!(farM <= mostM)) {
    return {
      code: "PLAN_ELSEWHERE",
      kind: "input",
      ...where,
      message: `something in the plan lies ${(farM / 1000).toFixed(0)} km from ${site ? "the lawns" : "the rest of it"}; at most ${mostM / 1000} km are measured`,
      remedy: "Check that the plan is of this site, that its coordinates are right, and --crs.",
    };
  }
  if (lengthM <= LENGTH_MAX_M) return undefined;
  return {
    code: "PLAN_TOO_LONG",
    kind: "input",
    ...where,
    message: `the lines of the plan are ${(lengthM / 1000).toFixed(0)} km long together; at most ${LENGTH_MAX_M / 1000} km are measured`,
    remedy: "Check its coordinates; measure a large estate in pieces.",
  };
}

function boxOf(rings: readonly Float64Array[]): [number, number, number, number] {
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      box[0] = Math.min(box[0], ring[i]!);
      box[1] = Math.min(box[1], ring[i + 1]!);
      box[2] = Math.max(box[2], ring[i]!);
      box[3] = Math.max(box[3], ring[i + 1]!);
    }
  }
  return box;
}
