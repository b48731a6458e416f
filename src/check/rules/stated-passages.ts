import type { LineM, PointM } from "../../model/geometry.ts";
import type { Case } from "../case.ts";
import { GroundEdges, type GroundGap } from "../gaps.ts";
import { toSegmentM } from "../kernel/plane.ts";
import { type Breach, measured, notMeasured } from "../measure.ts";
import { mayLead, surelyLeads } from "../room-beyond.ts";
import type { Rule } from "../rule.ts";
import type { StatedPassage } from "../stated/stated-plan.ts";

/** A stated width may differ from the measured one by this, metres. */
const WIDTH_SLACK_M = 0.005;
/** Gaps no farther apart than their width and this are told as one: an even neck has two ends, metres. */
const ONE_PASSAGE_M = 2;
const ALIKE_M = 0.002;
/** A gap lies on a passage whose centre line comes within this of its middle, in gaps, and metres. */
const ON_LINE_WIDTHS = 0.5;
const ON_LINE_M = 0.35;

/**
 * Passages are what the plan says of them; none that is narrow is invented or left out. A doubt:
 * where a corner tapers, what is room for a machine beyond it is a matter of judgement, and the wire
 * is measured by rules of its own.
 */
export const statedPassages: Rule = {
  id: "stated-passages",
  code: "PASSAGE_MISSTATED",
  isDoubt: true,
  title: "greatest error of a stated passage width; invented passages and those left out",
  measure(court) {
    const stated = court.plan.passages;
    if (!stated) return notMeasured("m", "at most", "the plan states no passages");
    const edges = new GroundEdges(court);
    const gaps = edges.gaps(court.profile.passage.reportBelowM);
    const breaches: Breach[] = [];
    let worst = 0;
    let unsure = 0;
    for (const passage of stated) {
      const found = errorOf(court, edges, gaps, passage);
      if (!found) unsure++;
      worst = Math.max(worst, found?.errorM ?? 0);
      if (found?.said) breaches.push(found.said);
    }
    for (const gap of leftOut(court, edges, gaps, stated)) {
      worst = Math.max(worst, gap.widthM);
      breaches.push({
        message: `A passage ${gap.widthM.toFixed(2)} m wide edge to edge is not stated.`,
        remedy: "Plan again, or add it to the passages.",
        atM: gap.middle,
      });
    }
    const note =
      unsure > 0 ? `${unsure} not measured: mown like the rest, or over paving` : undefined;
    return measured("m", "at most", worst, WIDTH_SLACK_M, breaches, note);
  },
};

/** @returns undefined for a passage that is not measured */
function errorOf(
  court: Case,
  edges: GroundEdges,
  gaps: readonly GroundGap[],
  passage: StatedPassage,
): { errorM: number; said?: Breach } | undefined {
  const { number, widthM, wireWidthM, verdict, centreLine } = passage;
  if (widthM === undefined || verdict === "mow" || liesOnPaving(edges, centreLine))
    return undefined;
  const wrong = (errorM: number, message: string, at?: PointM) => ({
    errorM,
    said: {
      message,
      remedy: "Plan again, or correct the passage.",
      atM: at ?? ([centreLine[0]!, centreLine[1]!] as PointM),
    },
  });
  const on = gaps.filter((gap) => isOn(gap, centreLine));
  const best = on.reduce<GroundGap | undefined>((found, gap) => {
    const nearer = !found || Math.abs(gap.widthM - widthM) < Math.abs(found.widthM - widthM);
    return nearer ? gap : found;
  }, undefined);
  const near = edges.tree.around(...boxOf(centreLine), widthM).map((s) => edges.setinsM[s]!);
  const mostSetinM = Math.max(0, ...near);
  const errorM = best ? Math.abs(best.widthM - widthM) : widthM;
  if (!best || errorM > WIDTH_SLACK_M) {
    // Where set-ins differ the wires may be nearest where the edges are not: between them all the same.
    const differ = near.some((setinM) => setinM !== mostSetinM);
    if (differ && liesBetween(edges, centreLine, widthM)) return undefined;
    return best
      ? wrong(
          errorM,
          `Passage ${number} is stated ${widthM.toFixed(3)} m wide edge to edge; it is ${best.widthM.toFixed(3)} m.`,
          best.middle,
        )
      : wrong(
          errorM,
          `Passage ${number} is stated ${widthM.toFixed(3)} m wide; there is no narrow place.`,
        );
  }
  const roomM = court.profile.passage.reportBelowM / 2;
  if (!([1, -1] as const).every((side) => mayLead(edges, best, side, roomM))) {
    return wrong(
      widthM,
      `Passage ${number} is none: on one side of it there is no room for the machine.`,
      best.middle,
    );
  }
  if (wireWidthM === undefined) return { errorM };
  // Between the wires it may be narrower where the set-ins are wider, never wider than here.
  const most = Math.max(0, best.widthM - best.leastSetinsM);
  const least = Math.max(0, best.widthM - 2 * mostSetinM);
  const offM = Math.max(wireWidthM - most, least - wireWidthM, 0);
  if (offM <= WIDTH_SLACK_M) return { errorM };
  return wrong(
    offM,
    `Passage ${number} is stated ${wireWidthM.toFixed(3)} m wide between the wires; by its edges it is ${least === most ? "" : `${least.toFixed(3)} to `}${most.toFixed(3)} m.`,
    best.middle,
  );
}

