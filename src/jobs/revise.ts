/** A site that has changed, planned so that as much wire as may be stays in the ground. Pure. */
import type { StatedPlan } from "../check/stated/stated-plan.ts";
import { jsonText } from "../escape/json.ts";
import type { PlanResult } from "../export/plan-result.ts";
import { laidLoop } from "../handover/as-laid/laid-loop.ts";
import { type Revision, revisionOf } from "../handover/revision/revision.ts";
import type { InputFile } from "../model/features.ts";
import { done, type Finding, failed, type Outcome, type Problem } from "../model/finding.ts";
import type { KeptWire } from "../model/plan-options.ts";
import type { SiteGrid } from "../model/site.ts";
import { type PlanOptions, planInputs, readSite } from "./pegline.ts";
import { readPlan } from "./read-plan.ts";

export interface Revised {
  readonly result: PlanResult;
  readonly revision: Revision;
  readonly findings: readonly Finding[];
}

/**
 * Plans a changed site with the wire of an earlier plan in the ground.
 *
 * It is planned twice, anew and with old wire kept where that follows the new edges as well; the one
 * with more wire left in the ground is taken, as long as it breaks no rule that the other keeps.
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
  const all = stations.length > 0 ? inputs : [...inputs, stationsOf(laid, old.name, grid)];
  const plain = await planInputs(all, options);
  if (!plain.ok) return plain;
  const rules = { ...options.rules, plan: { ...options.rules?.plan, keep } };
  const kept = await planInputs(all, { ...options, rules });
  const made = [plain.value, ...(kept.ok ? [kept.value] : [])].map((result) => ({
    result,
    revision: revisionOf(laid, result.plan)!,
  }));
  const best = made.reduce((one, other) => (isBetter(other, one) ? other : one));
  const findings = [...read.findings, ...told(best.revision)];
  return done({ ...best, findings }, findings);
}

interface Candidate {
  readonly result: PlanResult;
  readonly revision: Revision;
}

function isBetter(one: Candidate, other: Candidate): boolean {
  const holds = ({ result }: Candidate): boolean => result.check?.verdict === "holds";
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

function stationsOf({ loops }: StatedPlan, name: string, grid: SiteGrid): InputFile {
  const features = loops.flatMap(({ name: loop, station }) =>
    station
      ? [
          {
            type: "Feature",
            properties: { role: "station", name: `station of loop ${loop} as laid` },
            geometry: { type: "Point", coordinates: grid.inverse(station.atM) },
          },
        ]
      : [],
  );
  const text = jsonText({ type: "FeatureCollection", features });
  const stem = name.replace(/\.[^./\\]*$/, "");
  return { name: `${stem}-stations.geojson`, bytes: new TextEncoder().encode(text) };
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
