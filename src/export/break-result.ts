import type { Mending } from "../handover/mend/mend-loop.ts";
import type { Stretch, WirePlace } from "../handover/mend/wire-places.ts";
import type { Finding } from "../model/finding.ts";
import type { SiteGrid } from "../model/site.ts";
import { TOOL, VERSION } from "../version.ts";
import { lengthM } from "./numbers.ts";
import { orderedFindings, writtenFinding } from "./ordered-findings.ts";

/** What `pegline break --json` prints (docs/commands/break.md). */
export function breakResult(
  { wire, state, estimate, ohmPerKm, joints: known }: Mending,
  findings: readonly Finding[],
  grid: SiteGrid,
) {
  const { found, next } = state;
  const placed = ({ name, atM, chainageM }: WirePlace) => ({
    peg: name,
    chainage_m: lengthM(chainageM),
    at: grid.inverse(atM),
  });
  const stretch = ({ from, to, lengthM: along, joints }: Stretch) => ({
    from: placed(from),
    to: placed(to),
    wire_m: lengthM(along),
    joints,
  });
  return {
    tool: TOOL,
    version: VERSION,
    loop: wire.loop,
    wire_m: lengthM(wire.lengthM),
    pegs: wire.pegs,
    joints: known,
    tests_done: state.testsDone,
    tests_left_at_most: state.testsLeft,
    suspect_m: lengthM(state.suspectM),
    suspect_stretches: state.suspects.length,
    more_than_one_break: state.several,
    estimate: estimate
      ? {
          chainage_m: lengthM(estimate.chainageM),
          uncertainty_m: lengthM(estimate.uncertaintyM),
        }
      : null,
    found: found ? stretch(found) : null,
    next: next
      ? {
          from: placed(next.from),
          to: placed(next.to),
          wire_m: lengthM(next.wireM),
          straight_m: lengthM(next.straightM),
          carries_ohm: lengthM(((next.wireM + next.straightM) * ohmPerKm) / 1000),
          why: next.why,
        }
      : null,
    findings: orderedFindings(findings).map((finding) => writtenFinding(finding, grid)),
  };
}