/** Whether edges lie to both sides of a line about as far as half a width, where it is nearest to any. */
function liesBetween(edges: GroundEdges, line: LineM, widthM: number): boolean {
  let leastM = Infinity;
  for (let i = 0; i + 3 < line.length; i += 2) {
    for (const share of [0, 0.25, 0.5, 0.75, 1]) {
      const e = line[i]! + share * (line[i + 2]! - line[i]!);
      const n = line[i + 1]! + share * (line[i + 3]! - line[i + 1]!);
      leastM = Math.min(leastM, edges.clearanceM(e, n, widthM));
    }
  }
  return leastM > widthM / 4 && leastM < 0.75 * widthM;
}

function liesOnPaving(edges: GroundEdges, line: LineM): boolean {
  for (let i = 0; i < line.length; i += 2) {
    if (edges.isPaving(line[i]!, line[i + 1]!)) return true;
  }
  return false;
}

function boxOf(line: LineM): [number, number, number, number] {
  let [minE, minN, maxE, maxN] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < line.length; i += 2) {
    minE = Math.min(minE, line[i]!);
    maxE = Math.max(maxE, line[i]!);
    minN = Math.min(minN, line[i + 1]!);
    maxN = Math.max(maxN, line[i + 1]!);
  }
  return [minE, minN, maxE, maxN];
}

function isOn({ middle: [e, n], widthM }: GroundGap, line: LineM): boolean {
  const reachM = ON_LINE_M + ON_LINE_WIDTHS * widthM;
  for (let i = 0; i + 3 < line.length; i += 2) {
    const farM = toSegmentM(e, n, line[i]!, line[i + 1]!, line[i + 2]!, line[i + 3]!);
    if (farM <= reachM) return true;
  }
  return false;
}

/**
 * Gaps too narrow to be mown like the rest, with a room of the widest reported passage straight out of
 * them on both sides, on no passage that is stated as narrow.
 */
function leftOut(
  { profile }: Case,
  edges: GroundEdges,
  gaps: readonly GroundGap[],
  stated: readonly StatedPassage[],
): GroundGap[] {
  const { mowMinM, reportBelowM } = profile.passage;
  const mostSetinM = edges.setinsM.reduce((most, setinM) => Math.max(most, setinM), 0);
  const roomM = reportBelowM / 2 + mostSetinM + WIDTH_SLACK_M;
  const found: GroundGap[] = [];
  const asked: GroundGap[] = [];
  for (const gap of gaps) {
    if (gap.widthM - gap.leastSetinsM >= mowMinM - WIDTH_SLACK_M) continue;
    const isStated = stated.some(
      ({ centreLine, widthM }) =>
        isOn(gap, centreLine) && (widthM === undefined || widthM <= gap.widthM + WIDTH_SLACK_M),
    );
    if (isStated || found.some((one) => isNear(one, gap))) continue;
    // Along an even way one gap is like the next.
    if (asked.some((one) => isAlike(one, gap))) continue;
    asked.push(gap);
    if (([1, -1] as const).every((side) => surelyLeads(edges, gap, side, roomM))) found.push(gap);
  }
  return found;
}

/** Whether gaps of one width lie within it of each other. */
function isAlike(one: GroundGap, other: GroundGap): boolean {
  if (Math.abs(one.widthM - other.widthM) > ALIKE_M) return false;
  const [e, n] = [one.middle[0] - other.middle[0], one.middle[1] - other.middle[1]];
  return Math.hypot(e, n) < one.widthM;
}

function isNear(one: GroundGap, other: GroundGap): boolean {
  const [e, n] = [one.middle[0] - other.middle[0], one.middle[1] - other.middle[1]];
  return Math.hypot(e, n) < one.widthM + ONE_PASSAGE_M;
}
