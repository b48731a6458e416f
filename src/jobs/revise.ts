/** A site that has changed, planned so that as much wire as may be stays in the ground. Pure. */
import type { StatedLoop, StatedPlan } from "../check/stated/stated-plan.ts";
import type { PlanResult } from "../export/plan-result.ts";
import { laidLoop } from "../handover/as-laid/laid-loop.ts";
import { type Revision, revisionOf } from "../handover/revision/revision.ts";
import type { InputFile } from "../model/features.ts";
import { done, type Finding, failed, type Outcome, type Problem } from "../model/finding.ts";
import type { KeptWire, NumberedLoop } from "../model/plan-options.ts";
import type { PlacedPoint } from "../model/site.ts";
import { type PlanOptions, planReady, readSite, readyToPlan } from "./pegline.ts";
import { readPlan } from "./read-plan.ts";

export interface Revised {
  readonly result: PlanResult;
  readonly revision: Revision;
  readonly findings: readonly Finding[];
}

/**
 * Plans a changed site with the wire of an earlier plan in the ground.
 *
 * It is read once and planned with old wire kept where that follows the new edges; where not all of it
 * stays, anew as well. The plan with more wire left in the ground is taken, as long as it breaks no rule
 * that the other keeps. Loops keep their names and pegs that stay their numbers in both.
 *
 * @param old the plan that was laid, or the as-laid record of it
 * @param inputs the files of the site as it is now
 */
export async function reviseInputs(
  old: InputFile,
  inputs: readonly InputFile[],
  options: PlanOptions = {},
): Promise<Outcome<Revised>> {
  const registry = options.registry ?? (() => undefined);
  const site = await readSite(inputs, options);
  if (!site.ok) return site;
  const { grid, stations } = site.value;
  const read = await readPlan(old, { registry, grid });
  if (!read.ok) return read;
  const laid = read.value.plan;
  const keep = keptWires(laid);
  if (!keep) return failed(withoutPegs(old.name), read.findings);
  // The stations stand where they stand, unless the new files say otherwise.
  const placed = stations.length > 0 ? stations : stationsOf(laid, old.name);
  const ready = await readyToPlan(
    done({ ...site.value, stations: placed }, site.findings),
    options,
  );
  if (!ready.ok) return ready;
  const numbered = laid.loops.map(numberedLoop);
  const planWith = async (kept: readonly KeptWire[]): Promise<Outcome<Candidate>> => {
    const plan = { ...options.rules?.plan, keep: kept, numbered };
    const rules = { ...options.rules, plan };
    const made = await planReady(ready.value, ready.findings, { ...options, rules });
    if (!made.ok) return made;
    return done({ result: made.value, revision: revisionOf(laid, made.value.plan)! });
  };
  const kept = await planWith(keep);
  let best = kept.ok ? kept.value : undefined;
  if (!best || !staysWhole(best)) {
    const anew = await planWith([]);
    if (!anew.ok) return anew;
    if (!best || !isBetter(best, anew.value)) best = anew.value;
  }
  const findings = [...read.findings, ...told(best.revision)];
  const result = { ...best.result, joints: best.revision.joints };
  return done({ revision: best.revision, result, findings }, findings);
}

interface Candidate {
  readonly result: PlanResult;
  readonly revision: Revision;
}

const holds = ({ result }: Candidate): boolean => result.check?.verdict === "holds";

/** No other plan can change less, or keep more rules. */
function staysWhole(one: Candidate): boolean {
  const { liftedM, pegsNew, pegsLifted } = one.revision.totals;
  return holds(one) && liftedM < 0.01 && pegsNew + pegsLifted === 0;
}

function isBetter(one: Candidate, other: Candidate): boolean {
  if (holds(one) !== holds(other)) return holds(one);
  return one.revision.totals.keptM > other.revision.totals.keptM + 0.01;
}

/** Wire by its pegs; undefined where the plan states none. */
function keptWires({ loops }: StatedPlan): KeptWire[] | undefined {
  const kept = loops.map((stated): KeptWire | undefined => {
    const loop = laidLoop(stated);
    if (!loop) return undefined;
    const pegs = Array.from(loop.pegOf, (peg) => loop.pegs[peg]!);
    return {
      wire: Float64Array.from(pegs.flatMap(({ atM }) => [...atM])),
      loose: pegs.map(({ on }) => on === "pair" || on === "station"),
    };
  });
  return kept.every((one) => one !== undefined) ? kept : undefined;
}

/** A loop for its name and numbers; the highest number that it ever had is stated, or in use. */
function numberedLoop({ name, pegs = [], numberedTo = 0 }: StatedLoop): NumberedLoop {
  const used = pegs.map(({ number }) => Number(number.slice(name.length)) || 0);
  return { name, pegs, numberedTo: used.reduce((a, b) => Math.max(a, b), numberedTo) };
}

function stationsOf({ loops }: StatedPlan, file: string): PlacedPoint[] {
  return loops.flatMap(({ name: loop, station }) =>
    station
      ? [{ name: `station of loop ${loop} as laid`, atM: station.atM, source: { file } }]
      : [],
  );
}

function withoutPegs(file: string): Problem {
  return {
    code: "PLAN_WITHOUT_PEGS",
    kind: "usage",
    file,
    message: "The plan does not state a peg for each vertex of its wire.",
    remedy: "Give the plan.geojson that `pegline plan` wrote, or an as-laid record.",
  };
}

function told({ totals }: Revision): Finding[] {
  const { keptM, liftedM, newM, couplers } = totals;
  if (newM < 0.01 && liftedM < 0.01) {
    return [
      {
        code: "REVISION_NONE",
        severity: "info",
        message: "All the wire stays where it is.",
        remedy: "Nothing to do.",
      },
    ];
  }
  return [
    {
      code: "REVISION",
      severity: "info",
      message: `${keptM.toFixed(1)} m of wire stay, ${liftedM.toFixed(1)} m are lifted, ${newM.toFixed(1)} m are laid anew, with ${couplers} sealed couplers.`,
      remedy:
        "Mark the pegs that stay before any wire is lifted; supply off; read the loop again when it is joined.",
    },
  ];
}
